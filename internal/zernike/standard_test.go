package zernike_test

import (
	"math"
	"testing"

	"simview/internal/zernike"
)

// tolDigits is half a unit of the tenth decimal of the tabled values, with room
// for the rounding of a dozen operations.
const tolDigits = 1e-9

// tabled are Z_0 to Z_27 at x = 0.3, y = 0.4, from the closed forms of the
// standard (ANSI Z80.28), worked out outside this project.
var tabled = []float64{
	1, 0.8, 0.6, 0.5878775383, -0.8660254038, -0.1714642820, 0.1244507935,
	-1.4142135624, -1.0606601718, -0.3309259736, -0.1062525294, -1.5178932769,
	-0.2795084972, 0.4427188724, -0.1666520327, -0.1079414063, -0.4191562954,
	0.8660254038, 0.6495190528, 1.1145746947, -0.0082099208, -0.0385241045,
	0.4400189087, 1.7398706848, 1.1575161986, -0.5074622831, 0.6901487050,
	0.0439756993,
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func TestEveryTermToOrderSixHasTheStandardsValue(t *testing.T) {
	for j, want := range tabled {
		n, m := zernike.NM(j)
		one := zernike.Terms{RadiusMM: 2}.With(n, m, 1)
		near(t, "PolyXY", zernike.PolyXY(j, 0.3, 0.4), want, tolDigits)
		near(t, "Poly", zernike.Poly(n, m, 0.5, math.Atan2(0.4, 0.3)), want, tolDigits)
		near(t, "PathUM", one.PathUM(0.6, 0.8), want, tolDigits)
	}
}

// closed are the polynomials as the standard prints them.
var closed = map[[2]int]func(r, a float64) float64{
	{0, 0}:  func(r, a float64) float64 { return 1 },
	{1, -1}: func(r, a float64) float64 { return 2 * r * math.Sin(a) },
	{1, 1}:  func(r, a float64) float64 { return 2 * r * math.Cos(a) },
	{2, -2}: func(r, a float64) float64 { return math.Sqrt(6) * r * r * math.Sin(2*a) },
	{2, 0}:  func(r, a float64) float64 { return math.Sqrt(3) * (2*r*r - 1) },
	{3, -1}: func(r, a float64) float64 { return math.Sqrt(8) * (3*r*r*r - 2*r) * math.Sin(a) },
	{3, 3}:  func(r, a float64) float64 { return math.Sqrt(8) * r * r * r * math.Cos(3*a) },
	{4, 0}:  func(r, a float64) float64 { return math.Sqrt(5) * (6*math.Pow(r, 4) - 6*r*r + 1) },
	{4, 2}:  func(r, a float64) float64 { return math.Sqrt(10) * (4*math.Pow(r, 4) - 3*r*r) * math.Cos(2*a) },
	{5, 1}: func(r, a float64) float64 {
		return math.Sqrt(12) * (10*math.Pow(r, 5) - 12*r*r*r + 3*r) * math.Cos(a)
	},
	{6, -6}: func(r, a float64) float64 { return math.Sqrt(14) * math.Pow(r, 6) * math.Sin(6*a) },
	{6, 2}: func(r, a float64) float64 {
		return math.Sqrt(14) * (15*math.Pow(r, 6) - 20*math.Pow(r, 4) + 6*r*r) * math.Cos(2*a)
	},
	{6, 0}: func(r, a float64) float64 {
		return math.Sqrt(7) * (20*math.Pow(r, 6) - 30*math.Pow(r, 4) + 12*r*r - 1)
	},
}

func TestTheTermsAreThePolynomialsThatTheStandardPrints(t *testing.T) {
	for nm, f := range closed {
		for _, r := range []float64{0, 0.2, 0.7, 1} {
			for _, a := range []float64{0, 1, 2.5, 4} {
				near(t, "Poly", zernike.Poly(nm[0], nm[1], r, a), f(r, a), tolDigits)
			}
		}
	}
}

// schemes are the published rows: OSA j, n, m, Noll, Fringe (the tests of a
// general Zernike library; the Noll column also in a tutorial of J Eur Opt Soc).
var schemes = [][5]int{
	{0, 0, 0, 1, 1},
	{1, 1, -1, 3, 3},
	{2, 1, 1, 2, 2},
	{3, 2, -2, 5, 6},
	{4, 2, 0, 4, 4},
	{5, 2, 2, 6, 5},
	{6, 3, -3, 9, 11},
	{7, 3, -1, 7, 8},
	{8, 3, 1, 8, 7},
	{9, 3, 3, 10, 10},
	{10, 4, -4, 15, 18},
	{11, 4, -2, 13, 13},
	{12, 4, 0, 11, 9},
	{13, 4, 2, 12, 12},
	{14, 4, 4, 14, 17},
}

func TestIndicesAgreeWithThePublishedTable(t *testing.T) {
	for _, row := range schemes {
		j, n, m, noll, fringe := row[0], row[1], row[2], row[3], row[4]
		if gn, gm := zernike.NM(j); gn != n || gm != m || zernike.Index(n, m) != j {
			t.Errorf("j=%d: got (%d,%d), want (%d,%d)", j, gn, gm, n, m)
		}
		if got := zernike.ToNoll(j); got != noll {
			t.Errorf("j=%d: Noll %d, want %d", j, got, noll)
		}
		if got, err := zernike.ToFringe(j); err != nil || got != fringe {
			t.Errorf("j=%d: Fringe %d (%v), want %d", j, got, err, fringe)
		}
	}
}

func TestEverySchemeComesBack(t *testing.T) {
	for j := range 500 {
		if got, err := zernike.FromNoll(zernike.ToNoll(j)); err != nil || got != j {
			t.Fatalf("j=%d came back from Noll as %d (%v)", j, got, err)
		}
	}
	seen := map[int]bool{}
	for i := 1; i <= zernike.FringeTerms; i++ {
		j, _, err := zernike.FromFringe(i)
		if back, err2 := zernike.ToFringe(j); err != nil || err2 != nil || back != i || seen[j] {
			t.Fatalf("Fringe %d gave j=%d and came back as %d (%v, %v)", i, j, back, err, err2)
		}
		seen[j] = true
	}
}

// The Fringe coefficient of a wavefront that is ρ⁴ spherical aberration with a
// peak of 1 is 1; the orthonormal one is 1/√5.
func TestFringeCoefficientsAreDividedByTheNorm(t *testing.T) {
	j, c, err := zernike.FromScheme("fringe", 9, 1)
	if err != nil || j != 12 {
		t.Fatalf("Fringe 9 is j=%d (%v), want 12", j, err)
	}
	near(t, "c40", c, 1/math.Sqrt(5), 1e-15)
	near(t, "edge value", zernike.Terms{RadiusMM: 1}.With(4, 0, c).PathUM(0, 1), 1, 1e-14)
}

func TestTermsThatASchemeDoesNotHaveAreRefused(t *testing.T) {
	if _, err := zernike.ToFringe(21); err == nil { // (6,-6), as published
		t.Error("ToFringe(21) gave no error")
	}
	for scheme, bad := range map[string][]int{"osa": {-1, 1e9}, "noll": {0, 1e9}, "fringe": {0, 38}, "born": {1}, "": {1}} {
		for _, i := range bad {
			if _, _, err := zernike.FromScheme(scheme, i, 1); err == nil {
				t.Errorf("FromScheme(%q, %d) gave no error", scheme, i)
			}
		}
	}
	for _, nm := range [][2]int{{-1, 0}, {2, 1}, {2, 3}, {3, -4}} {
		if zernike.CheckNM(nm[0], nm[1]) == nil {
			t.Errorf("CheckNM%v gave no error", nm)
		}
	}
}
