//go:build !race

package acuity_test

import (
	"math"
	"testing"

	"simview/internal/acuity"
	"simview/internal/csf"
	"simview/internal/psf"
)

// TestTheNoiseMakesANormalEyeReadMinusOneTenth holds the one number that was set:
// -0.1 logMAR (healthy young eyes, common practice). The constants have three
// digits; a tenth of a percent of noise is 0.0004 logMAR.
func TestTheNoiseMakesANormalEyeReadMinusOneTenth(t *testing.T) {
	const digits = 0.001
	for _, m := range csf.Models() {
		got := reads(t, observer(t, m, 4, chart), acuity.Of(spread(t, seen{pupilMM: 4})), young())
		t.Logf("%s: %+.4f logMAR", m.Name(), got)
		if math.Abs(got+0.1) > digits {
			t.Errorf("%s: %+.4f logMAR", m.Name(), got)
		}
	}
}

// TestANormalEyeReadsMinusOneTenthThroughOtherPupils: within 0.05, what
// healthy young eyes differ by (common practice).
func TestANormalEyeReadsMinusOneTenthThroughOtherPupils(t *testing.T) {
	for _, d := range []float64{3, 5} {
		got := reads(t, observer(t, nil, d, chart), acuity.Of(spread(t, seen{pupilMM: d})), young())
		t.Logf("%g mm: %+.3f logMAR", d, got)
		if math.Abs(got+0.1) > 0.05 {
			t.Errorf("%g mm: %+.3f logMAR", d, got)
		}
	}
}

// published is the acuity of an eye that is E D short-sighted through a pupil of d
// mm (Smith1996, from memory):
//
//	MAR = √(MAR0² + (0.65 d E)²)
func published(pupilMM, errorD float64) float64 {
	mar0 := math.Pow(10, -0.1)
	return math.Log10(math.Hypot(mar0, 0.65*pupilMM*errorD))
}

// noPupil is the relation that knows no pupil, MAR = MAR0 (1 + E²) (Blendowske2015).
func noPupil(errorD float64) float64 { return -0.1 + math.Log10(1+errorD*errorD) }

// TestAcuityFallsWithDefocusAsPublished lists every point of short sight; 6 mm and
// the relation without a pupil are only reported. At every point 0.2 logMAR, 0.1 on
// average: the spread of measured acuities with blur between studies.
func TestAcuityFallsWithDefocusAsPublished(t *testing.T) {
	pupils, step := []float64{3, 4, 5, 6}, 0.5
	if testing.Short() {
		pupils, step = []float64{3}, 1.5
	}
	sum, n := 0.0, 0.0
	for _, d := range pupils {
		o := observer(t, nil, d, chart)
		before := reads(t, o, acuity.Of(spread(t, seen{pupilMM: d})), young())
		for e := step; e <= 3; e += step {
			got := reads(t, o, acuity.Of(spread(t, seen{pupilMM: d, errorD: -e})), young())
			want := published(d, e)
			t.Logf("%g mm, %.1f D: %+.3f logMAR, published %+.3f (%+.3f), without a pupil %+.3f", d, e, got, want, got-want, noPupil(e))
			if got <= before {
				t.Errorf("%g mm, %.1f D: reads %+.3f, no worse than with less blur (%+.3f)", d, e, got, before)
			}
			before = got
			if d > 5 {
				continue
			}
			if math.Abs(got-want) > 0.2 {
				t.Errorf("%g mm, %.1f D: %+.3f logMAR, published %+.3f", d, e, got, want)
			}
			sum, n = sum+math.Abs(got-want), n+1
		}
	}
	t.Logf("on average %.3f apart", sum/n)
	if sum/n > 0.1 && !testing.Short() {
		t.Errorf("on average %.3f logMAR apart", sum/n)
	}
}

// TestLongSightBlursMoreThanShortSight is what the usual spherical aberration does;
// the published relation does not tell them apart. Reported, with the order held.
func TestLongSightBlursMoreThanShortSight(t *testing.T) {
	o := observer(t, nil, 5, chart)
	short := reads(t, o, acuity.Of(spread(t, seen{pupilMM: 5, errorD: -1.5})), young())
	long := reads(t, o, acuity.Of(spread(t, seen{pupilMM: 5, errorD: 1.5})), young())
	t.Logf("1.5 D at 5 mm: short %+.3f, long %+.3f, published %+.3f", short, long, published(5, 1.5))
	if !(long > short) {
		t.Errorf("long %+.3f is not worse than short %+.3f", long, short)
	}
}

// TestLessOfAnythingReadsWorse: light, contrast, sensitivity of the nerve, light in
// the core.
func TestLessOfAnythingReadsWorse(t *testing.T) {
	eye := acuity.Of(spread(t, seen{pupilMM: 4}))
	worse := func(name string, values ...float64) {
		t.Logf("%s: %.3f", name, values)
		for k := 1; k < len(values); k++ {
			if !(values[k] > values[k-1]) {
				t.Errorf("%s: %.3f", name, values)
			}
		}
	}
	full := observer(t, nil, 4, chart)
	read := func(o *acuity.Observer, task acuity.Task) float64 { return reads(t, o, eye, task) }
	worse("100, 10, 1, 0.1 cd/m²", read(full, young()), read(observer(t, nil, 4, 10), young()), read(observer(t, nil, 4, 1), young()), read(observer(t, nil, 4, 0.1), young()))
	worse("contrast 1, 0.25, 0.1", read(full, acuity.Task{}), read(full, acuity.Task{Contrast: 0.25}), read(full, acuity.Task{Contrast: 0.1}))
	worse("field loss 0, 3, 6, 10 dB", read(full, acuity.Task{}), read(full, acuity.Task{LossDB: 3}), read(full, acuity.Task{LossDB: 6}), read(full, acuity.Task{LossDB: 10}))
	worse("scatter 0, 0.3, 0.6", read(full, acuity.Task{}), read(full, acuity.Task{Scattered: 0.3}), read(full, acuity.Task{Scattered: 0.6}))
}

// TestALossOfTenDecibelsIsATenthOfTheContrast: by definition at and above 0.75
// cycles per degree, where all of a letter of 0.4 logMAR lies.
func TestALossOfTenDecibelsIsATenthOfTheContrast(t *testing.T) {
	o, eye := observer(t, nil, 4, chart), acuity.Of(spread(t, seen{pupilMM: 4}))
	loss, dim := reads(t, o, eye, acuity.Task{LossDB: 10}), reads(t, o, eye, acuity.Task{Contrast: 0.1})
	const rounding = 1e-9 // of the same numbers multiplied in another order
	if math.Abs(loss-dim) > rounding {
		t.Errorf("10 dB %.6f, contrast 0.1 %.6f", loss, dim)
	}
}

// TestAVeryBadAndAVeryGoodEyeSaySo: outside the sizes that were tried.
func TestAVeryBadAndAVeryGoodEyeSaySo(t *testing.T) {
	o := observer(t, nil, 4, chart)
	blind := acuity.TransferFunc(func(_, _ float64) complex128 { return 0 })
	if r, err := o.LogMAR(blind, acuity.Task{}); err != nil || !r.Beyond || r.LogMAR != 2 {
		t.Errorf("nothing passes: %+v, %v", r, err)
	}
	super := acuity.TransferFunc(func(fx, fy float64) complex128 { return 1e6 * acuity.MeanEye(4).At(fx, fy) })
	if r, err := o.LogMAR(super, acuity.Task{}); err != nil || !r.Beyond || r.LogMAR != -0.6 {
		t.Errorf("more than passes: %+v, %v", r, err)
	}
	p, err := o.Right(blind, 0, acuity.Task{})
	// ten letters, one right by guessing; standard error of 20,000 answers 0.002
	if err != nil || math.Abs(p-0.1) > 0.008 {
		t.Errorf("guesses %.3f right, %v", p, err)
	}
}

// TestALightOrTaskThatMakesNoSenseIsRefused.
func TestALightOrTaskThatMakesNoSenseIsRefused(t *testing.T) {
	for _, td := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := acuity.New(nil, td, nil); err == nil {
			t.Errorf("%g trolands were taken", td)
		}
	}
	if _, err := acuity.New(other{}, 1000, nil); err == nil {
		t.Error("a model without a noise was taken")
	}
	o := observer(t, nil, 4, chart)
	for _, task := range []acuity.Task{{Contrast: 2}, {Contrast: -1}, {Scattered: 1}, {LossDB: -3}, {LossDB: math.NaN()}, {Contrast: math.NaN()}} {
		if _, err := o.LogMAR(acuity.MeanEye(4), task); err == nil {
			t.Errorf("%+v was taken", task)
		}
	}
}

type other struct{ csf.WatsonAhumada }

// TestLightBesideALensTakesContrastOnly: the transfer of the rest times its share.
func TestLightBesideALensTakesContrastOnly(t *testing.T) {
	p, err := psf.Compute(psf.Aperture{
		DiameterMM: 4,
		InsideMM:   func(x, _ float64) float64 { return x + 1 },
		BesideUM:   func(x, y float64) float64 { return 7 * (x*x + y*y) },
	}, psf.Monochrome(555), psf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	const f, rounding = 10, 1e-12
	got, want := acuity.Of(p).At(f, 0), complex(1-p.Beside.Share, 0)*p.ThroughOTF().At(f, 0)
	if math.Abs(real(got-want))+math.Abs(imag(got-want)) > rounding || !(p.Beside.Share > 0.1) {
		t.Errorf("share %.3f: %g, want %g", p.Beside.Share, got, want)
	}
}

// TestTheStandardErrorIsThatOfCountedAnswers: of one size alone the standard error
// is √(P (1 - P)/n) over the slope of P (delta method, any textbook of statistics),
// n = 2000 draws of ten letters. Four sizes know at least what that one does and at
// most four times as much, so that the error lies between half of it and all.
func TestTheStandardErrorIsThatOfCountedAnswers(t *testing.T) {
	const answers = 2000 * 10
	o, eye := observer(t, nil, 3, chart), acuity.Of(spread(t, seen{pupilMM: 3, errorD: 1}))
	r, err := o.LogMAR(eye, young())
	if err != nil {
		t.Fatal(err)
	}
	share := func(logMAR float64) float64 {
		p, err := o.Right(eye, logMAR, young())
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	slope := (share(r.LogMAR+0.05) - share(r.LogMAR-0.05)) / 0.1
	one := math.Sqrt(acuity.PassMark*(1-acuity.PassMark)/answers) / slope
	if !(r.SE > one/2 && r.SE < one) {
		t.Errorf("standard error %.5f logMAR, of one size %.5f", r.SE, one)
	}
}
