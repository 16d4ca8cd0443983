package psf

import (
	"math"
	"testing"
)

// arcmin is one minute of arc in degrees.
const arcmin = 1.0 / 60

// compute fails the test where Compute refuses.
func compute(t testing.TB, a Aperture, lines []Line, opt Options) *PSF {
	t.Helper()
	p, err := Compute(a, lines, opt)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// sized asks for n samples with the pupil padded by pad at the wavelength nm.
func sized(nm, diameterMM, pad float64, n int) Options {
	return Options{N: n, StepDeg: nm * 1e-6 / (pad * diameterMM) / degree}
}

// near fails unless got is within tol of want.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.7g, want %.7g within %g", what, got, want, tol)
	}
}

// defocus returns the path of a power error of M dioptres: W = -M r²/2.
func defocus(m float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return -m * (x*x + y*y) / 2 }
}

// cylinder returns the path of an eye whose refraction is sphere s, cylinder c
// at axis degrees: power s along the axis and s + c across it.
func cylinder(s, c, axisDeg float64) func(x, y float64) float64 {
	sin, cos := math.Sincos(axisDeg * degree)
	return func(x, y float64) float64 {
		along, across := x*cos+y*sin, y*cos-x*sin
		return -(s*along*along + (s+c)*across*across) / 2
	}
}

// coma returns c(3,1) in µm over a pupil of radius r mm, sqrt8 (3 rho³ - 2 rho)
// cos, written out here so that no other package stands behind the test.
func coma(c, r float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		x, y = x/r, y/r
		return c * math.Sqrt(8) * (3*(x*x+y*y) - 2) * x
	}
}

// spherical returns c(4,0) in µm over a pupil of radius r mm.
func spherical(c, r float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		q := (x*x + y*y) / (r * r)
		return c * math.Sqrt(5) * (6*q*q - 6*q + 1)
	}
}

// both adds two paths.
func both(a, b func(x, y float64) float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return a(x, y) + b(x, y) }
}

// moments returns centroid (patient's axes) and second moments in minutes of
// arc of the light within radius minutes of straight ahead.
func moments(p *PSF, radius float64) (mx, my, xx, xy, yy float64) {
	step, sum := p.StepDeg*60, 0.0
	for j := range p.N {
		for i := range p.N {
			x, y := float64(i-p.N/2)*step, float64(p.N/2-j)*step
			if math.Hypot(x, y) > radius {
				continue
			}
			v := float64(p.Pix[j*p.N+i])
			sum, mx, my = sum+v, mx+v*x, my+v*y
			xx, xy, yy = xx+v*x*x, xy+v*x*y, yy+v*y*y
		}
	}
	return mx / sum, my / sum, xx / sum, xy / sum, yy / sum
}

// lamp is the light the convention tests look at: 555 nm, size chosen.
func lamp(t *testing.T, a Aperture) *PSF { return compute(t, a, Monochrome(555), Options{}) }
