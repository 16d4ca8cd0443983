package zernike

import (
	"fmt"
	"math"
)

// Index returns the OSA/ANSI index j of the term with radial order n and
// angular frequency m. It panics when there is no such term; use [CheckNM]
// first for numbers that a person wrote.
//
//	j = (n(n+2) + m) / 2
func Index(n, m int) int {
	if err := CheckNM(n, m); err != nil {
		panic(err)
	}
	return (n*(n+2) + m) / 2
}

// CheckNM returns an error when there is no Zernike term of radial order n and
// angular frequency m: n must be 0 or more, |m| <= n, n - |m| even.
func CheckNM(n, m int) error {
	if n < 0 || abs(m) > n || (n-abs(m))%2 != 0 {
		return fmt.Errorf("zernike: there is no term (%d,%d): expected n >= 0, |m| <= n and n - |m| even, for example (3,-1)", n, m)
	}
	return nil
}

// NM returns radial order n and angular frequency m of the OSA/ANSI index j. It
// panics when j is negative.
//
//	n = ceil((-3 + √(9+8j)) / 2),  m = 2j - n(n+2)
func NM(j int) (n, m int) {
	if j < 0 {
		panic(fmt.Sprintf("zernike: index %d: expected 0 or more", j))
	}
	n = int(math.Ceil((-3 + math.Sqrt(9+8*float64(j))) / 2))
	return n, 2*j - n*(n+2)
}

// Count returns how many terms there are up to and including order n; it is
// also the index of the first term of order n+1.
func Count(n int) int { return (n + 1) * (n + 2) / 2 }

// Norm returns the factor that makes the term orthonormal over the unit disc.
//
//	N = √((2 - δ_m0)(n + 1))
func Norm(n, m int) float64 {
	if m == 0 {
		return math.Sqrt(float64(n + 1))
	}
	return math.Sqrt(float64(2 * (n + 1)))
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}
