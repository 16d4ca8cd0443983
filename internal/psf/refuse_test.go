//go:build !race

package psf

import (
	"math"
	"strings"
	"testing"
)

func TestBadInputIsRefusedInOneSentence(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	mono := Monochrome(555)
	edge := func(x, y float64) float64 {
		if x > 1.9 {
			return nan
		}
		return 0
	}
	for _, c := range []struct {
		a     Aperture
		lines []Line
		opt   Options
		want  string
	}{
		{Diffracted(0), mono, Options{}, "pupil diameter: must be above 0"},
		{Diffracted(nan), mono, Options{}, "pupil diameter"},
		{Diffracted(5500), mono, Options{}, "at most 12 mm (got 5500)"},
		{Diffracted(4), nil, Options{}, "at least one wavelength"},
		{Diffracted(4), Monochrome(.555), Options{}, "wavelength 1: must be from 300 to 1100 nm (got 0.555)"},
		{Diffracted(4), []Line{{555, -1}}, Options{}, "weight of wavelength 1 (555 nm)"},
		{Diffracted(4), []Line{{555, inf}}, Options{}, "weight of wavelength 1"},
		{Diffracted(4), []Line{{555, 0}}, Options{}, "must add to more than 0"},
		{Diffracted(4), mono, Options{FocusNM: 20}, "focus wavelength"},
		{Diffracted(4), mono, Options{N: 511}, "must be even"},
		{Diffracted(4), mono, Options{StepDeg: -1}, "step: must be above 0"},
		{Diffracted(4), mono, Options{StepDeg: .01}, "wavelength/(2 x pupil) = 0.00397489 degrees here (got 0.01)"},
		{Diffracted(4), mono, Options{StepDeg: 1e-7}, "at most 8192 are possible"},
		{Diffracted(4), mono, Options{N: 100000}, "at most 8192 are possible"},
		{Aperture{DiameterMM: 4, PathUM: edge}, mono, Options{}, "does the wavefront cover the whole 4.00 mm pupil?"},
		{Aperture{DiameterMM: 4, Amplitude: edge}, mono, Options{}, "amplitude at pupil point (1."},
		{Aperture{DiameterMM: 4, Amplitude: func(x, y float64) float64 { return 0 }}, mono, Options{}, "no light passes this 4.00 mm pupil"},
		{Aperture{DiameterMM: 8, PathUM: defocus(25)}, mono, Options{}, "at most 2048 are possible; use a smaller pupil"},
		{Aperture{DiameterMM: 4, PathUM: defocus(10)}, mono, Options{N: 256, StepDeg: arcmin / 8}, "the blur needs"},
	} {
		_, err := Compute(c.a, c.lines, c.opt)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want %q, got %v", c.want, err)
		}
		if err != nil && strings.Count(err.Error(), "\n") > 0 {
			t.Errorf("more than one line: %v", err)
		}
	}
}

// The rules by which a size is chosen, over pupils and errors of focus.
func TestTheChosenSizeObeysItsRules(t *testing.T) {
	for _, d := range []float64{1, 2, 3.5, 6, 9} {
		for _, m := range []float64{0, -1.5, 6} {
			lines := []Line{{460, 1}, {650, 1}}
			a := Aperture{DiameterMM: d, PathUM: defocus(m)}
			pl, err := makePlan(a, lines, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if limit := 460e-6 / (2 * d); pl.step > limit*(1+1e-12) || d >= 3 && m == 0 && pl.step > usualStepDeg*degree {
				t.Errorf("%g mm, %g D: step %g, limit %g", d, m, pl.step, limit)
			}
			across := d * float64(pl.n) * pl.step / 650e-6
			need := max(minPupilSamples, 2*d*math.Abs(m)*d/2e3/650e-6)
			if across < need-1e-6 {
				t.Errorf("%g mm, %g D: %g samples across the pupil, need %g", d, m, across, need)
			}
			if pl.n%2 != 0 || float64(pl.n)*pl.step/degree < usualSupportDeg {
				t.Errorf("%g mm, %g D: %d samples span %g degrees", d, m, pl.n, float64(pl.n)*pl.step/degree)
			}
		}
	}
}

// A path that is not known beyond the rim is never asked there.
func TestThePathIsOnlyAskedInsideThePupil(t *testing.T) {
	path := func(x, y float64) float64 {
		if math.Hypot(x, y) > 2*(1+1e-12) {
			t.Fatalf("asked at (%g, %g)", x, y)
		}
		return x * y
	}
	compute(t, Aperture{DiameterMM: 4, PathUM: path}, []Line{{480, 1}, {600, 1}}, Options{})
}
