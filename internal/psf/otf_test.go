package psf

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"sync"
	"testing"
)

// otfTol is ten times stricter than pictures need: six taps on a raster 1.5 times
// finer promise 2e-5 along each axis, and scaling to keep the mean doubles it.
const otfTol = 1e-4

// lopsided is a spread without symmetry, blurred over a tenth of its support;
// worked out once, only read.
func lopsided(t testing.TB) *PSF {
	t.Helper()
	p, err := lopsidedOnce()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var lopsidedOnce = sync.OnceValues(func() (*PSF, error) {
	half := func(x, y float64) float64 {
		if x+2*y > .8 {
			return .2
		}
		return 1
	}
	path := both(coma(.4, 2), both(cylinder(.75, -2, 20), func(x, y float64) float64 { return x }))
	return Compute(Aperture{DiameterMM: 4, PathUM: path, Amplitude: half}, Monochrome(555), Options{})
})

// direct sums the definition, patient's axes.
func direct(p *PSF, fx, fy float64) complex128 {
	sum := complex128(0)
	for j := range p.N {
		row, y := complex128(0), float64(p.N/2-j)*p.StepDeg
		turn := cmplx.Rect(1, -2*math.Pi*fx*p.StepDeg)
		now := cmplx.Rect(1, 2*math.Pi*fx*p.StepDeg*float64(p.N/2))
		for _, v := range p.Pix[j*p.N : (j+1)*p.N] {
			row += complex(float64(v), 0) * now
			now *= turn
		}
		sum += row * cmplx.Rect(1, -2*math.Pi*fy*y)
	}
	return sum
}

func TestInterpolatedOTFIsTheSumOverTheSpread(t *testing.T) {
	p := lopsided(t)
	o, r := p.OTF(), rand.New(rand.NewPCG(1, 2))
	for range 40 {
		fx, fy := 60*(2*r.Float64()-1), 60*(2*r.Float64()-1)
		if r.IntN(3) == 0 {
			fx, fy = fx/30, fy/30
		}
		if d := cmplx.Abs(o.At(fx, fy) - direct(p, fx, fy)); d > otfTol {
			t.Errorf("(%g, %g): off by %g", fx, fy, d)
		}
	}
	near(t, "value at 0", real(o.At(0, 0)), 1, 1e-6)
}

func TestOTFOnAnImagesSpectrumIsTheSumOverTheSpread(t *testing.T) {
	p := lopsided(t)
	r := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		w, h int
		step float64
	}{{64, 48, 1. / 60}, {75, 125, .25 / 60}, {500, 3, .1 / 60}, {1, 1, 1}, {40, 30, .05 / 60}} {
		got, half := p.OTF().OnGrid(c.w, c.h, c.step), c.w/2+1
		for range 25 {
			k, l := r.IntN(half), r.IntN(c.h)
			down := l
			if l > c.h/2 {
				down = l - c.h
			}
			fx, fy := float64(k)/(float64(c.w)*c.step), -float64(down)/(float64(c.h)*c.step)
			want := complex128(0)
			if max(fx, math.Abs(fy)) <= 1/(2*p.StepDeg) {
				want = direct(p, fx, fy)
			}
			if d := cmplx.Abs(complex128(got[l*half+k]) - want); d > otfTol {
				t.Errorf("%v, column %d, row %d: off by %g", c, k, l, d)
			}
		}
	}
}

// The transfer function of a real spread is mirrored and conjugate.
func TestOTFIsHermitian(t *testing.T) {
	o := lopsided(t).OTF()
	for _, f := range [][2]float64{{3, 4}, {.01, 7}, {20, -1}, {0, 5}} {
		if d := cmplx.Abs(o.At(f[0], f[1]) - cmplx.Conj(o.At(-f[0], -f[1]))); d > 1e-6 {
			t.Errorf("%v: off by %g", f, d)
		}
	}
}

func TestOnGridPanicsWithoutASize(t *testing.T) {
	o := compute(t, Diffracted(3), Monochrome(555), Options{}).OTF()
	defer func() {
		if recover() == nil {
			t.Error("a step of 0 was taken")
		}
	}()
	o.OnGrid(4, 4, 0)
}
