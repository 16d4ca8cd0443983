//go:build !race

package psf

import (
	"math"
	"testing"

	"simview/internal/unit"
)

// Values computed from the two published formulas; 1e-4 is their last digit.
func TestRefractionByWavelength(t *testing.T) {
	nm := []float64{400, 450, 486, 500, 543, 550, 555, 589, 600, 633, 656, 700, 780, 850}
	thibos := []float64{-1.7223, -1.0001, -.6445, -.5304, -.2408, -.2006, -.1730, -.0044, .0437, .1730, .2517, .3816, .5659, .6891}
	average := []float64{-1.7822, -1.0243, -.6611, -.5445, -.2461, -.2043, -.1754, .0024, .0539, .1935, .2796, .4235, .6315, .7720}
	for i, l := range nm {
		near(t, "Thibos", Thibos(l), thibos[i], 1e-4)
		near(t, "Atchison and Smith", AtchisonSmith(l), average[i], 1e-4)
		near(t, "the two models", Thibos(l), AtchisonSmith(l), .12)
	}
}

// 10^(-0.05 r²) and its root, computed.
func TestDirectionalSensitivityFallsFromTheCentre(t *testing.T) {
	for i, want := range []float64{.9441, .7943, .5957, .3981} {
		r := float64(i + 1)
		near(t, "amplitude", StilesCrawford(0, r), want, 5e-5)
		near(t, "energy", square(StilesCrawford(r/math.Sqrt2, r/math.Sqrt2)), []float64{.8913, .6310, .3548, .1585}[i], 5e-5)
	}
	// A 6 mm pupil passes as much as one of 4.7346 mm without: computed.
	f, err := sampleField(Diffracted(6), &surface{m: 1000, dx: .02, radius: 3, w: make([]float64, 2001*2001)}, 555, .02, 512, Options{StilesCrawford: true})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "effective diameter, mm", 2*math.Sqrt(f.passed*.02*.02/math.Pi), 4.7346, 1e-3)
}

// Light of another wavelength is out of focus by the difference of refraction:
// the blur at 480 nm is that of a path with the difference written into it.
func TestShortWavesAreShortSighted(t *testing.T) {
	opt := Options{N: 1024, StepDeg: arcmin / 8}
	alone := compute(t, Aperture{DiameterMM: 4, PathUM: defocus(Thibos(480) - Thibos(555))}, Monochrome(480), opt)
	opt.LCA = Thibos
	colour := compute(t, Aperture{DiameterMM: 4}, Monochrome(480), opt)
	same(t, colour, alone, 1e-6)
	opt.FocusNM = 480
	same(t, compute(t, Aperture{DiameterMM: 4}, Monochrome(480), opt), compute(t, Diffracted(4), Monochrome(480), Options{N: 1024, StepDeg: arcmin / 8}), 1e-6)
}

// Rynders et al., Vision Research 35 (1995): a pupil off the achromatic axis
// shifts colours by offset x difference of refraction, 1 mm x 1 D = 3.43775'.
func TestPupilOffsetShiftsColoursSideways(t *testing.T) {
	opt := Options{LCA: Thibos, N: 1024, StepDeg: arcmin / 8}
	at := func(nm float64) (x, y float64) {
		p := compute(t, Aperture{DiameterMM: 3, CentreMM: unit.PupilPoint{X: 1, Y: .5}}, Monochrome(nm), opt)
		x, y, _, _, _ = moments(p, 20)
		return x, y
	}
	x6, y6 := at(605)
	x5, y5 := at(497)
	shift := (Thibos(605) - Thibos(497)) * 3.437747
	near(t, "difference of refraction, D", Thibos(605)-Thibos(497), .619, 1e-3)
	near(t, "shift along x, minutes", x6-x5, shift, .02*shift)
	near(t, "shift along y, minutes", y6-y5, -shift/2, .02*shift)
}

// same fails unless two spreads agree to tol of the higher peak.
func same(t *testing.T, a, b *PSF, tol float64) {
	t.Helper()
	top, worst := 0.0, 0.0
	for i, v := range a.Pix {
		top = max(top, float64(v))
		worst = max(worst, math.Abs(float64(v-b.Pix[i])))
	}
	near(t, "largest difference over the peak", worst/top, 0, tol)
}
