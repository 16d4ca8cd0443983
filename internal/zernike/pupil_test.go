package zernike_test

import (
	"math"
	"testing"

	"simview/internal/zernike"
)

// example is a test wavefront over a 6 mm pupil; what becomes of it below was
// worked out outside this project from the formulas of the standard's annex on
// other pupils (ISO 24157) to nine decimals.
func example() zernike.Terms {
	return zernike.Terms{
		C:        []float64{0, 0, 0, .1, .5, -.2, .11, .14, -.05, .03, .02, 0, .13, -.04, 0},
		RadiusMM: 3, WavelengthNM: 555,
	}
}

func wantTerms(t *testing.T, got zernike.Terms, want []float64, tol float64) {
	t.Helper()
	if len(got.C) != len(want) {
		t.Fatalf("got %d coefficients, want %d", len(got.C), len(want))
	}
	for j := range want {
		n, m := zernike.NM(j)
		if math.Abs(got.C[j]-want[j]) > tol {
			t.Errorf("c(%d,%d) = %.10f, want %.10f", n, m, got.C[j], want[j])
		}
	}
}

func TestTheExampleOverASmallerPupil(t *testing.T) {
	got, err := example().Scale(2)
	if err != nil {
		t.Fatal(err)
	}
	wantTerms(t, got, []float64{
		-.463181469, -.146659184, .052378280, .044444444, .097904238, -.050637202,
		.032592593, .041481481, -.014814815, .008888889, .003950617, 0, .025679012, -.007901235, 0,
	}, tolDigits)
}

func TestSphericalAberrationOverHalfThePupil(t *testing.T) {
	got, err := zernike.Terms{RadiusMM: 3}.With(4, 0, 1).Scale(1.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "c00", got.At(0, 0), .838525492, tolDigits)
	near(t, "c20", got.At(2, 0), -.726184377, tolDigits)
	near(t, "c40", got.At(4, 0), .0625, tolDigits)
}

func TestTheExampleInAxesTurnedByThirtyDegrees(t *testing.T) {
	wantTerms(t, example().Rotate(30), []float64{
		0, 0, 0, .223205081, .5, -.013397460, -.03, .146243557, .026698730, .11, -.01, .034641016, .13, -.02, .017320508,
	}, tolDigits)
}

// A 6 mm pupil moved by +0.25 mm over 0.40 µm of spherical aberration or coma:
// the worked example of Arba-Mosquera, Verma and Awwad, Photonics 2020;7:116.
// tolPaper is half of its last printed digit; the nine decimals are the exact
// values, worked out outside this project.
func TestThePublishedExampleOfAMovedPupil(t *testing.T) {
	const tolPaper = 0.005
	sa, err1 := zernike.Terms{RadiusMM: 3}.With(4, 0, 0.4).Translate(0.25, 0, 3)
	coma, err2 := zernike.Terms{RadiusMM: 3}.With(3, 1, 0.4).Translate(0.25, 0, 3)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	near(t, "coma from spherical aberration, paper", sa.At(3, 1), 0.21, tolPaper)
	near(t, "c11", sa.At(1, 1), .155282498, tolDigits)
	near(t, "c20", sa.At(2, 0), .043033148, tolDigits)
	near(t, "c22", sa.At(2, 2), .030429031, tolDigits)
	near(t, "c31", sa.At(3, 1), .210818511, tolDigits)
	near(t, "c40", sa.At(4, 0), .4, tolDigits)
	near(t, "c11 of coma", coma.At(1, 1), .035355339, tolDigits)
	near(t, "c20 of coma", coma.At(2, 0), .163299316, tolDigits)
	near(t, "c22 of coma", coma.At(2, 2), .115470054, tolDigits)
	near(t, "c31 of coma", coma.At(3, 1), .4, tolDigits)
}

func TestAWiderPupilIsRefusedUnlessAskedFor(t *testing.T) {
	if _, err := example().Scale(3.1); err == nil {
		t.Error("Scale to a wider pupil gave no error")
	}
	up, err := example().ScaleUp(4)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "path", up.PathUM(1, -2), example().PathUM(1, -2), 1e-13)
}

func TestCoversTellsWhetherTheNewPupilWasMeasured(t *testing.T) {
	if e := example(); !e.Covers(1, 0, 2) || e.Covers(1, 0.5, 2) {
		t.Error("Covers is wrong about a pupil that touches the edge, or one that crosses it")
	}
}

func TestWavefrontsOverDifferentPupilsAreNotAdded(t *testing.T) {
	a := example()
	b, c := a, a
	b.RadiusMM, c.WavelengthNM = 2, 840
	for _, u := range []zernike.Terms{b, c} {
		if _, err := a.Add(u); err == nil {
			t.Errorf("Add of radius %g mm at %g nm gave no error", u.RadiusMM, u.WavelengthNM)
		}
	}
	twice, err := a.Add(a)
	if err != nil {
		t.Fatal(err)
	}
	back, err := twice.Sub(a)
	if err != nil {
		t.Fatal(err)
	}
	wantTerms(t, back, a.C, 1e-15)
	if back.RadiusMM != 3 || back.WavelengthNM != 555 {
		t.Errorf("the sum is over %g mm at %g nm", back.RadiusMM, back.WavelengthNM)
	}
}

func TestNumbersThatAreNotFiniteAreRefused(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		e := example()
		e.C[4] = bad
		if e.Check() == nil {
			t.Errorf("coefficient %v passed", bad)
		}
		if _, err := example().Translate(bad, 0, 2); err == nil {
			t.Errorf("shift %v passed", bad)
		}
		if _, err := example().Scale(bad); err == nil {
			t.Errorf("radius %v passed", bad)
		}
	}
	if (zernike.Terms{}).Check() == nil {
		t.Error("a wavefront without a pupil passed")
	}
}

// 3-4-12-13: the root mean square by the Pythagorean rule.
func TestTheRMSLeavesPistonOut(t *testing.T) {
	w := zernike.Terms{RadiusMM: 3}.With(0, 0, 7).With(2, 0, 3).With(3, 1, 4).With(4, 0, 12)
	near(t, "RMS", w.RMS(), 13, 1e-14)
	near(t, "RMS of orders 2 to 3", w.RMSOrders(2, 3), 5, 1e-14)
	near(t, "RMS of order 0", w.RMSOrders(0, 0), 0, 0)
	near(t, "RMS of kept orders", w.Keep(3, 9).Times(2).RMS(), 2*math.Hypot(4, 12), 1e-13)
}
