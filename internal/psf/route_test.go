//go:build !race

package psf

import (
	"encoding/csv"
	"math"
	"math/cmplx"
	"os"
	"strconv"
	"testing"

	"simview/internal/unit"
)

// byIntegral returns the density per sr at (right, up) minutes as the patient
// sees it, by adding the pupil up along rings (midpoints) and turns: no
// transform, no raster.
func byIntegral(a Aperture, nm, right, up float64) float64 {
	const rings, turns = 300, 300
	radius, lambda := a.DiameterMM/2, nm*1e-6
	ux, uy := -right/60*degree, up/60*degree // the clinician's axes
	sum, energy := complex128(0), 0.0
	for i := range rings {
		r := radius * (float64(i) + .5) / rings
		for k := range turns {
			s, c := math.Sincos(2 * math.Pi * float64(k) / turns)
			x, y := r*c, r*s
			area := r * radius / rings * 2 * math.Pi / turns
			phase := 2 * math.Pi / lambda * (a.PathUM(x, y)/1000 - ux*x - uy*y)
			sum += cmplx.Rect(area, phase)
			energy += area
		}
	}
	v := cmplx.Abs(sum)
	return v * v / (lambda * lambda * energy)
}

func TestSpreadIsThePupilIntegralPointByPoint(t *testing.T) {
	path := both(coma(.25, 2), both(cylinder(-.25, -.5, 30), spherical(.1, 2)))
	a := Aperture{DiameterMM: 4, PathUM: path}
	p := compute(t, a, Monochrome(555), Options{})
	step, top := p.StepDeg*degree, p.Peak()
	for j := -5; j <= 5; j++ {
		for i := -5; i <= 5; i++ {
			x, y := 7*i, 7*j // samples right and up
			got := float64(p.Pix[(p.N/2-y)*p.N+p.N/2+x]) / (step * step) * (1 - p.Outside)
			want := byIntegral(a, 555, float64(x)*p.StepDeg*60, float64(y)*p.StepDeg*60)
			// The stepped rim moves the amplitude by some 1e-3 of the peak's.
			near(t, "density over the peak's", got/top, want/top, 2e-3)
		}
	}
}

// The case of testdata/numpy/psf.py, see SOURCES.md there.
func numpyCase() (Aperture, []Line, Options) {
	path := func(x, y float64) float64 {
		x, y = x/1.5, y/1.5
		r2 := x*x + y*y
		return .25*math.Sqrt(3)*(2*r2-1) + .10*math.Sqrt(6)*2*x*y - .12*math.Sqrt(6)*(x*x-y*y) +
			.20*math.Sqrt(8)*(3*r2-2)*x + .07*math.Sqrt(8)*(3*r2-2)*y +
			.05*math.Sqrt(8)*(x*x*x-3*x*y*y) + .08*math.Sqrt(5)*(6*r2*r2-6*r2+1)
	}
	a := Aperture{DiameterMM: 3, PathUM: path, CentreMM: unit.PupilPoint{X: .3, Y: -.2}}
	return a, []Line{{480, .2}, {555, 1}, {620, .5}}, Options{LCA: Thibos, StilesCrawford: true, N: 512, StepDeg: .125 / 60}
}

// The two differ in how the rim's cells are averaged (256 points there, a
// straight cut here: some 1e-3 of a cell, on rim cells that are 2 % of the
// pupil) and in float32 here.
const numpyTol = 1e-4

func TestAWholeWhiteSpreadAgreesWithNumpy(t *testing.T) {
	a, lines, opt := numpyCase()
	p := compute(t, a, lines, opt)
	file, err := os.Open("../../testdata/numpy/psf.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil || len(records) != 32*32+48*48 {
		t.Fatalf("%d lines, %v", len(records), err)
	}
	top := p.Peak() * square(p.StepDeg*degree)
	for _, rec := range records {
		row, _ := strconv.Atoi(rec[1])
		col, _ := strconv.Atoi(rec[2])
		want, err := strconv.ParseFloat(rec[3], 64)
		if err != nil {
			t.Fatal(err)
		}
		if rec[0] == "core" {
			got := float64(p.Pix[(p.N/2-24+row)*p.N+p.N/2-24+col])
			near(t, "sample over peak", got/top, want/top, numpyTol)
			continue
		}
		got := 0.0
		for k := range 256 {
			got += float64(p.Pix[(16*row+k/16)*p.N+16*col+k%16])
		}
		near(t, "block of the whole", got, want, numpyTol)
	}
}

// The path is asked on one raster and interpolated for the others; 1e-4 µm is
// lambda/5000.
func TestInterpolatedPathIsThePathToATenthOfANanometre(t *testing.T) {
	path := both(coma(.5, 2.75), both(spherical(.6, 2.75), func(x, y float64) float64 { return .15 * math.Sin(5*x) * math.Cos(4*y) }))
	const dx = .018
	s, err := sampleSurface(Aperture{DiameterMM: 5.5, PathUM: path}, dx)
	if err != nil {
		t.Fatal(err)
	}
	for _, other := range []float64{dx * .64, dx * .81, dx * .97, dx} {
		m := int(math.Ceil(2.75/other + .5))
		w := s.resample(m, other)
		for j := range 2*m + 1 {
			for i := range 2*m + 1 {
				x, y := float64(i-m)*other, float64(j-m)*other
				if math.Hypot(x, y) <= 2.75+.7*other {
					near(t, "path, µm", w[j*(2*m+1)+i], path(x, y), 1e-4)
				}
			}
		}
	}
}
