package light

import (
	"fmt"
	"math"
)

// NormAtDeg is the angle at which clinics measure and quote straylight.
const NormAtDeg = 7.0

// Glare is the straylight of one eye.
type Glare struct {
	Scale   float64 // >= 0, multiplies the terms that grow with age; [AgeScale] for a normal eye
	Pigment float64 // eye pigment factor p, 0 (very dark) to 1.2 (light blue)
}

// GlareForAge returns the normal eye of an age in years.
func GlareForAge(age, pigment float64) Glare { return Glare{AgeScale(age), pigment} }

// GlareFromLogS returns the eye whose straylight parameter at atDeg degrees has
// the decimal logarithm logS (deg²/sr). The terms that grow with age are scaled;
// the fixed terms are not. It is an error when logS is not finite, when atDeg
// is not between 1 and 90, or when logS is below what the fixed terms give.
func GlareFromLogS(logS, atDeg, pigment float64) (Glare, error) {
	if math.IsNaN(logS) || math.IsInf(logS, 0) {
		return Glare{}, fmt.Errorf("straylight: log s is %v, expected a number such as 1.2", logS)
	}
	if !(atDeg >= 1 && atDeg <= 90) {
		return Glare{}, fmt.Errorf("straylight: measured at %v degrees, expected 1 to 90 (usual: 7)", atDeg)
	}
	if !(pigment >= 0 && pigment <= 2) {
		return Glare{}, fmt.Errorf("straylight: eye pigment factor is %v, expected 0 (very dark) to 1.2 (light blue)", pigment)
	}
	k := newKernel(pigment)
	q := math.Pow(10, logS) / (atDeg * atDeg)
	scale := (q - k.fixed(atDeg)) / k.aged(atDeg)
	if scale < 0 {
		return Glare{}, fmt.Errorf("straylight: log s of %.2f at %g degrees is below %.2f, the least an eye can have (hint: give log10 of s, not s)",
			logS, atDeg, Glare{0, pigment}.LogS(atDeg))
	}
	return Glare{scale, pigment}, nil
}

// LogS returns the decimal logarithm of the straylight parameter, deg²/sr:
//
//	s = θ² Q(θ)
func (g Glare) LogS(atDeg float64) float64 {
	return math.Log10(atDeg * atDeg * g.Kernel(atDeg))
}

// NormLogS returns mean and standard deviation of log s at 7 degrees of normal
// eyes of an age in years, without or with a lens implant, and the source:
//
//	natural lens: log s = 0.87 + log10(1 + (A/65)⁴), SD 0.10
//	implant:      log s = 0.0044 A + 0.89, 95 % within 0.42
func NormLogS(age float64, implant bool) (mean, sd float64, source string) {
	if implant {
		return 0.0044*age + 0.89, 0.42 / 1.96, "norm of eyes with a lens implant (Labuz, Reus, van den Berg 2015)"
	}
	return 0.87 + math.Log10(1+math.Pow(age/65, 4)), 0.10, "norm of 2422 drivers with natural lenses (van den Berg et al. 2007)"
}

// Kernel returns veil luminance per illuminance at the eye, 1/sr, at thetaDeg
// degrees (0 to 90; nothing comes from beyond). It is [CIEGeneral] with a start
// that stays finite beside a measured wavefront:
//
//	Q = 10/θ³ θ⁴/(θ⁴+0.2⁴) + 0.0025 p + Scale (5/(θ²+0.1²) + 0.1 p/√(θ²+0.1²))
func (g Glare) Kernel(thetaDeg float64) float64 {
	k := newKernel(g.Pigment)
	return k.fixed(thetaDeg) + g.Scale*k.aged(thetaDeg)
}

// Share returns T, the integral of the kernel over the hemisphere: the share of
// light that single scattering would take out of the core.
func (g Glare) Share() float64 {
	f, a := unitShares(g.Pigment)
	return f + g.Scale*a
}

// Leaving returns the share of light that leaves the core. Single scattering
// holds while it is small; beyond one half the rest leaves ever more slowly:
//
//	T                     for T <= 0.5
//	1 - 0.5 exp(1 - 2 T)  beyond
//
// The veil keeps its shape. Light that is scattered again would, at a share of
// one, make it 15 % weaker at 1 degree, 9 % stronger at 7 and 24 % stronger at 20
// (sum over Poisson's number of scatterings, worked out outside this program);
// log s itself is known to 0.1, which is 26 %.
func (g Glare) Leaving() float64 {
	t := g.Share()
	if t <= 0.5 {
		return t
	}
	return 1 - 0.5*math.Exp(1-2*t)
}

// Keep returns the share of light left in the core, 1 - [Glare.Leaving].
func (g Glare) Keep() float64 { return 1 - g.Leaving() }

// VeilFactor returns the factor on the single-scatter veil that makes core and
// veil together keep the light: Leaving / Share, 1 up to a share of one half.
func (g Glare) VeilFactor() float64 {
	t := g.Share()
	if t == 0 {
		return 1
	}
	return g.Leaving() / t
}

// Saturated reports that so much light is scattered (share beyond one half)
// that the veil was scaled down; a panel has to say so.
func (g Glare) Saturated() bool { return g.Share() > 0.5 }
