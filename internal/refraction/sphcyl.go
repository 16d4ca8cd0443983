package refraction

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// SphereCylinder is a refraction as a clinician writes it. Cylinder may have
// either sign; everything this package returns has minus form.
type SphereCylinder struct {
	Sphere, Cylinder unit.Dioptres // D
	AxisDeg          unit.Degrees  // 0 to 180
}

// Check returns an error when a number is not finite or the axis lies outside
// 0 to 180 degrees.
func (s SphereCylinder) Check() error {
	for _, v := range []float64{float64(s.Sphere), float64(s.Cylinder), float64(s.AxisDeg)} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("refraction: sphere %v D, cylinder %v D, axis %v degrees: expected finite numbers", s.Sphere, s.Cylinder, s.AxisDeg)
		}
	}
	if s.AxisDeg < 0 || s.AxisDeg > 180 {
		return fmt.Errorf("refraction: cylinder axis %v degrees: expected 0 to 180", s.AxisDeg)
	}
	return nil
}

// PowerVector returns the refraction as a power vector; plus and minus form of
// the same lens give the same one.
//
//	M = S + C/2,  J0 = -(C/2) cos 2α,  J45 = -(C/2) sin 2α
func (s SphereCylinder) PowerVector() PowerVector {
	sin, cos := math.Sincos(2 * s.AxisDeg.Radians())
	half := s.Cylinder / 2
	return PowerVector{s.Sphere + half, -half * unit.Dioptres(cos), -half * unit.Dioptres(sin)}
}

// SphereCylinder returns the refraction in minus form, axis above 0 and up to
// 180 degrees (180 where there is no cylinder).
//
//	C = -2 √(J0² + J45²),  S = M - C/2,  α = ½ atan2(J45, J0) mod 180
func (p PowerVector) SphereCylinder() SphereCylinder {
	j := p.Astigmatism()
	axis := math.Atan2(float64(p.J45), float64(p.J0)) * 90 / math.Pi
	if axis <= 0 {
		axis += 180
	}
	return SphereCylinder{p.M + j, -2 * j, unit.Degrees(axis)}
}

// Minus returns the same lens in minus form.
func (s SphereCylinder) Minus() SphereCylinder {
	if s.Cylinder <= 0 {
		return s
	}
	axis := s.AxisDeg + 90
	if axis > 180 {
		axis -= 180
	}
	return SphereCylinder{s.Sphere + s.Cylinder, -s.Cylinder, axis}
}

// Round025 returns the nearest refraction that a trial case can show: minus
// form, sphere and cylinder in steps of 0.25 D (each rounded by itself, as is
// common practice), the axis in whole degrees from 1 to 180.
func (p PowerVector) Round025() SphereCylinder {
	s := p.SphereCylinder()
	s.Sphere, s.Cylinder = quarter(s.Sphere), quarter(s.Cylinder)
	s.AxisDeg = wholeAxis(s.AxisDeg)
	if s.Cylinder == 0 {
		s.AxisDeg = 180
	}
	return s
}

// quarter rounds to 0.25 D, never to minus zero.
func quarter(d unit.Dioptres) unit.Dioptres {
	return unit.Dioptres(math.Round(float64(d)*4)/4) + 0
}

// wholeAxis rounds an axis to whole degrees, 1 to 180.
func wholeAxis(a unit.Degrees) unit.Degrees {
	r := math.Mod(math.Round(float64(a)), 180)
	if r <= 0 {
		r += 180
	}
	return unit.Degrees(r)
}

// String writes minus form with two decimals: "-1.25 / -0.75 x 10", "plano /
// -1.00 x 45", or "+0.50" where the cylinder rounds to nothing.
func (s SphereCylinder) String() string {
	s = s.Minus()
	text := "plano"
	if math.Abs(float64(s.Sphere)) >= 0.005 {
		text = fmt.Sprintf("%+.2f", float64(s.Sphere))
	}
	if s.Cylinder > -0.005 {
		return text
	}
	return fmt.Sprintf("%s / %.2f x %.0f", text, float64(s.Cylinder), float64(wholeAxis(s.AxisDeg)))
}

// String writes the refraction as [SphereCylinder.String] does.
func (p PowerVector) String() string { return p.SphereCylinder().String() }
