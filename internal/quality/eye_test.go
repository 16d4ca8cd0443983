//go:build !race

package quality_test

import (
	"math"
	"testing"

	"simview/internal/csf"
	"simview/internal/psf"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/zernike"
)

func spreadOf(t *testing.T, a psf.Aperture, lines []psf.Line, opt psf.Options) *psf.PSF {
	t.Helper()
	p, err := psf.Compute(a, lines, opt)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// shifted is a lens 1.2 mm aside in a pupil of 4 mm.
func shifted(path func(x, y float64) float64) psf.Aperture {
	return psf.Aperture{
		DiameterMM: 4, PathUM: path,
		InsideMM: func(x, _ float64) float64 { return x + 1.2 },
		BesideUM: func(x, y float64) float64 { return 7 * (x*x + y*y) }, // 14 D out of focus
	}
}

// TestTheVisualStrehlRatioIsTheSameInSpaceAndInFrequency by Parseval's theorem, both
// being finite sums in float64 over one lattice: 1e-9.
func TestTheVisualStrehlRatioIsTheSameInSpaceAndInFrequency(t *testing.T) {
	terms := zernike.Terms{RadiusMM: 2}.With(2, 0, 0.2).With(3, 1, 0.15).With(4, 0, 0.08)
	white := []psf.Line{{NM: 500, Weight: 0.3}, {NM: 555, Weight: 0.4}, {NM: 610, Weight: 0.3}}
	for name, p := range map[string]*psf.PSF{
		"one wavelength":      spreadOf(t, psf.Aperture{DiameterMM: 4, PathUM: terms.PathUM}, psf.Monochrome(555), psf.Options{}),
		"white":               spreadOf(t, psf.Aperture{DiameterMM: 4, PathUM: terms.PathUM}, white, psf.Options{LCA: psf.Thibos, StilesCrawford: true}),
		"light past the lens": spreadOf(t, shifted(terms.PathUM), psf.Monochrome(555), psf.Options{}),
	} {
		v, err := quality.VisualStrehl(p)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %.12f, %.12f", name, v.Space, v.Frequency)
		if math.Abs(v.Space-v.Frequency) > 1e-9 || !(v.Space > 0.02 && v.Space < 0.9) {
			t.Errorf("%s: in space %.12f, in frequency %.12f", name, v.Space, v.Frequency)
		}
	}
}

// TestThePerfectEyeHasAVisualStrehlRatioOfOne, of its own spread against its own.
func TestThePerfectEyeHasAVisualStrehlRatioOfOneAsASpread(t *testing.T) {
	v, err := quality.VisualStrehl(spreadOf(t, psf.Diffracted(3), psf.Monochrome(555), psf.Options{}))
	const rounding = 1e-12
	if err != nil || math.Abs(v.Space-1) > rounding || math.Abs(v.Frequency-1) > rounding {
		t.Errorf("%+v %v", v, err)
	}
}

// TestTheCoarsePupilAgreesWithTheSpread: the ratio of 96 samples across the pupil and
// that of the fine spread, with and without light past the lens. The edge of the lens
// lies between coarse samples: half of a column of 96 over a pupil, 1 %; the rim of the
// pupil likewise.
func TestTheCoarsePupilAgreesWithTheSpread(t *testing.T) {
	terms := zernike.Terms{RadiusMM: 2}.With(2, 0, 0.1).With(2, 2, 0.06).With(4, 0, 0.05)
	for name, a := range map[string]psf.Aperture{"whole": {DiameterMM: 4, PathUM: terms.PathUM}, "past the lens": shifted(terms.PathUM)} {
		p, err := quality.NewAperture(a)
		if err != nil {
			t.Fatal(err)
		}
		coarse := p.VisualStrehl(refraction.PowerVector{})
		if a.InsideMM != nil { // the coarse pupil takes out the prism that half a path has
			a.PathUM = steadied(a)
		}
		fine, err := quality.VisualStrehl(spreadOf(t, a, psf.Monochrome(555), psf.Options{}))
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: coarse %.4f, fine %.4f", name, coarse, fine.Space)
		if math.Abs(coarse-fine.Space) > 0.02*fine.Space {
			t.Errorf("%s: coarse %.4f, fine %.4f", name, coarse, fine.Space)
		}
	}
}

// steadied takes the mean slope over the part that the lens covers out of a path.
func steadied(a psf.Aperture) func(x, y float64) float64 {
	var sx, sy, n float64
	const r = 2.0
	for y := -r + 0.01; y < r; y += 0.02 {
		for x := -r + 0.01; x < r; x += 0.02 {
			if x*x+y*y < r*r && a.InsideMM(x, y) > 0 {
				w := a.PathUM(x, y)
				sx, sy, n = sx+w*x, sy+w*y, n+x*x
			}
		}
	}
	return func(x, y float64) float64 { return a.PathUM(x, y) - (sx*x+sy*y)/n }
}

// TestLightPastTheLensLowersTheRatio: by its share and by what the cut pupil blurs.
func TestLightPastTheLensLowersTheRatio(t *testing.T) {
	p := spreadOf(t, shifted(nil), psf.Monochrome(555), psf.Options{})
	v, err := quality.VisualStrehl(p)
	if err != nil {
		t.Fatal(err)
	}
	if all := 1 - p.Beside.Share; !(v.Space < all && v.Space > 0.5*all) {
		t.Errorf("ratio %.4f, share through the lens %.4f", v.Space, all)
	}
}

// TestHalfOfAPerfectPupilsLightLiesInTheCircleOfTheAiryPattern: encircled energy
// 1 - J0² - J1² at x = π d θ/λ (Born and Wolf).
func TestHalfOfAPerfectPupilsLightLiesInTheCircleOfTheAiryPattern(t *testing.T) {
	const mm, nm = 3.0, 555.0
	lo, hi := 1.0, 3.0
	for hi-lo > 1e-9 {
		x := (lo + hi) / 2
		if j0, j1 := math.J0(x), math.J1(x); 1-j0*j0-j1*j1 < 0.5 {
			lo = x
		} else {
			hi = x
		}
	}
	want := 2 * lo * nm * 1e-6 / (math.Pi * mm) * 180 / math.Pi * 60
	got := quality.HalfEnergyArcmin(spreadOf(t, psf.Diffracted(mm), psf.Monochrome(nm), psf.Options{N: 1024}))
	t.Logf("%.4f arcmin, formula %.4f", got, want)
	const sampled = 0.01 // 1 % of the light lies beyond the support, and samples are squares
	if math.Abs(got-want) > sampled*want {
		t.Errorf("%.4f arcmin, formula %.4f", got, want)
	}
}

func TestHalfTheLightThatIsNotThereHasNoCircle(t *testing.T) {
	a := shifted(nil)
	a.InsideMM = func(x, _ float64) float64 { return x - 0.5 } // most light passes beside
	if got := quality.HalfEnergyArcmin(spreadOf(t, a, psf.Monochrome(555), psf.Options{})); !math.IsInf(got, 1) {
		t.Errorf("%.3f arcmin", got)
	}
}

// TestAreasAreThoseOfTheirDefinitions: the ideal eye has the area 1; a sensitivity of
// 100 throughout has 2 × log10(12).
func TestAreasAreThoseOfTheirDefinitions(t *testing.T) {
	at, m := csf.Place{Trolands: 1000}, csf.WatsonAhumada{}
	const rounding = 1e-12
	cutOff := 3e6 / 555 * math.Pi / 180
	ideal := func(f float64) float64 { return csf.DiffractionMTF(f / cutOff) }
	if got := quality.AreaMTF(ideal, 3, m, at); math.Abs(got-1) > rounding {
		t.Errorf("ideal %.6f", got)
	}
	if got := quality.AreaMTF(func(f float64) float64 { return 0.5 * ideal(f) }, 3, m, at); !(got > 0.4 && got < 0.5) {
		t.Errorf("half of everything %.4f: the threshold is not halved", got)
	}
	even := func(f float64) float64 { return 100 * m.Threshold(f, 0, 1000) }
	if got, want := quality.AreaLogCSF(m, at, even), 2*math.Log10(12); math.Abs(got-want) > 1e-9 {
		t.Errorf("%.6f, want %.6f", got, want)
	}
	tenth := func(f float64) float64 { return 1000 * m.Threshold(f, 0, 1000) }
	at.LossDB = 10
	if got, want := quality.AreaLogCSF(m, at, tenth), 2*math.Log10(12); math.Abs(got-want) > 1e-9 {
		t.Errorf("ten times the contrast after a loss of 10 dB: %.6f, want %.6f", got, want)
	}
}

// TestRMSByOrderIsThatOfTheTerms, orthonormal over the pupil.
func TestRMSByOrderIsThatOfTheTerms(t *testing.T) {
	terms := zernike.Terms{RadiusMM: 2}.With(2, 0, 0.3).With(2, 2, 0.4).With(3, -1, 0.12).With(4, 0, -0.05)
	fit, left, err := quality.FitPath(4, terms.PathUM, quality.FitSamples, 6)
	if err != nil {
		t.Fatal(err)
	}
	const rounding = 1e-9
	got := quality.RMSByOrder(fit)
	for n, want := range []float64{0, 0, 0.5, 0.12, 0.05, 0, 0} {
		if math.Abs(got[n]-want) > rounding {
			t.Errorf("order %d: %.9f µm, want %g", n, got[n], want)
		}
	}
	if rest := quality.RMS(left); rest > rounding {
		t.Errorf("rest %.9f µm", rest)
	}
	if _, _, err := quality.FitPath(0, terms.PathUM, quality.FitSamples, 6); err == nil {
		t.Error("a pupil of 0 mm was taken")
	}
}
