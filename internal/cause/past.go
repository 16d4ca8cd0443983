package cause

import (
	"fmt"
	"math"
	"strings"

	"simview/internal/eye"
	"simview/internal/raytrace"
	"simview/internal/unit"
)

// past returns where the edge of the lens at k times its displacement lies in
// the entrance pupil, and what the path beside it has more than that through it,
//
//	W_more = W_without lens - W_displaced, orders 1 to 6
//
// the slope counted: it says how far beside the picture that light falls. nil
// when the optic's diameter is not known.
func (l *lensModel) past(k float64) (*eye.Past, error) {
	if l.eye.Spec.Lens.OpticMM == 0 {
		return nil, nil
	}
	at := l.at.Times(k)
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

// besideNoted notes how much of the light of a view passes beside the lens, in
// place of what was noted for another pupil.
func besideNoted(s eye.State) eye.State {
	var kept []string
	for _, n := range s.Notes {
		if !strings.Contains(n, besideWords) {
			kept = append(kept, n)
		}
	}
	s.Notes = kept
	share := besideShare(s)
	switch {
	case share == 1:
		return s.Note("all of the light " + besideWords)
	case share < leastBeside:
		return s
	}
	return s.Note(fmt.Sprintf("%.2g %% of the light %s, out of focus by %.0f D; drawn as a faint second image", 100*share, besideWords, pastDefocusD(s)))
}

// pastDefocusD is the defocus of the light beside the lens against that through
// it, D, from the curvature in the middle of the pupil: W = -M r²/2.
func pastDefocusD(s eye.State) float64 {
	const e = 0.1 // mm
	w := s.Past.MoreUM
	return math.Abs(w(e, 0)+w(-e, 0)+w(0, e)+w(0, -e)-4*w(0, 0)) / (2 * e * e)
}
