package cause

import (
	"fmt"
	"math"
	"strings"

	"simview/internal/eye"
	"simview/internal/raytrace"
	"simview/internal/unit"
)

// past returns where the edge of a lens that sits at a place lies in the entrance
// pupil, and what the path beside it has more than that through it,
//
//	W_more = W_without lens - W_displaced, orders 1 to 6
//
// the slope counted: it says how far beside the picture that light falls. nil
// when the optic's diameter is not known. The last place is kept.
func (l *lensModel) past(at raytrace.DisplacedLens) (*eye.Past, error) {
	if l.eye.Spec.Lens.OpticMM == 0 {
		return nil, nil
	}
	l.mu.Lock()
	kept, where := l.kept, l.keptAt
	l.mu.Unlock()
	if kept != nil && where == at {
		return kept, nil
	}
	p, err := l.beside(at)
	if err != nil {
		return nil, err
	}
	l.mu.Lock()
	l.kept, l.keptAt = p, at
	l.mu.Unlock()
	return p, nil
}

func (l *lensModel) beside(at raytrace.DisplacedLens) (*eye.Past, error) {
	without, err := l.eye.WavefrontPastLens(l.pupilMM)
	if err != nil {
		return nil, err
	}
	with, err := l.eye.Wavefront(at, l.pupilMM)
	if err != nil {
		return nil, err
	}
	more, err := without.Sub(with)
	if err != nil {
		return nil, err
	}
	r, err := l.rim(at)
	if err != nil {
		return nil, err
	}
	return &eye.Past{InsideMM: r.insideMM, MoreUM: more.Keep(1, more.Order()).PathUM}, nil
}

// pastWithin is past, and nil where the lens covers the pupil of that radius, mm,
// about the middle of the entrance pupil: both edges are round, all but so, so
// that a lens that covers the rim covers all.
func (l *lensModel) pastWithin(at raytrace.DisplacedLens, radiusMM float64) (*eye.Past, error) {
	const points = 72 // between two of them a rim of 4 mm sags by 4 µm
	for k := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / points)
		ok, err := l.eye.Covered(at, unit.PupilPoint{X: unit.MM(radiusMM * cos), Y: unit.MM(radiusMM * sin)})
		if err != nil {
			return nil, err
		}
		if !ok {
			return l.past(at)
		}
	}
	return nil, nil
}

// spokes is how many points of the edge are traced; a circle of 3 mm drawn with
// straight lines between radii 2 degrees apart is off by less than 1 µm.
const spokes = 180

// rim is the edge of the optic as seen in the entrance pupil: radii about a
// place within it, evenly by angle from the clinician's right, mm.
type rim struct {
	x, y   float64
	radius [spokes + 1]float64 // the last repeats the first
}

// rim traces the edge about the image of the middle of the optic.
func (l *lensModel) rim(at raytrace.DisplacedLens) (*rim, error) {
	const cornea = 1.14 // how much larger an implant looks through a cornea; only a start
	pc := l.eye.Spec.PupilCentre
	r := &rim{x: cornea*float64(at.Decentration.X) - float64(pc.X), y: cornea*float64(at.Decentration.Y) - float64(pc.Y)}
	for k := range spokes {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / spokes)
		in, out := 0.0, l.eye.Spec.Lens.OpticMM
		for out-in > 1e-4 {
			mid := (in + out) / 2
			ok, err := l.eye.Covered(at, unit.PupilPoint{X: unit.MM(r.x + mid*cos), Y: unit.MM(r.y + mid*sin)})
			if err != nil {
				return nil, err
			}
			if ok {
				in = mid
			} else {
				out = mid
			}
		}
		r.radius[k] = in
	}
	r.radius[spokes] = r.radius[0]
	return r, nil
}

// insideMM is how far within the edge a point of the pupil lies, along the
// radius through it.
func (r *rim) insideMM(x, y float64) float64 {
	dx, dy := x-r.x, y-r.y
	turn := math.Atan2(dy, dx) / (2 * math.Pi)
	at := (turn - math.Floor(turn)) * spokes
	k := min(int(at), spokes-1)
	t := at - float64(k)
	return r.radius[k]*(1-t) + r.radius[k+1]*t - math.Hypot(dx, dy)
}

// besideShare is the share of the pupil of a view, 0 to 1, that looks past the
// lens.
func besideShare(s eye.State) float64 {
	const across = 160
	if s.Past == nil {
		return 0
	}
	bare, all := 0, 0
	for k := range across * across {
		x, y := (2*float64(k%across)+1)/across-1, (2*float64(k/across)+1)/across-1
		if x*x+y*y > 1 {
			continue
		}
		all++
		r := s.PupilMM / 2
		if s.Past.InsideMM(x*r+float64(s.PupilAt.X), y*r+float64(s.PupilAt.Y)) < 0 {
			bare++
		}
	}
	return float64(bare) / float64(all)
}

// leastBeside is the share of the pupil beside the lens from which on a view
// says so; at 0.0005 the lamps of the night scenes are still brighter than what
// their light beside the lens makes.
const leastBeside = 5e-4

// besideWords are in every note about light beside the lens.
const besideWords = "passes beside the displaced lens"

// besideNoted notes the share of the light of a view that passes beside the lens,
// in place of what was noted for another pupil.
func besideNoted(s eye.State, share float64) eye.State {
	var kept []string
	for _, n := range s.Notes {
		if !strings.Contains(n, besideWords) {
			kept = append(kept, n)
		}
	}
	s.Notes = kept
	switch {
	case share == 1:
		return s.Note("all of the light " + besideWords)
	case share < leastBeside:
		return s
	}
	return s.Note(fmt.Sprintf("%.2g %% of the light %s, out of focus by %.0f D; drawn as a blurred second image", 100*share, besideWords, besideFocusD(s)))
}

// besideFocusD is how far out of focus the light beside the lens is in this view,
// D, from the path in the middle of the pupil and halfway to its rim,
//
//	M = |2 (mean W(r) - W(0)) / r²|
func besideFocusD(s eye.State) float64 {
	r, w := s.PupilMM/4, s.BesideUM
	x, y := float64(s.PupilAt.X), float64(s.PupilAt.Y)
	mean := (w(x+r, y) + w(x-r, y) + w(x, y+r) + w(x, y-r)) / 4
	return math.Abs(2 * (mean - w(x, y)) / (r * r))
}
