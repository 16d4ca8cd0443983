package cause

import (
	"fmt"

	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/unit"
)

const usualVertexMM = 12 // common practice

var vertexKey = key{name: "vertex_mm", usual: usualVertexMM, low: 0, high: 25}

var glassesKinds = []*kind{
	{
		id: "spectacles", label: "With the best spectacles", at: glassesPlane,
		assumes: "found in quarter dioptres by the visual Strehl ratio through the pupil of the view",
		apply: func(t *tryout, _ map[string]float64) error {
			t.glasses = bestGlasses
			return nil
		},
	},
	{
		id: "spectacles-exact", label: "Spectacles made exactly", at: glassesPlane, keys: []key{vertexKey},
		assumes: "as the best ones, then refined to a hundredth of a dioptre",
		apply: func(t *tryout, o map[string]float64) error {
			t.glasses = func(t *tryout, c correction) (correction, error) { return t.ground(c, o["vertex_mm"], false) }
			return nil
		},
	},
	{
		id: "spectacles-rounded", label: "Spectacles as a trial case has them", at: glassesPlane, keys: []key{vertexKey},
		assumes: "the exact ones, sphere and cylinder rounded to 0.25 D and the axis to 5 degrees (common practice)",
		apply: func(t *tryout, o map[string]float64) error {
			t.glasses = func(t *tryout, c correction) (correction, error) { return t.ground(c, o["vertex_mm"], true) }
			return nil
		},
	},
}

func bestGlasses(t *tryout, now correction) (correction, error) {
	p, err := t.best()
	return correction{p, now.glasses.Add(now.left).Sub(p), t.over(now, refractedWords)}, err
}

// over names what is worn over a contact lens.
func (t *tryout) over(now correction, words string) string {
	if t.contact == nil {
		return words
	}
	return now.words + ", over it " + words
}

// ground works out the spectacles that leave the exact best error and, when
// asked, rounds them where they are worn:
//
//	g = w + P - P*,  left = P* + g - round(g)
//
// w the glasses now worn, P the error in them, P* the best error, all at the
// cornea.
func (t *tryout) ground(now correction, vertex float64, rounded bool) (correction, error) {
	best, err := t.exact()
	if err != nil {
		return correction{}, err
	}
	g := now.glasses.Add(now.left).Sub(best)
	at, err := g.ToSpectacles(unit.MM(vertex))
	if err != nil {
		return correction{}, err
	}
	worn := at.SphereCylinder()
	left, on := best, g
	if rounded {
		worn = caseStep(at)
		if on, err = worn.PowerVector().ToCornea(unit.MM(vertex)); err != nil {
			return correction{}, err
		}
		left = best.Add(g).Sub(on)
	}
	return correction{left, on, t.over(now, fmt.Sprintf("spectacles %s at %g mm", worn, vertex))}, nil
}

// axisStepDeg is the step in which a trial frame's axis is read (common practice).
const axisStepDeg = 5

// caseStep rounds to what is set in a trial frame.
func caseStep(p refraction.PowerVector) refraction.SphereCylinder {
	s := p.Round025()
	exact := float64(p.SphereCylinder().AxisDeg)
	if s.Cylinder != 0 {
		s.AxisDeg = unit.Degrees(int(exact/axisStepDeg+.5) * axisStepDeg)
		if s.AxisDeg <= 0 {
			s.AxisDeg += 180
		}
	}
	return s
}

// exact refines the best error by halving steps.
func (t *tryout) exact() (refraction.PowerVector, error) {
	p, err := t.pupil()
	if err != nil {
		return refraction.PowerVector{}, err
	}
	best, _ := p.Refract(p.FlatStart())
	return refine(p, best), nil
}

// leastStepD is where refining stops, well below what anyone can see.
const leastStepD = 0.01

func refine(p *quality.Pupil, best refraction.PowerVector) refraction.PowerVector {
	score := p.VisualStrehl(best)
	for step := unit.Dioptres(0.125); step >= leastStepD; {
		moved := false
		for _, d := range []refraction.PowerVector{{M: step}, {M: -step}, {J0: step}, {J0: -step}, {J45: step}, {J45: -step}} {
			if v := p.VisualStrehl(best.Add(d)); v > score {
				best, score, moved = best.Add(d), v, true
			}
		}
		if !moved {
			step /= 2
		}
	}
	return best
}
