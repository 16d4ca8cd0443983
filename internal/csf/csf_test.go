package csf

import (
	"math"
	"testing"
)

// tolConstants: the published check values carry two decimals of values from 7
// up, so 0.005/7 = 0.07 %; 0.1 %.
const tolConstants = 1e-3

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol*math.Abs(want) {
		t.Errorf("%s: got %.5g, want %.5g within %g", what, got, want, tol)
	}
}

// Values computed outside this package from the constants of Watson and Ahumada
// 2005 (constants as quoted in published code).
func TestFovealSensitivityMatchesPublishedConstants(t *testing.T) {
	for f, want := range map[float64]float64{0.5: 69.67, 1: 106.56, 2: 182.04, 4: 214.20, 8: 135.14, 16: 43.115, 30: 7.166} {
		near(t, "S", WatsonAhumada{}.Whole(f), want, tolConstants)
	}
}

// tolPatch: the values are rounded to whole numbers and come from a numerical
// pooling that lets the filter act on the patch's own width in frequency, which
// the closed form leaves out: 2 %.
const tolPatch = 0.02

func TestPooledPatchMatchesNumericalPooling(t *testing.T) {
	for sigma, want := range map[float64]float64{0.5: 106, 1: 137, 3: 155} {
		near(t, "patch", WatsonAhumada{}.Patch(4, sigma), want, tolPatch)
	}
}

// Second route: the integral of the pooled patch summed over a fine raster.
func TestPooledPatchMatchesItsIntegral(t *testing.T) {
	const f, sigma, h = 4.0, 0.5, 0.01
	sum := 0.0
	for y := -3.0; y <= 3; y += h {
		for x := -3.0; x <= 3; x += h {
			v := math.Exp(-(x*x+y*y)/2*(1/(sigma*sigma)+1/(waAperture*waAperture))) * math.Cos(2*math.Pi*f*x)
			sum += math.Pow(math.Abs(v), waBeta) * h * h
		}
	}
	want := WatsonAhumada{}.Whole(f) * math.Pow(sum, 1/waBeta)
	near(t, "patch", WatsonAhumada{}.Patch(f, sigma), want, 0.005) // raster of 25 samples a period
}

// tolMTF: the check values carry four decimals, the smallest is 0.0510: 0.1 %.
const tolMTF = 1e-3

// Values computed outside this package from Watson 2013.
func TestMeanOpticsMatchCheckValues(t *testing.T) {
	want := map[float64][4]float64{
		2: {0.8647, 0.6574, 0.3530, 0.1973},
		3: {0.8158, 0.5626, 0.2817, 0.1641},
		4: {0.7129, 0.4270, 0.1967, 0.1148},
		6: {0.4308, 0.2055, 0.0872, 0.0510},
	}
	for d, row := range want {
		for i, f := range []float64{5, 10, 20, 30} {
			near(t, "MTF", MeanMTF(f, d), row[i], tolMTF)
		}
	}
	if MeanMTF(0, 4) != 1 || DiffractionMTF(1) != 0 {
		t.Error("the MTF must be 1 at 0 and 0 at the cut-off")
	}
}

func TestOneOctavePatchIsOneOctaveWide(t *testing.T) {
	// amplitude spectrum of the Gabor at f/x and f x for a half-height width of
	// one octave about its arithmetic centre: at 2/3 and 4/3 of f it is one half
	for _, u := range []float64{2.0 / 3, 4.0 / 3} {
		g := math.Exp(-2 * math.Pow(math.Pi*octaveSigma*(u-1), 2))
		near(t, "half height", g, 0.5, 1e-12)
	}
}

func TestThresholdRisesAwayFromFixation(t *testing.T) {
	m := WatsonAhumada{}
	// Peli and others 1991: a factor exp(0.036) for every cycle of f e
	near(t, "T ratio", m.Threshold(4, 10, 1000)/m.Threshold(4, 0, 1000), math.Exp(1.44), 1e-12)
	for _, m := range Models() {
		if v := m.Threshold(4, 0, 400); v < 0.001 || v > 0.05 {
			t.Errorf("%s: the foveal threshold at 4 c/deg is %v; expected near 0.01", m.Name(), v)
		}
		for _, f := range []float64{0.25, 1, 4, 16} {
			last := 0.0
			for e := 0.0; e <= 40; e += 0.25 {
				v := m.Threshold(f, e, 400)
				if !(v >= last && v > 0) {
					t.Fatalf("%s, %v c/deg: T falls to %v at %v degrees", m.Name(), f, v, e)
				}
				last = v
			}
		}
	}
}

func TestLossActsWholeOnFineAndHalfOnCoarseDetail(t *testing.T) {
	for f, want := range map[float64]float64{0.05: 0.5, 0.125: 0.5, 0.75: 1, 8: 1} {
		near(t, "s", LossShare(f), want, 1e-12)
	}
	if s := LossShare(0.3); s <= 0.5 || s >= 1 {
		t.Errorf("s(0.3) = %v, must lie between 0.5 and 1", s)
	}
	near(t, "k", Remaining(2, 10), 0.1, 1e-12)
	near(t, "k", Remaining(0.1, 20), 0.1, 1e-12)
	if Remaining(2, 0) != 1 {
		t.Error("no loss must leave exactly 1")
	}
}

func TestSensitivityThroughTheDataOpticsIsTheWholeEye(t *testing.T) {
	m := WatsonAhumada{}
	mtf := func(f float64) float64 { return MeanMTF(f, DataPupilMM) }
	for _, s := range Curve(m, []float64{0.5, 2, 8}, Place{Trolands: 400}, mtf) {
		near(t, "S", s.Sensitivity, m.Patch(s.Frequency, octaveSigma/s.Frequency), 1e-12)
	}
}

func TestCutOffFallsWithLossAndEccentricity(t *testing.T) {
	mtf := func(f float64) float64 { return MeanMTF(f, DataPupilMM) }
	for _, m := range Models() {
		at := func(e, loss float64) float64 { return CutOff(m, Place{e, 400, loss}, mtf) }
		a, b, c := at(0, 0), at(0, 10), at(10, 0)
		if !(a > b && a > c && b > 1 && c > 1 && a < 60) {
			t.Errorf("%s: cut-off %v, with loss %v, eccentric %v", m.Name(), a, b, c)
		}
		near(t, "S at the cut-off", Sensitivity(m, a, Place{0, 400, 0}, mtf(a)), 1, 1e-4)
		if at(0, 60) != 0 {
			t.Error("60 dB must leave nothing")
		}
	}
}
