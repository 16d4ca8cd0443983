package raytrace

import (
	"errors"
	"fmt"
	"math"

	"simview/internal/unit"
	"simview/internal/zernike"
)

// Accuracy of what is solved numerically: far below what any clinical number
// states (0.01 µm, 0.25 D) and far above rounding.
const (
	solvedC40UM       = 1e-6
	solvedRefractionD = 1e-6
	solveSteps        = 60
)

// secant finds x with |f(x)| < tol from two starts.
func secant(a, b, tol float64, f func(float64) (float64, error)) (float64, error) {
	fa, err := f(a)
	if err != nil || math.Abs(fa) < tol {
		return a, err
	}
	for range solveSteps {
		fb, err := f(b)
		if err != nil || math.Abs(fb) < tol {
			return b, err
		}
		next := b - fb*(b-a)/(fb-fa)
		if math.IsNaN(next) || math.IsInf(next, 0) {
			break
		}
		a, fa, b = b, fb, next
	}
	return 0, errNotSolved
}

var errNotSolved = fmt.Errorf("no solution found in %d steps", solveSteps)

// solveAsphericity sets Centred and FrontEven by Newton's method in two unknowns:
// the r⁴ and r⁶ terms of the front surface, for c(4,0) as asked and c(6,0) = 0.
// A conic alone could meet c(4,0), but would need constants near -25 and leave
// c(6,0) of 0.05 µm.
func (e *ImplantEye) solveAsphericity() error {
	goal, solve := e.goalC40()
	if !solve {
		return e.solveFocus([2]float64{})
	}
	var a [2]float64
	for range solveSteps {
		f, err := e.misses(a, goal)
		if err != nil {
			return e.noFront(goal, err)
		}
		if math.Hypot(f[0], f[1]) < solvedC40UM {
			return nil
		}
		if a, err = e.newtonStep(a, f, goal); err != nil {
			return e.noFront(goal, err)
		}
	}
	return e.noFront(goal, errNotSolved)
}

// noFront says that the goal cannot be met.
func (e *ImplantEye) noFront(goal float64, why error) error {
	var earlier EyeError
	if errors.As(why, &earlier) {
		return earlier
	}
	what := fmt.Sprintf("no front surface of the lens leaves the eye with c(4,0) = %+.3f µm at %d mm", goal, saPupilMM)
	if e.Spec.AxialMM != 0 && e.Spec.Lens.PowerD == 0 {
		what = fmt.Sprintf("in an eye %.2f mm long %s", e.Spec.AxialMM, what)
	}
	return EyeError{AboutLensSA, what, "ask for less, or check the power and the length of the eye", why}
}

// misses returns how far (µm) c(4,0) and c(6,0) at 6 mm are from their goals with
// even terms a on the front surface.
func (e *ImplantEye) misses(a [2]float64, goal float64) (f [2]float64, err error) {
	if err := e.solveFocus(a); err != nil {
		return f, err
	}
	w, err := e.centredTerms(&e.Centred, saPupilMM)
	if err != nil {
		return f, err
	}
	return [2]float64{w.At(4, 0) - goal, w.At(6, 0)}, nil
}

// newtonStep improves a by differences: a' = a - J⁻¹ f.
func (e *ImplantEye) newtonStep(a, f [2]float64, goal float64) ([2]float64, error) {
	step := [2]float64{1e-5, 1e-6} // mm^-3, mm^-5: about 0.1 µm at 3 mm
	var j [2][2]float64
	for k := range 2 {
		b := a
		b[k] += step[k]
		g, err := e.misses(b, goal)
		if err != nil {
			return a, err
		}
		j[0][k], j[1][k] = (g[0]-f[0])/step[k], (g[1]-f[1])/step[k]
	}
	det := j[0][0]*j[1][1] - j[0][1]*j[1][0]
	if det == 0 || math.IsNaN(det) {
		return a, errNotSolved
	}
	a[0] -= (j[1][1]*f[0] - j[0][1]*f[1]) / det
	a[1] -= (j[0][0]*f[1] - j[1][0]*f[0]) / det
	return a, nil
}

// goalC40 returns the c(4,0) (µm) that the whole eye is to have at 6 mm, and
// whether the front surface is to be solved for it.
func (e *ImplantEye) goalC40() (float64, bool) {
	switch sa := e.Spec.Lens.SA; sa.Kind {
	case SANeutral:
		return e.CorneaC40UM, true
	case SACancels:
		return e.CorneaC40UM - sa.AmountUM, true
	case SAWholeEye:
		return sa.AmountUM, true
	}
	return 0, false
}

// solveFocus sets Centred to the eye with even terms a on the front surface, its length or its
// power chosen for the refraction asked for; where both are given, neither moves.
func (e *ImplantEye) solveFocus(a [2]float64) error {
	e.FrontEven = a
	var err error
	if e.Centred, err = e.assemble(a, e.Spec.Lens.PowerD); err != nil {
		return err
	}
	switch l := &e.Spec.Lens; {
	case e.Spec.AxialMM == 0:
		err = e.solveLength()
	case l.PowerD == 0 && l.RadiiMM == [2]float64{}:
		err = e.solvePower(a)
	}
	if err != nil {
		var earlier EyeError
		if errors.As(err, &earlier) {
			return earlier
		}
		what := fmt.Sprintf("no eye of these surfaces is focused for %+.2f D", e.Spec.RefractionD)
		if e.Spec.AxialMM != 0 {
			what = fmt.Sprintf("no lens %.2f mm behind the front of the cornea focuses an eye %.2f mm long for %+.2f D", e.Spec.LensFrontMM, e.Spec.AxialMM, e.Spec.RefractionD)
		}
		return EyeError{AboutLength, what, "check powers, radii and the length of the eye", err}
	}
	return nil
}

// solveLength moves the retina; it starts from the paraxial focus.
func (e *ImplantEye) solveLength() error {
	p, err := e.Centred.cardinal()
	if err != nil {
		return err
	}
	_, err = secant(p.FocusZ, p.FocusZ-.1, solvedRefractionD, func(z float64) (float64, error) {
		if z < e.Spec.LensFrontMM+e.Spec.Lens.ThicknessMM {
			what := fmt.Sprintf("the focus falls %.1f mm behind the cornea, inside the lens", z)
			return 0, EyeError{AboutLength, what, "check the power of the lens, its depth and the radii of the cornea", nil}
		}
		e.Centred.RetinaZ = z
		m, err := e.refraction(&e.Centred)
		return m - e.Spec.RefractionD, err
	})
	return err
}

// solvePower changes the lens; it starts from usual powers.
func (e *ImplantEye) solvePower(a [2]float64) error {
	_, err := secant(20, 21, solvedRefractionD, func(p float64) (float64, error) {
		var err error
		if e.Centred, err = e.assemble(a, p); err != nil {
			return 0, err
		}
		m, err := e.refraction(&e.Centred)
		return m - e.Spec.RefractionD, err
	})
	return err
}

// centredTerms returns the wavefront over a pupil centred on the axis.
func (e *ImplantEye) centredTerms(s *System, pupilMM float64) (zernike.Terms, error) {
	on := *s
	on.PupilCentre = unit.PupilPoint{}
	return on.Wavefront(on.OnAxis(), pupilMM)
}

// refraction returns the mean refraction (D) at the corneal vertex, paraxial or
// over FocusPupilMM; r in mm, c(2,0) in µm, d the distance to the entrance
// pupil in m:
//
//	M = -4√3 c(2,0) / r²,  Rx = M / (1 + d M)
func (e *ImplantEye) refraction(s *System) (float64, error) {
	if e.Spec.FocusPupilMM == 0 {
		p, err := s.Paraxial()
		return p.RefractionAtCornealVtxD, err
	}
	w, err := e.centredTerms(s, e.Spec.FocusPupilMM)
	if err != nil {
		return 0, err
	}
	z, _ := s.entrancePupil()
	m := -4 * math.Sqrt(3) * w.At(2, 0) / (w.RadiusMM * w.RadiusMM)
	return m / (1 + z/1000*m), nil
}
