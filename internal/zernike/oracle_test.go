package zernike_test

import (
	"math"
	"math/big"
	"testing"

	"simview/internal/zernike"
)

// factorial returns n!.
func factorial(n int) *big.Int { return new(big.Int).MulRange(1, int64(n)) }

// slowRadial is the factorial sum of the standard in exact arithmetic.
//
//	R_n^m = Σ_s (-1)^s (n-s)! / [s! ((n+m)/2-s)! ((n-m)/2-s)!] ρ^(n-2s)
func slowRadial(n, m int, rho *big.Rat) float64 {
	sum := new(big.Rat)
	for s := 0; s <= (n-m)/2; s++ {
		den := factorial(s)
		den.Mul(den, factorial((n+m)/2-s)).Mul(den, factorial((n-m)/2-s))
		term := new(big.Rat).SetFrac(factorial(n-s), den)
		if s%2 == 1 {
			term.Neg(term)
		}
		for range n - 2*s {
			term.Mul(term, rho)
		}
		sum.Add(sum, term)
	}
	f, _ := sum.Float64()
	return f
}

// tolRadial: |R| <= 1 on the disc and the recurrence is stable, so that a
// hundred steps lose less than a hundred units in the last place.
const tolRadial = 100 * 2.3e-16

func TestRadialPolynomialsAgreeWithTheExactFactorialSum(t *testing.T) {
	for n := 0; n <= 30; n++ {
		for m := n % 2; m <= n; m += 2 {
			for _, eighths := range []int64{0, 1, 3, 5, 7, 8} {
				want := slowRadial(n, m, big.NewRat(eighths, 8))
				got := zernike.Radial(n, m, float64(eighths)/8)
				near(t, "R", got, want, tolRadial)
			}
		}
	}
}

func TestARadialPolynomialIsOneAtTheEdgeAtAnyOrder(t *testing.T) {
	for _, nm := range [][2]int{{100, 0}, {99, 1}, {80, 40}, {60, 60}} {
		near(t, "R(1)", zernike.Radial(nm[0], nm[1], 1), 1, 1e-12) // 50 steps of a stable recurrence
	}
	for _, n := range []int{100, 102} { // on both sides of the kept plans
		one := zernike.Terms{RadiusMM: 2}.With(n, 0, 1)
		near(t, "path", one.PathUM(0, 2), math.Sqrt(float64(n+1)), 1e-11)
	}
}

// The disc is summed by polar midpoints, which no code of the package uses. The
// midpoint rule in ρ² has an error of (h²/24) f'; with 2000 rings and slopes
// below 2 n² that is under 1e-5.
func TestTermsAreOrthonormalOverThePupil(t *testing.T) {
	const rings, spokes, tol = 2000, 16, 1e-5
	for j := range 15 {
		for k := range j + 1 {
			sum := 0.0
			for i := range rings {
				rho := math.Sqrt((float64(i) + 0.5) / rings)
				for a := range spokes {
					s, c := math.Sincos(2 * math.Pi * (float64(a) + 0.3) / spokes)
					sum += zernike.PolyXY(j, rho*c, rho*s) * zernike.PolyXY(k, rho*c, rho*s)
				}
			}
			want := 0.0
			if j == k {
				want = 1
			}
			near(t, "inner product", sum/(rings*spokes), want, tol)
		}
	}
}
