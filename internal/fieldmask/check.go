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

// checkPattern compares the places with those of the pattern.
func (f Field) checkPattern(have map[unit.SightPoint]int) error {
	if f.Pattern == "free" {
		return nil
	}
	want, err := Pattern(f.Pattern, f.Side)
	if err != nil {
		return fmt.Errorf("%s: %w", f.Source, err)
	}
	if err := f.checkNasal(have); err != nil {
		return err
	}
	left := len(have)
	for _, at := range want {
		if _, ok := have[at]; ok {
			left--
		} else if f.Pattern == "10-2" || !IsBlindSpot(f.Side, at) {
			return fmt.Errorf("%s: the place (%g, %g) of %s is missing; give every place or call the pattern free", f.Source, at.X, at.Y, f.Pattern)
		}
	}
	if left > 0 {
		return fmt.Errorf("%s: %s", f.Source, f.stranger(want))
	}
	return nil
}

// stranger names the first place that is not of the pattern.
func (f Field) stranger(want []unit.SightPoint) string {
	known := map[unit.SightPoint]bool{}
	for _, at := range want {
		known[at] = true
	}
	for _, p := range f.Points {
		if !known[p.At] {
			return fmt.Sprintf("line %d: the place (%g, %g) is not one of %s; name the right pattern or free", p.Line, p.At.X, p.At.Y, f.Pattern)
		}
	}
	return "the places do not fit the pattern"
}

// checkNasal refuses a 24-2 whose nasal pair lies towards the temple.
func (f Field) checkNasal(have map[unit.SightPoint]int) error {
	if f.Pattern != "24-2" {
		return nil
	}
	out := unit.Degrees(27 * temple(f.Side))
	for _, y := range []unit.Degrees{3, -3} {
		if line, ok := have[unit.SightPoint{X: out, Y: y}]; ok {
			return fmt.Errorf("%s:%d: the file contradicts its own nasal points: 24-2 reaches 27 degrees only towards the nose, but (%g, %g) lies towards the temple of a %s eye; is the eye or the way of writing x wrong?", f.Source, line, out, y, f.Side)
		}
	}
	return nil
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

// Doubts returns what looks odd without being wrong for certain: a blind spot
// that seems to lie on the nose's side.
func (f Field) Doubts() []Warning {
	if f.Kind != Sensitivity || f.Pattern == "10-2" {
		return nil
	}
	here, n := f.pairMean(15 * temple(f.Side))
	there, m := f.pairMean(-15 * temple(f.Side))
	if n == 2 && m == 2 && here > 20 && there < 10 {
		return []Warning{Warning(fmt.Sprintf("%s: the blind spot seems to lie towards the nose (%.0f dB there, %.0f dB where it should be); is the eye or the way of writing x wrong?", f.Source, there, here))}
	}
	return nil
}

// pairMean returns the mean dB of the points at (x, ±3) and their number.
func (f Field) pairMean(x float64) (mean float64, n int) {
	for _, p := range f.Points {
		if float64(p.At.X) == x && math.Abs(float64(p.At.Y)) == 3 {
			mean += p.DB
			n++
		}
	}
	return mean / math.Max(float64(n), 1), n
}
