package render

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"simview/internal/fft"
	"simview/internal/light"
)

// foldTol is the rounding of single precision over two transforms of values
// about 1: eps 6e-8 times the root of some thousand samples.
const foldTol = 1e-5

func TestFoldingASpectrumIsAveragingThePicture(t *testing.T) {
	for _, c := range []struct{ w, h, over int }{{8, 8, 2}, {12, 20, 2}, {30, 18, 2}, {24, 36, 3}, {16, 12, 1}, {40, 24, 4}} {
		t.Run(fmt.Sprint(c), func(t *testing.T) { foldAndAverage(t, c.w, c.h, c.over) })
	}
}

func foldAndAverage(t *testing.T, w, h, over int) {
	rnd := rand.New(rand.NewPCG(1, uint64(w)))
	m := light.NewImage(light.GridAround(0, 0, w, h, 1))
	for i := range m.G {
		m.G[i] = rnd.Float32()
	}
	kernel := make([]float32, w*h)
	for i := range kernel {
		kernel[i] = rnd.Float32() / float32(w*h)
	}
	fine, coarse := plan(t, w, h), plan(t, w/over, h/over)
	src, otf := fine.Forward(nil, m.G), fine.Forward(nil, kernel)
	product := make([]complex64, len(src))
	for i := range src {
		product[i] = src[i] * otf[i]
	}
	full := &light.Image{Grid: m.Grid, R: m.R, G: fine.Inverse(nil, product), B: m.B}
	want, err := full.Average(over)
	if err != nil {
		t.Fatal(err)
	}
	folded := make([]complex64, h/over*(w/over/2+1))
	st := &Stage{over: over, fine: m.Grid}
	st.fold(folded, src, st.weights(otf))
	for i, v := range coarse.Inverse(nil, folded) {
		if math.Abs(float64(v-want.G[i])) > foldTol {
			t.Fatalf("sample %d: folded %.7f, averaged %.7f", i, v, want.G[i])
		}
	}
}

func plan(t *testing.T, w, h int) *fft.Real2D {
	p, err := fft.NewReal2D(w, h)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
