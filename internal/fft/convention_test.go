package fft

import (
	"math"
	"testing"
)

// A lone sample one place to the right turns clockwise: F[0][1] = exp(-2 pi i / w).
func TestTheForwardTransformTurnsClockwise(t *testing.T) {
	p, _ := NewReal2D(8, 4)
	x := make([]float32, 32)
	x[1] = 1
	got := p.Forward(nil, x)[1]
	if math.Abs(float64(imag(got))+math.Sin(math.Pi/4)) > singleTol {
		t.Errorf("got %v, want exp(-i pi/4)", got)
	}
}

// A sample one row down shows along l: element [1][0] is exp(-2 pi i / h).
func TestRowsOfTheSpectrumBelongToRowsOfTheImage(t *testing.T) {
	p, _ := NewReal2D(8, 4)
	x := make([]float32, 32)
	x[8] = 1
	f := p.Forward(nil, x)
	if got := f[p.HalfWidth()]; math.Abs(float64(imag(got))+1) > singleTol {
		t.Errorf("F[1][0] = %v, want -i", got)
	}
	if got := f[1]; math.Abs(float64(real(got))-1) > singleTol {
		t.Errorf("F[0][1] = %v, want 1", got)
	}
}

// The forward transform is a plain sum, so element (0, 0) adds up the image.
func TestTheMeanIsAPlainSum(t *testing.T) {
	p, _ := NewReal2D(3, 3)
	got := p.Forward(nil, []float32{1, 2, 3, 4, 5, 6, 7, 8, 9})[0]
	if math.Abs(float64(real(got))-45) > 45*singleTol {
		t.Errorf("got %v, want 45", got)
	}
}
