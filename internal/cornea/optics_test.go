package cornea_test

import (
	"math"
	"testing"

	"simview/internal/cornea"
)

// The share is arithmetic on textbook indices (from memory): to the last digit
// given.
func TestARigidLensHidesNineTenthsOfAFrontSurface(t *testing.T) {
	const tol = 0.0005
	for _, c := range []struct{ cornea, tears, want float64 }{
		{1.376, 1.336, .106}, {1.376, 1.3375, .102}, {1.401, 1.336, .162}, {1.376, 1.376, 0},
	} {
		got, err := cornea.RigidShare(c.cornea, c.tears)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "share", got, c.want, tol)
	}
	for _, bad := range [][2]float64{{1.336, 1.376}, {1, 1}, {math.NaN(), 1.336}, {1.376, math.NaN()}, {1.376, 1}} {
		if _, err := cornea.RigidShare(bad[0], bad[1]); err == nil {
			t.Errorf("indices %v passed", bad)
		}
	}
}

// Exact and third-order c(4,0) of the front surface alone, 6 and 4 mm pupil:
// worked out outside this project by an independent ray trace, to four decimals.
func TestTheSphericalAberrationOfAConicFrontSurface(t *testing.T) {
	const tolExact, tolThird = 0.0005, 0.00005
	for _, c := range []struct {
		k                              cornea.Conic
		exact6, third6, exact4, third4 float64
	}{
		{cornea.Conic{RadiusMM: 7.8, Q: -.26, N: 1.376}, .1790, .1603, .0332, .0317},
		{cornea.Conic{RadiusMM: 7.8, Q: 0, N: 1.376}, .3648, .3158, .0663, .0624},
		{cornea.Conic{RadiusMM: 7.77, Q: -.18, N: 1.376}, .2378, .2106, .0438, .0416},
		{cornea.Conic{RadiusMM: 7.575, Q: -.14135, N: 1.3375}, .2794, .2447, .0511, .0483},
	} {
		near(t, "exact, 6 mm", c.k.C40UM(3), c.exact6, tolExact)
		near(t, "third order, 6 mm", c.k.ThirdOrderC40UM(3), c.third6, tolThird)
		near(t, "exact, 4 mm", c.k.C40UM(2), c.exact4, tolExact)
		near(t, "third order, 4 mm", c.k.ThirdOrderC40UM(2), c.third4, tolThird)
	}
}

// Descartes: an ellipse with Q = -1/n² images a far point without aberration.
func TestTheCartesianEllipseHasNoSphericalAberration(t *testing.T) {
	k := cornea.Conic{RadiusMM: 7.8, Q: -1 / (1.376 * 1.376), N: 1.376}
	near(t, "exact", k.C40UM(3), 0, 1e-9)
	near(t, "third order", k.ThirdOrderC40UM(3), 0, 1e-12)
}

// Calossi 2007: 0.04 mm steeper is about a quarter dioptre; with the
// keratometric index at 7.5 mm it is 0.24 D.
func TestFourHundredthsOfAMillimetreAreAQuarterDioptre(t *testing.T) {
	d := cornea.FrontPower(7.46, cornea.KeratometricIndex) - cornea.FrontPower(7.5, cornea.KeratometricIndex)
	near(t, "change", float64(d), 0.25, 0.02) // "about": to the next hundredth or two
}

// A bump of 1 µm delays by the step of the index: 0.376 µm on the front of the
// cornea, 0.401 as epithelium, 0.336 as tears, and advances by 0.040 on the back
// (indices from memory, as in the textbooks).
func TestTheStepOfTheIndexMakesThePathOfAHeight(t *testing.T) {
	s := surface(t, sample(cornea.Grain))
	h := s.HeightUM(1.2, -0.4)
	for _, k := range []struct {
		medium cornea.Medium
		want   float64
	}{{"", -.376}, {cornea.WholeCornea, -.376}, {cornea.Epithelium, -.401}, {cornea.Tears, -.336}} {
		n, err := k.medium.Index()
		if err != nil {
			t.Fatal(err)
		}
		of, err := s.Between(1, n)
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(k.medium), of.PathUM(1.2, -0.4)/h, k.want, 1e-12)
	}
	back, err := s.Between(cornea.CorneaIndex, cornea.AqueousIndex)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "back", back.PathUM(1.2, -0.4)/h, .040, 1e-12)
	near(t, "back over front", cornea.BackShare, -.040/.376, 1e-12)
}

func TestImpossibleMediaAreRefused(t *testing.T) {
	if _, err := cornea.Medium("glass").Index(); err == nil || err.Error() != `cornea: medium "glass": expected one of [cornea epithelium tears]` {
		t.Error(err)
	}
	s := surface(t, sample(cornea.Grain))
	for _, n := range [][2]float64{{0.9, 1.376}, {1, math.NaN()}, {1, 2.1}} {
		if _, err := s.Between(n[0], n[1]); err == nil {
			t.Errorf("%v passed", n)
		}
	}
}
