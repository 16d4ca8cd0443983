package fft

import (
	"encoding/csv"
	"math/cmplx"
	"os"
	"strconv"
	"testing"
)

// testdata/numpy/fft.csv was made with numpy, see SOURCES.md there; printed
// with ten digits, elements up to about 1000.
const numpyTol = 1e-6

func TestBothTransformsAgreeWithNumpy(t *testing.T) {
	f, err := os.Open("../../testdata/numpy/fft.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil || len(records) < 700 {
		t.Fatalf("%d lines, %v", len(records), err)
	}
	onEachPath(t, func(t *testing.T, path *vectors) {
		for _, rec := range records {
			var v [6]float64
			for i, s := range rec {
				if v[i], err = strconv.ParseFloat(s, 64); err != nil {
					t.Fatal(err)
				}
			}
			checkNumpy(t, path, int(v[0]), int(v[1]), int(v[2]), int(v[3]), complex(v[4], v[5]))
		}
	})
}

func checkNumpy(t *testing.T, path *vectors, w, h, k, l int, want complex128) {
	x := make([]float32, w*h)
	for y := range h {
		for i := range w {
			x[y*w+i] = float32((7*i*i+3*i*y+5*y*y+i+2)%11 - 4)
		}
	}
	c := mustComplex(w, h, path)
	full := widen(x)
	c.Forward(full)
	if d := cmplx.Abs(full[l*w+k] - want); d > numpyTol {
		t.Errorf("complex %d x %d (%d, %d): off by %g", w, h, k, l, d)
	}
	r := mustReal(w, h, path)
	if k >= r.HalfWidth() {
		return
	}
	if d := cmplx.Abs(complex128(r.Forward(nil, x)[l*r.HalfWidth()+k]) - want); d > singleTol*1000 {
		t.Errorf("real %d x %d (%d, %d): off by %g", w, h, k, l, d)
	}
}
