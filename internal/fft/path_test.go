package fft

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// onEachPath runs a test by plain Go and by all assembly this machine can run.
func onEachPath(t *testing.T, test func(t *testing.T, v *vectors)) {
	t.Run("plain", func(t *testing.T) { test(t, nil) })
	for _, v := range available() {
		t.Run(v.name, func(t *testing.T) { test(t, v) })
	}
}

// directLine is the definition for one line, with the roots of one tabulated.
func directLine(x []complex128) []complex128 {
	n := len(x)
	roots, out := make([]complex128, n), make([]complex128, n)
	for j := range roots {
		roots[j] = cmplx.Rect(1, -2*math.Pi*float64(j)/float64(n))
	}
	for k := range out {
		turn := 0 // k j modulo n
		for _, v := range x {
			out[k] += v * roots[turn]
			if turn += k; turn >= n {
				turn -= n
			}
		}
	}
	return out
}

// Every length to 512, primes among them, as a row and as a column.
func TestEveryLengthIsTheDefinition(t *testing.T) {
	step := 1
	if testing.Short() {
		step = 43
	}
	want := map[int][2][]complex128{}
	for n := 1; n <= 512; n += step {
		want[n] = [2][]complex128{directLine(complexNoise(n, 1)), directLine(widen(noise(n, 1)))}
	}
	onEachPath(t, func(t *testing.T, v *vectors) {
		for n, w := range want {
			lineIs(t, v, n, 1, w[0], w[1])
			lineIs(t, v, 1, n, w[0], w[1])
		}
	})
}

// lineIs compares a row (h = 1) or a column (w = 1) of complex and of real noise
// with its transform.
func lineIs(t *testing.T, v *vectors, w, h int, wantComplex, wantReal []complex128) {
	t.Helper()
	n := w * h
	z := complexNoise(n, 1)
	mustComplex(w, h, v).Forward(z)
	for k := range z {
		if off := cmplx.Abs(z[k] - wantComplex[k]); !(off <= doubleTol*float64(n)) {
			t.Errorf("%d x %d, element %d: off by %g", w, h, k, off)
		}
	}
	for k, e := range mustReal(w, h, v).Forward(nil, noise(n, 1)) {
		if off := cmplx.Abs(complex128(e) - wantReal[k]); !(off <= singleTol*4*math.Sqrt(float64(n))) {
			t.Errorf("real %d x %d, element %d: off by %g", w, h, k, off)
		}
	}
}

// F(2 a - 3 b) = 2 F(a) - 3 F(b), and the power of the spectrum is w h times
// that of the image (Parseval), column 0 and, for even w, w/2 counting once.
func TestTheTransformIsLinearAndKeepsThePower(t *testing.T) {
	onEachPath(t, func(t *testing.T, v *vectors) {
		r := rand.New(rand.NewPCG(7, 9))
		for range 12 {
			w, h := 1+r.IntN(120), 1+r.IntN(120)
			p, a, b := mustReal(w, h, v), noise(w, h), noise(w, h+1)[:w*h]
			sum, power := make([]float32, w*h), 0.0
			for i := range sum {
				sum[i] = 2*a[i] - 3*b[i]
				power += float64(sum[i]) * float64(sum[i])
			}
			fa, fb, f := p.Forward(nil, a), p.Forward(nil, b), p.Forward(nil, sum)
			spectrum := 0.0
			for i, e := range f {
				want := 2*fa[i] - 3*fb[i]
				if d := cmplx.Abs(complex128(e - want)); !(d <= 10*singleTol*math.Sqrt(float64(w*h))) {
					t.Fatalf("%d x %d, element %d: %v, want %v", w, h, i, e, want)
				}
				spectrum += twice(i%p.half, w) * math.Pow(cmplx.Abs(complex128(e)), 2)
			}
			if math.Abs(spectrum/(power*float64(w*h))-1) > singleTol {
				t.Errorf("%d x %d: power %g, want %g", w, h, spectrum, power*float64(w*h))
			}
		}
	})
}

// twice is how often column k of the half spectrum stands in the whole.
func twice(k, w int) float64 {
	if k == 0 || 2*k == w {
		return 1
	}
	return 2
}

// The number of processors decides who works a line, never what comes out.
func TestTheNumberOfProcessorsChangesNoBit(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	onEachPath(t, func(t *testing.T, v *vectors) {
		const w, h = 150, 121
		p, c := mustReal(w, h, v), mustComplex(w, h, v)
		x := noise(w, h)
		var first []complex64
		var back []float32
		var whole []complex128
		for _, n := range []int{1, 2, 5} {
			runtime.GOMAXPROCS(n)
			f, z := p.Forward(nil, x), widen(x)
			c.Forward(z)
			if first == nil {
				first, back, whole = f, p.Inverse(nil, f), z
			}
			if !slices.Equal(f, first) || !slices.Equal(p.Inverse(nil, f), back) || !slices.Equal(z, whole) {
				t.Errorf("%d processors give other bits than one", n)
			}
		}
	})
}

// FuzzSizes compares assembly with plain Go, forward and back.
func FuzzSizes(f *testing.F) {
	for _, s := range [][2]uint16{{1, 1}, {33, 2}, {64, 48}, {97, 31}, {250, 17}, {4, 0}} {
		f.Add(s[0], s[1])
	}
	f.Fuzz(func(t *testing.T, a, b uint16) {
		w, h := 1+int(a%300), 1+int(b%300)
		x := noise(w, h)
		plain := mustReal(w, h, nil)
		want := plain.Forward(nil, x)
		for _, v := range available() {
			p := mustReal(w, h, v)
			mostTol, tol := tolerance(v, w, h)
			if largest, rms := distance(p.Forward(nil, x), want); !(largest <= mostTol && rms <= tol) {
				t.Errorf("%s, %d x %d: off by %g at most, %g rms", v.name, w, h, largest, rms)
			}
			off := rmsError(p.Inverse(nil, want), x) / rmsError(x, make([]float32, w*h))
			if !(off <= tol) {
				t.Errorf("%s, %d x %d back: off by %g rms", v.name, w, h, off)
			}
		}
	})
}

// Once every goroutine has its arrays, a transform takes no more than the few
// words it starts goroutines with, far from the size of a line of 8 KiB.
func TestATransformTakesNoArraysOnceWarm(t *testing.T) {
	const w, h, times, most = 512, 256, 21, 4096
	for _, v := range available() {
		p, c := mustReal(w, h, v), mustComplex(w, h, v)
		x, z := noise(w, h), make([]complex128, w*h)
		f := p.Forward(nil, x)
		var taken []uint64
		for range times {
			taken = append(taken, bytesTaken(func() {
				p.Forward(f, x)
				p.Inverse(x, f)
				c.Forward(z)
				c.ForwardColumns(z, func(int, []complex128) {})
			}))
		}
		slices.Sort(taken)
		if got := taken[times/2]; got > most {
			t.Errorf("%s: %d bytes for four transforms", v.name, got)
		}
	}
}

func bytesTaken(work func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	work()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// The functions for 8 and 4 lanes must run without AVX-512: no register above
// 15, none of 64 bytes.
func TestTheNarrowAssemblyNamesNoWideRegister(t *testing.T) {
	text, err := os.ReadFile("vector_amd64.s")
	if err != nil {
		t.Fatal(err)
	}
	wide, checked := regexp.MustCompile(`\b(Z[0-9]+|[XY](1[6-9]|2[0-9]|3[01])|K[0-7])\b|_BCST`), 0
	for _, f := range strings.Split(string(text), "TEXT ·")[1:] {
		name := f[:strings.IndexByte(f, '(')]
		if strings.HasSuffix(name, "S16") || strings.HasSuffix(name, "D8") {
			continue
		}
		checked++
		if found := wide.FindString(f); found != "" {
			t.Errorf("%s uses %s", name, found)
		}
	}
	if checked < 20 {
		t.Errorf("only %d functions found", checked)
	}
}
