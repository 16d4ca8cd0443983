package fft

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// Both ways work in float64 and round to single precision twice, so they differ
// only where a value lies within some 2^-50 of the middle between two neighbours.
// That is rare but for plain sums of a few single numbers, in columns 0 and w/2,
// that end just there. They differ by one place, 2^-23 of an element, which may
// be 5 times the typical one; a second transform spreads that, thinner.
const elementTol = 5.0 / (1 << 23)

// rmsTol is for the root of the mean square of the differences over that of the
// spectrum: one rounding of every element.
const rmsTol = 1.0 / (1 << 24)

// distance returns the largest difference and the root of the mean square,
// both relative to the root of the mean square of b.
func distance(a, b []complex64) (largest, rms float64) {
	var sum, power float64
	for i := range a {
		d, v := complex128(a[i])-complex128(b[i]), complex128(b[i])
		largest = max(largest, cmplx.Abs(d))
		sum += real(d)*real(d) + imag(d)*imag(d)
		power += real(v)*real(v) + imag(v)*imag(v)
	}
	scale := math.Sqrt(power / float64(len(a)))
	return largest / scale, math.Sqrt(sum / power)
}

// equalReal compares a forward and an inverse transform with those by gonum.
func equalReal(t *testing.T, w, h int) {
	t.Helper()
	x := noise(w, h)
	fast, plain := mustReal(w, h), newGonum(w, h)
	got, want := fast.Forward(nil, x), make([]complex64, h*(w/2+1))
	plain.forward(want, x)
	if largest, rms := distance(got, want); largest > elementTol || rms > rmsTol {
		t.Errorf("%d x %d forward: off by %.2g at most, %.2g rms", w, h, largest, rms)
	}
	back, wantBack := fast.Inverse(nil, want), make([]float32, w*h)
	plain.inverse(wantBack, want)
	for i, v := range back {
		if math.Abs(float64(v-wantBack[i])) > elementTol {
			t.Errorf("%d x %d inverse, element %d: %g, want %g", w, h, i, v, wantBack[i])
			return
		}
	}
}

func mustReal(w, h int) *Real2D {
	p, err := NewReal2D(w, h)
	if err != nil {
		panic(err)
	}
	return p
}

// equalComplex does the same in double precision: 53 bits, some ten passes, elements up to 5 times the typical.
func equalComplex(t *testing.T, w, h int) {
	t.Helper()
	p, err := NewComplex2D(w, h)
	if err != nil {
		t.Fatal(err)
	}
	got := complexNoise(w, h)
	want := append([]complex128(nil), got...)
	p.Forward(got)
	newGonum(w, h).complexForward(want)
	tol := 100 * 0x1p-53 * math.Sqrt(float64(2*w*h))
	for i, v := range got {
		if d := cmplx.Abs(v - want[i]); d > tol {
			t.Errorf("%d x %d, element %d: off by %g", w, h, i, d)
			return
		}
	}
}

func TestEveryFastLengthTo256GivesWhatGonumGives(t *testing.T) {
	for n := 1; n <= 256; n++ {
		if smooth(n) {
			equalReal(t, n, 19)
			equalReal(t, 7, n)
			equalComplex(t, n, 5)
			equalComplex(t, 11, n)
		}
	}
}

func TestLargeImagesGiveWhatGonumGives(t *testing.T) {
	sizes := [][2]int{{1500, 2000}, {2160, 1680}, {1024, 1024}}
	smoothSizes := []int{}
	for n := 257; n <= 2500; n++ {
		if smooth(n) {
			smoothSizes = append(smoothSizes, n)
		}
	}
	r := rand.New(rand.NewPCG(4, 2))
	for range 3 {
		sizes = append(sizes, [2]int{smoothSizes[r.IntN(len(smoothSizes))], smoothSizes[r.IntN(len(smoothSizes))]})
	}
	for _, s := range sizes {
		equalReal(t, s[0], s[1])
	}
	equalComplex(t, 1500, 640)
	equalComplex(t, 1024, 729)
}

// A night scene: two lamps of 1e5 among ones. What comes back is off by no more
// than with gonum, give or take the tenth that chance makes of it.
func TestABrightLampCostsNoMoreThanWithGonum(t *testing.T) {
	const w, h, byChance = 480, 360, 1.1
	x := noise(w, h)
	for i := range x {
		x[i] = 1 + x[i]*x[i]
	}
	x[100*w+77], x[101*w+300] = 1e5, 1e5
	fast, plain := mustReal(w, h), newGonum(w, h)
	f, back := make([]complex64, h*(w/2+1)), make([]float32, w*h)
	plain.forward(f, x)
	plain.inverse(back, f)
	limit := rmsError(back, x) * byChance
	if got := rmsError(fast.Inverse(nil, fast.Forward(nil, x)), x); got > limit {
		t.Errorf("off by %g rms, gonum by %g", got, limit/byChance)
	}
}

func rmsError(got, want []float32) float64 {
	sum := 0.0
	for i := range got {
		d := float64(got[i]) - float64(want[i])
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(got)))
}

// The passes of a length multiply to it, and each is a fourth where it can be.
func TestThePassesMultiplyToTheLength(t *testing.T) {
	for n, want := range map[int]int{1: 0, 2: 1, 8: 2, 1024: 5, 2160: 6, 1500: 5} {
		steps, product := newSteps(n), 1
		for _, s := range steps {
			product *= s.radix
		}
		if product != n || len(steps) != want {
			t.Errorf("%d: %d passes to %d, want %d", n, len(steps), product, want)
		}
	}
}

// Each part of the plan is length-checked.
func TestWrongLengthsPanic(t *testing.T) {
	p := mustReal(8, 6)
	c, _ := NewComplex2D(8, 6)
	for name, call := range map[string]func(){
		"image":    func() { p.Forward(nil, make([]float32, 47)) },
		"spectrum": func() { p.Inverse(nil, make([]complex64, 31)) },
		"dst":      func() { p.Forward(make([]complex64, 31), make([]float32, 48)) },
		"complex":  func() { c.Forward(make([]complex128, 49)) },
		"columns":  func() { c.ForwardColumns(make([]complex128, 12), nil) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: a wrong length was taken", name)
				}
			}()
			call()
		}()
	}
}

// What no real image can have is left out: the imaginary parts of columns 0
// and w/2 after the columns are back.
func TestTheImaginaryPartOfTheMeanIsLeftOut(t *testing.T) {
	p := mustReal(6, 4)
	f := p.Forward(nil, noise(6, 4))
	want := p.Inverse(nil, f)
	f[0] += 3i
	f[3] += 2i
	for i, v := range p.Inverse(nil, f) {
		if math.Abs(float64(v-want[i])) > 10*singleTol {
			t.Errorf("element %d: %g, want %g", i, v, want[i])
		}
	}
}
