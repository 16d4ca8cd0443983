package refraction_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"simview/internal/refraction"
	"simview/internal/unit"
)

// anyLens draws a refraction in plus or minus form.
func anyLens(t *rapid.T) refraction.SphereCylinder {
	return refraction.SphereCylinder{
		Sphere:   unit.Dioptres(rapid.Float64Range(-20, 20).Draw(t, "sphere")),
		Cylinder: unit.Dioptres(rapid.Float64Range(-8, 8).Draw(t, "cylinder")),
		AxisDeg:  unit.Degrees(rapid.Float64Range(0, 180).Draw(t, "axis")),
	}
}

func TestPropertyEveryFormOfALensIsOnePowerVector(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lens := anyLens(t)
		p := lens.PowerVector()
		minus := p.SphereCylinder()
		if minus.Cylinder > 0 || minus.AxisDeg <= 0 || minus.AxisDeg > 180 {
			t.Fatalf("%+v is not in minus form with an axis above 0 and up to 180", minus)
		}
		plus := refraction.SphereCylinder{Sphere: minus.Sphere + minus.Cylinder, Cylinder: -minus.Cylinder, AxisDeg: minus.AxisDeg + 90}
		for _, q := range []refraction.SphereCylinder{minus, lens.Minus(), plus} {
			if d := q.PowerVector().Sub(p).Length(); !(d < tolAlgebra) {
				t.Fatalf("%v differs by %g D", q, float64(d))
			}
		}
	})
}

// The transposition rule taught to every optician: add, change sign, turn by 90.
func TestPlusFormIsWrittenAsMinusForm(t *testing.T) {
	for _, c := range []struct {
		in   refraction.SphereCylinder
		want string
	}{
		{refraction.SphereCylinder{-2, 0.75, 100}, "-1.25 / -0.75 x 10"},
		{refraction.SphereCylinder{-1, 1, 135}, "plano / -1.00 x 45"},
		{refraction.SphereCylinder{0.5, 0, 30}, "+0.50"},
		{refraction.SphereCylinder{0, 0, 0}, "plano"},
		{refraction.SphereCylinder{1, -0.5, 0}, "+1.00 / -0.50 x 180"},
		{refraction.SphereCylinder{-0.001, -0.5, 0.3}, "plano / -0.50 x 180"},
	} {
		if got := c.in.String(); got != c.want {
			t.Errorf("%+v is written %q, want %q", c.in, got, c.want)
		}
		if got := c.in.PowerVector().String(); got != c.want {
			t.Errorf("the power vector of %+v is written %q, want %q", c.in, got, c.want)
		}
	}
}

func TestPropertyRoundingStaysWithinAStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyLens(t).PowerVector()
		s, r := p.SphereCylinder(), p.Round025()
		for _, v := range []unit.Dioptres{r.Sphere, r.Cylinder} {
			if q := float64(v) * 4; q != math.Round(q) || math.Signbit(q) && q == 0 {
				t.Fatalf("%v D is not a step of 0.25 D", v)
			}
		}
		if math.Abs(float64(r.Sphere-s.Sphere)) > 0.125 || math.Abs(float64(r.Cylinder-s.Cylinder)) > 0.125 {
			t.Fatalf("%v was rounded to %v", s, r)
		}
		if a := float64(r.AxisDeg); a != math.Round(a) || a < 1 || a > 180 {
			t.Fatalf("axis %v", r.AxisDeg)
		}
	})
}

func TestPropertyTheLongestAndShortestMeridiansAreSphereAndSpherePlusCylinder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyLens(t).Minus()
		p := s.PowerVector()
		along, across := p.Along(s.AxisDeg), p.Along(s.AxisDeg+90)
		if math.Abs(float64(along-s.Sphere)) > 1e-12 || math.Abs(float64(across-s.Sphere-s.Cylinder)) > 1e-12 {
			t.Fatalf("%v: %v along its axis, %v across", s, along, across)
		}
	})
}

func TestImpossibleAxesAndNumbersAreRefused(t *testing.T) {
	nan := unit.Dioptres(math.NaN())
	for _, s := range []refraction.SphereCylinder{{0, -1, -1}, {0, -1, 181}, {nan, 0, 0}, {0, nan, 0}, {0, 0, unit.Degrees(math.Inf(1))}} {
		if s.Check() == nil {
			t.Errorf("%+v passed", s)
		}
	}
	if err := (refraction.SphereCylinder{-1, 0.5, 180}).Check(); err != nil {
		t.Error(err)
	}
}
