package fft

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"
)

// Plain lines work in float64 and round to single precision twice, as gonum's
// do here, so the two differ only where a value lies within some 2^-50 of the
// middle between two neighbours. That is rare but for plain sums of a few single
// numbers, in columns 0 and w/2, that end just there. They differ by one place,
// 2^-23 of an element, which may be 5 times the typical one; a second transform
// spreads that, thinner. In the root of the mean square it is one rounding.
//
// Assembly works in single precision: an element goes through log2(w h) levels,
// each with a sum and a turn that round by at most 2^-24 of it, independently;
// two rows in one, scale and storing count as three levels more.
const (
	largestOverRms = 6 // of some million elements of noise
	elementTol     = 5.0 / (1 << 23)
	rmsTol         = 1.0 / (1 << 24)
)

// tolerance returns what a transform may be off by, at most and rms, relative
// to the root of the mean square of its elements.
func tolerance(v *vectors, w, h int) (largest, rms float64) {
	if v == nil {
		return elementTol, rmsTol
	}
	rms = rmsTol * math.Sqrt(2*(3+math.Log2(float64(w*h))))
	return largestOverRms * rms, rms
}

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
func equalReal(t *testing.T, v *vectors, w, h int) {
	t.Helper()
	x := noise(w, h)
	fast, plain := mustReal(w, h, v), newGonum(w, h)
	mostTol, tol := tolerance(v, w, h)
	got, want := fast.Forward(nil, x), make([]complex64, h*(w/2+1))
	plain.forward(want, x)
	if largest, rms := distance(got, want); largest > mostTol || rms > tol {
		t.Errorf("%d x %d forward: off by %.2g at most, %.2g rms", w, h, largest, rms)
	}
	back, wantBack := fast.Inverse(nil, want), make([]float32, w*h)
	plain.inverse(wantBack, want)
	for i, v := range back {
		if !(math.Abs(float64(v-wantBack[i])) <= mostTol) {
			t.Errorf("%d x %d inverse, element %d: %g, want %g", w, h, i, v, wantBack[i])
			return
		}
	}
}

func mustReal(w, h int, v *vectors) *Real2D {
	p, err := newReal2D(w, h, v)
	if err != nil {
		panic(err)
	}
	return p
}

func mustComplex(w, h int, v *vectors) *Complex2D {
	p, err := newComplex2D[complex128](w, h, v)
	if err != nil {
		panic(err)
	}
	return p
}

// equalComplex does the same in double precision: 53 bits, some ten passes, elements up to 5 times the typical.
func equalComplex(t *testing.T, v *vectors, w, h int) {
	t.Helper()
	got := complexNoise(w, h)
	want := append([]complex128(nil), got...)
	mustComplex(w, h, v).Forward(got)
	newGonum(w, h).complexForward(want)
	tol := 100 * 0x1p-53 * math.Sqrt(float64(2*w*h))
	for i, v := range got {
		if d := cmplx.Abs(v - want[i]); !(d <= tol) {
			t.Errorf("%d x %d, element %d: off by %g", w, h, i, d)
			return
		}
	}
}

// equalSingle compares a single-precision complex transform with gonum's, and
// the columns that are handed out with the transform.
func equalSingle(t *testing.T, v *vectors, w, h int) {
	t.Helper()
	z := complexNoise(w, h)
	x := make([]complex64, len(z))
	for i := range z {
		x[i] = complex64(z[i])
		z[i] = complex128(x[i])
	}
	p, err := newComplex2D[complex64](w, h, v)
	if err != nil {
		t.Fatal(err)
	}
	columns := make([]complex64, len(x))
	p.ForwardColumns(slices.Clone(x), func(k int, col []complex64) {
		for l, v := range col {
			columns[l*w+k] = v
		}
	})
	p.Forward(x)
	newGonum(w, h).complexForward(z)
	want := make([]complex64, len(z))
	for i := range z {
		want[i] = complex64(z[i])
	}
	mostTol, tol := tolerance(v, w, h)
	if largest, rms := distance(x, want); !(largest <= mostTol && rms <= tol) {
		t.Errorf("%d x %d single complex: off by %.2g at most, %.2g rms", w, h, largest, rms)
	}
	if !slices.Equal(x, columns) {
		t.Errorf("%d x %d: the columns handed out are others", w, h)
	}
}

// Every length to 512 that is worked by passes, along rows and along columns.
func TestEveryFastLengthGivesWhatGonumGives(t *testing.T) {
	onEachPath(t, func(t *testing.T, v *vectors) {
		for n := 1; n <= 512; n++ {
			if smooth(n) && !(testing.Short() && (n%4 != 0 || n > 100)) {
				equalReal(t, v, n, 19)
				equalReal(t, v, 7, n)
				equalComplex(t, v, n, 5)
				equalComplex(t, v, 11, n)
				equalSingle(t, v, n, 3)
				equalSingle(t, v, 18, n)
			}
		}
	})
}

func TestLargeImagesGiveWhatGonumGives(t *testing.T) {
	sizes := [][2]int{{1500, 800}, {2160, 480}, {1024, 1024}}
	smoothSizes := []int{}
	for n := 257; n <= 1620; n++ {
		if smooth(n) {
			smoothSizes = append(smoothSizes, n)
		}
	}
	if testing.Short() {
		sizes, smoothSizes = nil, smoothSizes[:10]
	}
	r := rand.New(rand.NewPCG(4, 2))
	for range 3 {
		sizes = append(sizes, [2]int{smoothSizes[r.IntN(len(smoothSizes))], smoothSizes[r.IntN(len(smoothSizes))]})
	}
	onEachPath(t, func(t *testing.T, v *vectors) {
		for _, s := range sizes {
			equalReal(t, v, s[0], s[1])
		}
		equalComplex(t, v, 1500, 160)
		equalComplex(t, v, 256, 729)
		equalSingle(t, v, 480, 500)
		equalSingle(t, v, 97, 31)
	})
}

// A night scene: two lamps of 1e5 among ones. By plain Go, what comes back is off
// by no more than with gonum, give or take the tenth that chance makes of it; by
// assembly it is off by the tolerance of two transforms, of the rms of the scene.
func TestABrightLampCostsWhatThePrecisionAllows(t *testing.T) {
	const w, h, byChance = 480, 360, 1.1
	x := noise(w, h)
	for i := range x {
		x[i] = 1 + x[i]*x[i]
	}
	x[100*w+77], x[101*w+300] = 1e5, 1e5
	plain := newGonum(w, h)
	f, back := make([]complex64, h*(w/2+1)), make([]float32, w*h)
	plain.forward(f, x)
	plain.inverse(back, f)
	onEachPath(t, func(t *testing.T, v *vectors) {
		limit := rmsError(back, x) * byChance
		if v != nil {
			_, tol := tolerance(v, w, h)
			limit = math.Sqrt2 * tol * rmsError(x, make([]float32, w*h))
		}
		fast := mustReal(w, h, v)
		if got := rmsError(fast.Inverse(nil, fast.Forward(nil, x)), x); !(got <= limit) {
			t.Errorf("off by %g rms, at most %g", got, limit)
		}
	})
}

func rmsError(got, want []float32) float64 {
	sum := 0.0
	for i := range got {
		d := float64(got[i]) - float64(want[i])
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(got)))
}

// The passes of a length multiply to it, and each is a fourth, or with large
// passes an eighth, where it can be.
func TestThePassesMultiplyToTheLength(t *testing.T) {
	for largest, counts := range map[int]map[int]int{
		4: {1: 0, 2: 1, 8: 2, 1024: 5, 2160: 6, 1500: 5},
		8: {1: 0, 2: 1, 4: 1, 8: 1, 16: 2, 512: 3, 1024: 4, 2048: 4, 1536: 4, 1152: 5},
	} {
		for n, want := range counts {
			steps, product := newSteps(n, largest), 1
			for _, s := range steps {
				product *= s.radix
			}
			if product != n || len(steps) != want {
				t.Errorf("%d: %d passes to %d, want %d", n, len(steps), product, want)
			}
		}
	}
}
