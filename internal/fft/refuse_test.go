package fft

import (
	"math"
	"strings"
	"testing"
)

// Each part of the plan is length-checked.
func TestWrongLengthsPanic(t *testing.T) {
	onEachPath(t, func(t *testing.T, v *vectors) {
		p, c := mustReal(8, 6, v), mustComplex(8, 6, v)
		for name, call := range map[string]func(){
			"image":    func() { p.Forward(nil, make([]float32, 47)) },
			"spectrum": func() { p.Inverse(nil, make([]complex64, 31)) },
			"dst":      func() { p.Forward(make([]complex64, 31), make([]float32, 48)) },
			"complex":  func() { c.Forward(make([]complex128, 49)) },
			"columns":  func() { c.ForwardColumns(make([]complex128, 12), nil) },
		} {
			if !panics(call) {
				t.Errorf("%s: a wrong length was taken", name)
			}
		}
	})
}

func panics(call func()) (did bool) {
	defer func() { did = recover() != nil }()
	call()
	return false
}

func TestSizesWithoutSamplesAreRefused(t *testing.T) {
	if _, err := NewReal2D(0, 4); err == nil || err.Error() != "fft: a transform needs at least 1 x 1 samples (got 0 x 4)" {
		t.Errorf("got %v", err)
	}
	if _, err := NewComplex2D(4, -1); err == nil {
		t.Error("a height of -1 was taken")
	}
}

// None of these could be allocated, so the test would not survive a refusal that
// comes too late.
func TestSizesLargerThanTheMemoryAreRefusedBeforeItIsTaken(t *testing.T) {
	for _, s := range [][2]int{{1 << 20, 1 << 20}, {math.MaxInt, math.MaxInt}, {1, math.MaxInt}, {math.MaxInt, 3}} {
		if _, err := NewReal2D(s[0], s[1]); err == nil || !strings.Contains(err.Error(), "at most 4 are taken; hint: ") {
			t.Errorf("real %v: %v", s, err)
		}
		if _, err := NewComplex2D(s[0], s[1]); err == nil || !strings.Contains(err.Error(), "GiB") {
			t.Errorf("complex %v: %v", s, err)
		}
		if _, err := NewComplexSingle2D(s[0], s[1]); err == nil || !strings.Contains(err.Error(), "GiB") {
			t.Errorf("single complex %v: %v", s, err)
		}
	}
	if err := checkSize(16384, 16384, realBytes); err != nil {
		t.Errorf("3 GiB are refused: %v", err)
	}
}

// What no real image can have is left out: the imaginary parts of columns 0
// and w/2 after the columns are back.
func TestTheImaginaryPartOfTheMeanIsLeftOut(t *testing.T) {
	onEachPath(t, func(t *testing.T, v *vectors) {
		p := mustReal(6, 4, v)
		f := p.Forward(nil, noise(6, 4))
		want := p.Inverse(nil, f)
		f[0] += 3i
		f[3] += 2i
		for i, v := range p.Inverse(nil, f) {
			if math.Abs(float64(v-want[i])) > 10*singleTol {
				t.Errorf("element %d: %g, want %g", i, v, want[i])
			}
		}
	})
}
