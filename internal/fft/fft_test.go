package fft

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"sync"
	"testing"
)

// Rounding: a complex64 carries 2^-24 relative to the largest element; the sums
// of n unit-size samples stay below sqrt(n) of a few, so this leaves a factor 10.
const singleTol = 1e-6

// doubleTol is 2^-53 times some hundred operations.
const doubleTol = 1e-12

var sizes = [][2]int{{1, 1}, {1, 5}, {2, 2}, {3, 2}, {4, 7}, {5, 5}, {8, 6}, {9, 16}, {15, 10}, {17, 19}, {31, 4}, {40, 33}}

func noise(w, h int) []float32 {
	r := rand.New(rand.NewPCG(uint64(w), uint64(h)))
	x := make([]float32, w*h)
	for i := range x {
		x[i] = float32(r.NormFloat64())
	}
	return x
}

// direct is the definition, one element.
func direct(x []complex128, w, h, k, l int) complex128 {
	sum := complex128(0)
	for j := range h {
		for i := range w {
			turn := float64(k*i)/float64(w) + float64(l*j)/float64(h)
			sum += x[j*w+i] * cmplx.Rect(1, -2*math.Pi*turn)
		}
	}
	return sum
}

func widen(x []float32) []complex128 {
	out := make([]complex128, len(x))
	for i, v := range x {
		out[i] = complex(float64(v), 0)
	}
	return out
}

func TestRealForwardIsTheDefinition(t *testing.T) { onEachPath(t, realIsTheDefinition) }

func realIsTheDefinition(t *testing.T, v *vectors) {
	for _, s := range sizes {
		w, h := s[0], s[1]
		p := mustReal(w, h, v)
		x := noise(w, h)
		got := p.Forward(nil, x)
		tol := singleTol * math.Sqrt(float64(w*h)) * 4
		for l := range h {
			for k := range p.HalfWidth() {
				want := direct(widen(x), w, h, k, l)
				if d := cmplx.Abs(complex128(got[l*p.HalfWidth()+k]) - want); d > tol {
					t.Errorf("%d x %d, (%d, %d): off by %g", w, h, k, l, d)
				}
			}
		}
	}
}

func TestRealInverseUndoesForward(t *testing.T) { onEachPath(t, realInverseUndoesForward) }

func realInverseUndoesForward(t *testing.T, v *vectors) {
	for _, s := range append(sizes, [2]int{180, 135}, [2]int{97, 240}) {
		p := mustReal(s[0], s[1], v)
		x := noise(s[0], s[1])
		spectrum := p.Forward(nil, x)
		kept := append([]complex64(nil), spectrum...)
		back := p.Inverse(make([]float32, len(x)), spectrum)
		for i, v := range back {
			if math.Abs(float64(v-x[i])) > 10*singleTol {
				t.Fatalf("%v: element %d: got %g, want %g", s, i, v, x[i])
			}
		}
		for i := range kept {
			if kept[i] != spectrum[i] {
				t.Fatalf("%v: Inverse changed the spectrum it was given", s)
			}
		}
	}
}

func complexNoise(w, h int) []complex128 {
	a, b := noise(w, h), noise(h, w)
	x := make([]complex128, w*h)
	for i := range x {
		x[i] = complex(float64(a[i]), float64(b[i]))
	}
	return x
}

func TestComplexForwardIsTheDefinition(t *testing.T) { onEachPath(t, complexIsTheDefinition) }

func complexIsTheDefinition(t *testing.T, v *vectors) {
	for _, s := range sizes {
		w, h := s[0], s[1]
		p := mustComplex(w, h, v)
		x := complexNoise(w, h)
		got := append([]complex128(nil), x...)
		p.Forward(got)
		for i, v := range got {
			if d := cmplx.Abs(v - direct(x, w, h, i%w, i/w)); d > doubleTol*float64(w*h) {
				t.Errorf("%v, element %d: off by %g", s, i, d)
			}
		}
	}
}

// Rows known to be zero may be left out: both ways give the full transform.
func TestSkippedRowsChangeNothing(t *testing.T) { onEachPath(t, skippedRowsChangeNothing) }

func skippedRowsChangeNothing(t *testing.T, v *vectors) {
	const w, h, lo, hi = 12, 20, 3, 9
	p := mustComplex(w, h, v)
	x := complexNoise(w, h)
	clear(x[:lo*w])
	clear(x[hi*w:])
	whole := append([]complex128(nil), x...)
	p.Forward(whole)
	some := append([]complex128(nil), x...)
	p.ForwardRows(some, lo, hi)
	columns := make([]complex128, w*h)
	p.ForwardColumns(append([]complex128(nil), x[:hi*w]...), func(k int, col []complex128) {
		for l, v := range col {
			columns[l*w+k] = v
		}
	})
	for i := range whole {
		if cmplx.Abs(some[i]-whole[i]) > doubleTol || cmplx.Abs(columns[i]-whole[i]) > doubleTol {
			t.Fatalf("element %d: %v and %v, want %v", i, some[i], columns[i], whole[i])
		}
	}
}

func TestOnePlanServesManyGoroutines(t *testing.T) { onEachPath(t, onePlanServesMany) }

func onePlanServesMany(t *testing.T, v *vectors) {
	p := mustReal(60, 48, v)
	x := noise(60, 48)
	want := p.Forward(nil, x)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for i, v := range p.Forward(nil, x) {
				if v != want[i] {
					t.Errorf("element %d: %v, alone %v", i, v, want[i])
					return
				}
			}
		})
	}
	wg.Wait()
}

func TestGoodSizeIsTheNextEvenSmoothNumber(t *testing.T) {
	for n := -3; n <= 3000; n++ {
		got := GoodSize(n)
		for m := max(n, 2); m < got; m++ {
			if m%2 == 0 && smooth(m) {
				t.Fatalf("GoodSize(%d) = %d, but %d would do", n, got, m)
			}
		}
		if got < n || got%2 != 0 || !smooth(got) {
			t.Fatalf("GoodSize(%d) = %d", n, got)
		}
	}
	// From the list of 5-smooth numbers, OEIS A051037.
	for n, want := range map[int]int{241: 250, 1025: 1080, 2049: 2160, 1000: 1000, 7: 8} {
		if got := GoodSize(n); got != want {
			t.Errorf("GoodSize(%d) = %d, want %d", n, got, want)
		}
	}
}
