package zernike

import "math"

// Poly returns the orthonormal term Z(n,m) at radius rho (1 at the edge) and
// angle theta in radians. It panics when there is no such term.
func Poly(n, m int, rho, theta float64) float64 {
	sin, cos := math.Sincos(theta)
	return PolyXY(Index(n, m), rho*cos, rho*sin)
}

// PolyXY returns the orthonormal term of OSA index j at (x, y), in units of the
// pupil radius.
func PolyXY(j int, x, y float64) float64 {
	n, m := NM(j)
	r := radialOverPower(n, abs(m), 2*(x*x+y*y)-1)
	z := complex(1, 0)
	for range abs(m) {
		z *= complex(x, y)
	}
	if m < 0 {
		return Norm(n, m) * r * imag(z)
	}
	return Norm(n, m) * r * real(z)
}

// Radial returns R_n^m(ρ) for m >= 0, and 0 when m > n. It panics when n - m is
// odd.
func Radial(n, m int, rho float64) float64 {
	if m > n {
		return 0
	}
	Index(n, m)
	return math.Pow(rho, float64(m)) * radialOverPower(n, m, 2*rho*rho-1)
}

// radialOverPower returns R_n^m(ρ) / ρ^m with t = 2ρ² - 1.
func radialOverPower(n, m int, t float64) float64 {
	last, now := 0.0, 1.0
	for k := range (n - m) / 2 {
		a, b, c := jacobiStep(k, m)
		last, now = now, (a*t+b)*now-c*last
	}
	return now
}
