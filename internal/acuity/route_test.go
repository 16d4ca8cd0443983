//go:build !race

package acuity

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"simview/internal/fft"
	"simview/internal/scene"
)

// TestASpectrumIsThatOfTheDrawnLetter: by another route, the letter on a raster of
// 40 samples a stroke. Strokes fall on whole samples, curves within one part in
// 1600 of the letter's area each.
func TestASpectrumIsThatOfTheDrawnLetter(t *testing.T) {
	const per, cells = 40, 15 // samples a stroke, strokes of the raster
	n := per * cells
	plan, err := fft.NewReal2D(n, n)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range scene.SloanLetters {
		outline, err := scene.LetterOutline(r, curveTol)
		if err != nil {
			t.Fatal(err)
		}
		pix := make([]float32, n*n)
		for j := range 5 * per {
			for i := range 5 * per {
				if inside(outline, (float64(i)+0.5)/per, (float64(j)+0.5)/per) {
					pix[j*n+i] = 1
				}
			}
		}
		spec := plan.Forward(nil, pix)
		for _, k := range [][2]int{{1, 0}, {3, 0}, {3, 4}, {8, 2}, {0, 9}} {
			// from samples to letters of height 1, and from the corner to the middle
			fx, fy := float64(k[0])/3, float64(k[1])/3
			shift := cmplx.Rect(1, 2*math.Pi*(fx+fy)*(0.5-0.1/per))
			got := complex128(spec[k[1]*(n/2+1)+k[0]]) * shift / (25 * per * per)
			if d := cmplx.Abs(got - spectrum(outline, fx, fy)); d > 2e-3 {
				t.Errorf("%c at (%.1f, %.1f): raster %.4f, polygons %.4f", r, fx, fy, got, spectrum(outline, fx, fy))
			}
		}
	}
}

// inside counts crossings, over all polygons (they do not overlap).
func inside(outline [][][2]float64, x, y float64) bool {
	in := false
	for _, shape := range outline {
		for n, p := range shape {
			q := shape[(n+1)%len(shape)]
			if (p[1] > y) != (q[1] > y) && x < p[0]+(y-p[1])*(q[0]-p[0])/(q[1]-p[1]) {
				in = !in
			}
		}
	}
	return in
}

// TestNoiseInEverySampleGivesTheSameAnswers: by another route, white noise of
// density Noise² in every sample of the plane instead of ten numbers with a
// worked-out covariance; 3 standard errors of its answers.
func TestNoiseInEverySampleGivesTheSameAnswers(t *testing.T) {
	if testing.Short() {
		t.Skip("draws a million numbers")
	}
	o, err := New(nil, 1000, nil)
	if err != nil {
		t.Fatal(err)
	}
	eye := MeanEye(4)
	const step = 0
	s, a := o.at(step), sloan()
	r := rand.New(rand.NewPCG(3, 3))
	h := scene.LetterArcmin(step*sizeStep) / 60
	cell := 1 / (perCycle * h) // cycles per degree between samples
	var template, shown [letters][]complex128
	for i, c := range scene.SloanLetters {
		outline, err := scene.LetterOutline(c, curveTol)
		if err != nil {
			t.Fatal(err)
		}
		for n := range a.fx {
			filter := complex(nerve(o.model, math.Hypot(s.fx[n], s.fy[n]), o.trolands)*h*h, 0)
			drawn := filter * spectrum(outline, a.fx[n], a.fy[n])
			template[i] = append(template[i], drawn*o.reference.At(s.fx[n], s.fy[n]))
			shown[i] = append(shown[i], drawn*eye.At(s.fx[n], s.fy[n]))
		}
	}
	// inner is the integral of the product of two pictures, from half of the plane
	inner := func(x, y []complex128) (sum float64) {
		for n := range x {
			sum += 2 * cell * cell * real(cmplx.Conj(x[n])*y[n])
		}
		return sum
	}
	const trials = 1000
	right := 0
	noise := make([]complex128, len(a.fx))
	for range trials {
		for n := range noise {
			noise[n] = complex(r.NormFloat64(), r.NormFloat64()) * complex(o.noise/math.Sqrt2/cell, 0)
		}
		k := r.IntN(letters)
		best, at := math.Inf(-1), 0
		for i := range letters {
			v := (inner(template[i], shown[k]) + inner(template[i], noise)) / math.Sqrt(inner(template[i], template[i]))
			if v > best {
				best, at = v, i
			}
		}
		if at == k {
			right++
		}
	}
	got, _ := o.Right(eye, step*sizeStep, Task{})
	p := float64(right) / trials
	se := math.Sqrt(p * (1 - p) / trials)
	t.Logf("noise in every sample %.3f, ten numbers %.3f", p, got)
	if math.Abs(p-got) > 3*se {
		t.Errorf("noise in every sample %.3f, ten numbers %.3f", p, got)
	}
}

// TestTheMiddleOfALetterIsTheOrigin: a moved or mirrored letter would
// change the phase; the box's middle is the origin, so the H, the same upside
// down and left for right, is real, and the C, alike upside down only, is real along
// the level axis of a picture summed over x.
func TestTheMiddleOfALetterIsTheOrigin(t *testing.T) {
	h, err := scene.LetterOutline('H', curveTol)
	if err != nil {
		t.Fatal(err)
	}
	c, err := scene.LetterOutline('C', curveTol)
	if err != nil {
		t.Fatal(err)
	}
	const rounding = 1e-9
	if v := spectrum(h, 1.3, 0.7); math.Abs(imag(v)) > rounding {
		t.Errorf("H: %.9f", v)
	}
	if v := spectrum(c, 0, 1.1); math.Abs(imag(v)) > rounding {
		t.Errorf("C along y: %.9f", v)
	}
	// the gap lies to the patient's right, so the C has less light there: its
	// transform, ∫ exp(-i q x), turns upward
	if v := spectrum(c, 1.0/3, 0); !(imag(v) > 0.01) {
		t.Errorf("C along x: %.4f", v)
	}
}
