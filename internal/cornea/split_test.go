package cornea_test

import (
	"math"
	"testing"

	"simview/internal/cornea"
)

func TestFitAndRestAddUpToTheSurface(t *testing.T) {
	s := surface(t, sample(cornea.Grain))
	r, err := s.Split(2.5, 4, 555)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range [][2]float64{{0, 0}, {1.2, -0.4}, {-2, 1}, {2.4, 0.3}} {
		near(t, "path", r.PathUM(at[0], at[1])+r.Fitted.PathUM(at[0], at[1]), s.PathUM(at[0], at[1]), 1e-12)
	}
	if r.Fitted.RadiusMM != 2.5 || r.Fitted.WavelengthNM != 555 {
		t.Errorf("fitted over %g mm at %g nm", r.Fitted.RadiusMM, r.Fitted.WavelengthNM)
	}
}

// Orthonormal terms: what the fit takes and what it leaves add up in squares,
// about the mean. A mesh of squares in a round pupil is not quite orthogonal,
// and the terms of the next orders leak by a part of a hundred.
func TestTheSquaresOfFitAndRestAddUp(t *testing.T) {
	const tol = 0.02
	for _, k := range cornea.Kinds() {
		s := surface(t, sample(k))
		none, err1 := s.Split(2.5, 0, 555)
		some, err2 := s.Split(2.5, 6, 555)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		near(t, string(k), math.Hypot(some.Fitted.RMS(), some.RMSUM), none.RMSUM, tol*none.RMSUM)
		if some.RMSUM > none.RMSUM {
			t.Errorf("%s: fitting raised the rest from %g to %g µm", k, none.RMSUM, some.RMSUM)
		}
	}
}

func TestAFitTakesMostOfACoarseSurfaceAndLittleOfAFineOne(t *testing.T) {
	share := func(grain float64) float64 {
		q := sample(cornea.Grain)
		q.CentreXMM, q.CentreYMM, q.GrainMM = 0, 0, grain
		s := surface(t, q)
		none, err1 := s.Split(2, 0, 555)
		some, err2 := s.Split(2, 6, 555)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		return some.RMSUM / none.RMSUM
	}
	if coarse, fine := share(2), share(0.2); coarse > 0.7 || fine < 0.9 {
		t.Errorf("left after order 6: %.2f of a grain of 2 mm, %.2f of one of 0.2 mm", coarse, fine)
	}
}

func TestImpossibleFitsAreRefused(t *testing.T) {
	s := surface(t, sample(cornea.Grain))
	for _, c := range []struct {
		r     float64
		order int
		nm    float64
	}{{0, 4, 555}, {math.NaN(), 4, 555}, {11, 4, 555}, {3, -1, 555}, {3, 13, 555}, {3, 4, -1}, {3, 4, math.NaN()}} {
		if _, err := s.Split(c.r, c.order, c.nm); err == nil {
			t.Errorf("%+v passed", c)
		}
	}
}
