package render

import (
	"math"
	"testing"

	"simview/internal/light"
)

// upright is a grating of upright bars about a mean of 100 cd/m².
func upright(cpd, contrast float64) *light.Image {
	m := light.NewImage(light.GridAround(0, 0, 240, 120, 1.0/60))
	for q := range m.R {
		x, _ := m.Centre(q%m.W, q/m.W)
		v := float32(100 * (1 + contrast*math.Cos(2*math.Pi*cpd*x)))
		m.R[q], m.G[q], m.B[q] = v, v, v
	}
	return m
}

func contrastAt(m *light.Image, cpd float64) float64 {
	var re, im float64
	n := 0.0
	j := m.H / 2
	for i := 60; i < 180; i++ { // whole periods, off the edges
		x, _ := m.Centre(i, j)
		sin, cos := math.Sincos(2 * math.Pi * cpd * x)
		re, im, n = re+cos*float64(m.R[j*m.W+i]), im+sin*float64(m.R[j*m.W+i]), n+1
	}
	return 2 * math.Hypot(re, im) / n / 100
}

func together(t *testing.T, a, b *light.Image) *light.Image {
	t.Helper()
	m, err := Together(a, b, 100)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Weighted by contrast energy, gratings of contrast c1 and c2 in phase give
// (c1³ + c2³) / (c1² + c2²), whatever their frequency; with one of them 0 the
// other is left whole (the closed form of weights c², worked out by hand). What
// is coarser than the widest band is the plain mean: at 2 cycles per degree less
// than 1e-4 of a grating. 1 % is for the edges of the
// picture and the compression, which changes contrasts under 0.1 by a share of about
// c²/100.
func TestTheEyeWithMoreContrastLeadsAndEqualEyesStay(t *testing.T) {
	for _, cpd := range []float64{2, 4, 8} {
		for _, c := range [][2]float64{{0.1, 0.1}, {0.1, 0.05}, {0.03, 0.1}, {0.06, 0}} {
			m := together(t, upright(cpd, c[0]), upright(cpd, c[1]))
			want := (math.Pow(c[0], 3) + math.Pow(c[1], 3)) / (c[0]*c[0] + c[1]*c[1])
			if got := contrastAt(m, cpd); math.Abs(got-want) > 0.01*want {
				t.Errorf("%g cycles per degree, contrasts %v: %.4f, want %.4f", cpd, c, got, want)
			}
		}
	}
}

func TestNeitherEyeComesFirstAndNothingIsAdded(t *testing.T) {
	a, b := upright(3, 0.5), upright(7, 0.2)
	b.R[5000], b.G[5000], b.B[5000] = 1e4, 1e4, 1e4 // a lamp that one eye sees
	ab, ba := together(t, a, b), together(t, b, a)
	for q := range ab.R {
		if d := math.Abs(float64(ab.R[q] - ba.R[q])); d > 1e-4*float64(ab.R[q])+1e-3 {
			t.Fatalf("sample %d: %g in one order, %g in the other", q, ab.R[q], ba.R[q])
		}
		if low, high := min(a.R[q], b.R[q]), max(a.R[q], b.R[q]); ab.R[q] < low || ab.R[q] > high {
			t.Fatalf("sample %d: %g, in neither eye (%g, %g)", q, ab.R[q], a.R[q], b.R[q])
		}
	}
}

func TestTwoEyesNeedOneGrid(t *testing.T) {
	other := light.NewImage(light.GridAround(0, 0, 240, 120, 0.5/60))
	if _, err := Together(upright(3, 0.5), other, 100); err == nil {
		t.Error("pictures on two grids were laid together")
	}
	if _, err := Together(upright(3, 0.5), upright(3, 0.5), math.NaN()); err == nil {
		t.Error("an adaptation that is no number was taken")
	}
}
