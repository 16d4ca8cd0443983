package fieldmask

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// Check refuses a field that cannot be used: numbers out of range, a place given
// twice, fewer than four places, or places that do not fit the named pattern.
// Call it for fields that did not come through [ReadCSV].
func (f Field) Check() error {
	if len(f.Points) < 4 {
		return fmt.Errorf("%s: %d places; a field needs at least 4", f.Source, len(f.Points))
	}
	first := map[unit.SightPoint]int{}
	for _, p := range f.Points {
		if err := checkNumbers([3]float64{float64(p.At.X), float64(p.At.Y), p.DB}); err != nil {
			return fmt.Errorf("%s:%d: %w", f.Source, p.Line, err)
		}
		if line, ok := first[p.At]; ok {
			return fmt.Errorf("%s: the place (%g, %g) stands twice, in lines %d and %d; keep one", f.Source, p.At.X, p.At.Y, line, p.Line)
		}
		first[p.At] = p.Line
	}
	if err := f.checkPattern(first); err != nil {
		return err
	}
	return f.checkKind()
}

// checkPattern compares the places with those of the pattern. A 24-2 that
// reaches to the temple is compared with the pattern of the other eye, and
// [Field.Doubts] speaks of it.
func (f Field) checkPattern(have map[unit.SightPoint]int) error {
	if f.Pattern == free {
		return nil
	}
	want, side, err := f.places()
	if err != nil {
		return fmt.Errorf("%s: %w", f.Source, err)
	}
	for _, at := range want {
		if _, ok := have[at]; !ok && (f.Pattern == pattern10 || !IsBlindSpot(side, at) && !IsBlindSpot(f.Side, at)) {
			return fmt.Errorf("%s: the place (%g, %g) of %s is missing; give every place or call the pattern free", f.Source, at.X, at.Y, f.Pattern)
		}
	}
	if s := f.stranger(want); s != "" {
		return fmt.Errorf("%s: %s", f.Source, s)
	}
	return nil
}

// places returns those of the field's pattern, of the other eye where the field
// reaches to the temple, and the eye they are of.
func (f Field) places() (at []unit.SightPoint, side unit.Side, err error) {
	side = f.Side
	if f.reachesTemple() {
		side = side.Other()
	}
	at, err = Pattern(f.Pattern, side)
	return at, side, err
}

// stranger names the first place that is not of the pattern, if any; the added
// places of 24-2c are of it when they lie near fixation.
func (f Field) stranger(want []unit.SightPoint) string {
	known := map[unit.SightPoint]bool{}
	for _, at := range want {
		known[at] = true
	}
	for _, p := range f.Points {
		near := f.Pattern == pattern24c && math.Hypot(float64(p.At.X), float64(p.At.Y)) <= addedDeg
		if !known[p.At] && !near {
			return fmt.Sprintf("line %d: the place (%g, %g) is not one of %s; name the right pattern or free", p.Line, p.At.X, p.At.Y, f.Pattern)
		}
	}
	return ""
}

// reachesTemple reports whether the pair of a 24-2 that lies 27 degrees out is
// on the temple's side.
func (f Field) reachesTemple() bool {
	if f.Pattern != pattern24 && f.Pattern != pattern24c {
		return false
	}
	for _, p := range f.Points {
		if float64(p.At.X) == 27*temple(f.Side) {
			return true
		}
	}
	return false
}

// checkKind refuses deviations passed as sensitivities and the other way round.
func (f Field) checkKind() error {
	mean, below := 0.0, 0
	for _, p := range f.Points {
		mean += p.DB / float64(len(f.Points))
		if p.DB < 0 {
			below++
		}
	}
	if f.Kind == Sensitivity && below > 0 {
		return fmt.Errorf("%s: %d of %d sensitivities are below 0 dB; are these deviations from normal? A place not seen is written <0", f.Source, below, len(f.Points))
	}
	if f.Kind == TotalDeviation && mean > 10 {
		return fmt.Errorf("%s: the mean deviation is %+.1f dB; are these sensitivities?", f.Source, mean)
	}
	return nil
}
