package fft

import (
	"math"
	"math/bits"
	"math/cmplx"
)

// step is one pass of the transform. It turns pieces of n = radix m elements,
// stride of them interleaved, into pieces of m: with r the radix, s the stride
// and j, k = 0 .. r-1,
//
//	y[q + s (r p + k)] = exp(-2 pi i p k / n) sum over j of exp(-2 pi i j k / r) x[q + s (p + m j)]
//
// for p < m, q < s. The next pass has stride s r; after the last one the
// elements are in order without a reordering pass (Stockham's form).
type step struct {
	radix, m, stride int
	turns            []complex128 // exp(-2 pi i p k / n), [p][k-1] for k >= 1
}

// plainKernels do one p of a step: y starts at element s r p, x at s p.
var plainKernels = map[int]func(y, x []cell, s, m int, w []complex128){
	2: two, 3: three, 4: four, 5: five,
}

// newSteps splits n = 2^a 3^b 5^c into passes, radix 5, 3 and 2 before 4 and that
// before 8, if the largest may be that; n = 1 needs none.
func newSteps(n, largest int) []step {
	var steps []step
	stride := 1
	for n > 1 {
		r := nextRadix(n, largest)
		steps = append(steps, newStep(r, n/r, stride))
		n, stride = n/r, stride*r
	}
	return steps
}

// nextRadix leaves the largest for last: the last pass turns nothing.
func nextRadix(n, largest int) int {
	for _, r := range [...]int{5, 3} {
		if n%r == 0 {
			return r
		}
	}
	twos := bits.TrailingZeros(uint(n))
	switch {
	case largest == 8 && twos%3 == 0:
		return 8
	case twos == 1 || largest == 4 && twos%2 == 1:
		return 2
	default:
		return 4
	}
}

// newStep tabulates the turns of the pass from n = r m to m.
func newStep(r, m, stride int) step {
	turns := make([]complex128, 0, m*(r-1))
	for p := range m {
		for k := 1; k < r; k++ {
			turns = append(turns, cmplx.Rect(1, -2*math.Pi*float64(p*k)/float64(r*m)))
		}
	}
	return step{r, m, stride, turns}
}

// run does one pass from src to dst, which must not overlap.
func (t *step) run(dst, src []cell) {
	kernel := plainKernels[t.radix]
	for p := range t.m {
		w := t.turns[p*(t.radix-1) : (p+1)*(t.radix-1)]
		y, x := dst[t.stride*t.radix*p:], src[t.stride*p:]
		if p == 0 && t.radix == 4 {
			fourUnturned(y, x, t.stride, t.m)
			continue
		}
		kernel(y, x, t.stride, t.m, w)
	}
}
