package cornea_test

import (
	"math"
	"testing"

	"simview/internal/cornea"
	"simview/internal/zernike"
)

func TestABumpTowardsTheObserverDelaysTheLight(t *testing.T) {
	s := surface(t, sample(cornea.Dots))
	top, x, y := 0.0, 0.0, 0.0
	for i := range 200 {
		for j := range 200 {
			px, py := 1.2+0.01*float64(i-100), -0.4+0.01*float64(j-100)
			if h := s.HeightUM(px, py); h > top {
				top, x, y = h, px, py
			}
		}
	}
	if top < 1 || s.PathUM(x, y) >= 0 {
		t.Errorf("the highest dot, %g µm, has a path of %g µm: want below 0", top, s.PathUM(x, y))
	}
	near(t, "path", s.PathUM(x, y), -0.376*top, 1e-12)
}

// A steeper cornea falls away more towards its edge: heights, by the sag of two
// spheres, go through the same relation of height and path as the surface's and
// must come out short-sighted by the difference of the surfaces' powers.
func TestASteeperCorneaIsShortSighted(t *testing.T) {
	steep, flat := 7.5, 7.8
	sag := func(r, y float64) float64 { return r - math.Sqrt(r*r-y*y) }
	s := surface(t, sample(cornea.Grain))
	perUM := s.PathUM(1.2, -0.4) / s.HeightUM(1.2, -0.4)
	var xs, ys, path []float64
	for i := -20; i <= 20; i++ {
		for j := -20; j <= 20; j++ {
			x, y := 0.05*float64(i), 0.05*float64(j)
			if r := math.Hypot(x, y); r <= 1 {
				xs, ys = append(xs, x), append(ys, y)
				path = append(path, perUM*1000*(sag(flat, r)-sag(steep, r)))
			}
		}
	}
	w, _, err := zernike.Fit(xs, ys, path, 1, 4)
	if err != nil {
		t.Fatal(err)
	}
	if w.At(2, 0) <= 0 {
		t.Fatalf("c(2,0) = %g µm, want above 0", w.At(2, 0))
	}
	// Paraxial power by the ρ² terms of c20 and c40 over a 1 mm radius.
	m := -4*math.Sqrt(3)*w.At(2, 0) + 12*math.Sqrt(5)*w.At(4, 0)
	want := cornea.FrontPower(flat, cornea.CorneaIndex) - cornea.FrontPower(steep, cornea.CorneaIndex)
	near(t, "refraction", m, float64(want), 0.01) // order 6 and up at 1 mm
}

func TestTheZoneLiesWhereItsCentreSaysInTheCliniciansAxes(t *testing.T) {
	q := sample(cornea.Grain)
	q.CentreXMM, q.CentreYMM, q.ZoneRadiusMM = 2, 1, 0.9
	s := surface(t, q)
	left, right, below := 0.0, 0.0, 0.0
	for i := range 90 {
		for j := range 90 {
			x, y := 0.02*float64(i)+1.1, 0.02*float64(j)+0.1
			right += math.Abs(s.HeightUM(x, y))
			left += math.Abs(s.HeightUM(-x, y))
			below += math.Abs(s.HeightUM(x, -y))
		}
	}
	if left != 0 || right < 100 || below > 0.1*right {
		t.Errorf("heights sum to %g on the right, %g on the left, %g below", right, left, below)
	}
}
