package plot

import (
	"math"
	"testing"
)

// A myopic eye of D dioptres sees a far point as a disc of diameter pupil x D: 1
// mm and 1 D make 3.4377 minutes of arc (geometry). The outermost of the places lies at
// sqrt(244/271) of the radius, and evenly filled discs have an RMS radius of 1/√2.
func TestSpotsOfDefocusFillTheDiscOfGeometry(t *testing.T) {
	const pupil, dioptres = 4., 1.5
	s, err := NewSpots(func(x, y float64) float64 { return -dioptres / 2 * (x*x + y*y) }, pupil, nil)
	if err != nil {
		t.Fatal(err)
	}
	radius := pupil * dioptres * 3.43775 / 2
	var widest float64
	for _, p := range s.Arcmin {
		widest = math.Max(widest, math.Hypot(p[0], p[1]))
	}
	if len(s.Arcmin) != 271 || math.Abs(widest-radius*math.Sqrt(244./271)) > 1e-3 {
		t.Errorf("%d spots out to %.3f minutes of arc, the disc ends at %.3f", len(s.Arcmin), widest, radius)
	}
	if math.Abs(s.RMSArcmin-radius/math.Sqrt2) > .005*radius { // 271 places instead of all
		t.Errorf("RMS %.3f, want %.3f", s.RMSArcmin, radius/math.Sqrt2)
	}
}

// Scheiner: a myopic eye (W = +k r², c(2,0) > 0) whose upper half pupil is covered
// loses the upper half of the blur it sees.
func TestWithTheUpperPupilCoveredAMyopeLosesTheUpperSpots(t *testing.T) {
	s, err := NewSpots(func(x, y float64) float64 { return x*x + y*y }, 4, func(_, y float64) bool { return y < -.01 })
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Arcmin {
		if p[1] >= 0 {
			t.Fatalf("a spot at %v, above", p)
		}
	}
}

// Positive c(3,1) throws its tail to the patient's left (the clinician's right):
// W = r² x has its steepest slopes along +x.
func TestTheTailOfPositiveComaLiesAtThePatientsLeft(t *testing.T) {
	s, err := NewSpots(func(x, y float64) float64 { return (x*x + y*y) * x }, 4, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Arcmin {
		if p[0] > 1e-9 {
			t.Fatalf("a spot at %v, to the right", p)
		}
	}
}

func TestSpotsThatCannotBeAreRefused(t *testing.T) {
	flat := func(_, _ float64) float64 { return 0 }
	for _, pupil := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := NewSpots(flat, pupil, nil); err == nil {
			t.Errorf("a pupil of %g passed", pupil)
		}
	}
	if _, err := NewSpots(flat, 3, func(_, _ float64) bool { return false }); err == nil {
		t.Error("spots without light passed")
	}
	if _, err := NewSpots(func(_, _ float64) float64 { return math.NaN() }, 3, nil); err == nil {
		t.Error("a path that is no number passed")
	}
}
