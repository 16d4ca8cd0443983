package cause

import (
	"math"
	"testing"

	"simview/internal/casefile"
	"simview/internal/light"
	"simview/internal/unit"
)

func demoRight(t *testing.T) *Eye {
	t.Helper()
	c, err := casefile.Demo()
	if err != nil {
		t.Fatal(err)
	}
	e, err := Resolve(c, unit.Right)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// The numbers of the built-in case, as its file states them.
func TestAQuantityIsWhatTheCaseStates(t *testing.T) {
	e := demoRight(t)
	for _, c := range []struct {
		id      ID
		key     string
		one, sd float64
	}{
		{Lens, "decentration_mm", 1.0, 0.1},
		{Scatter, "log_s", 1.5, 0.08},
	} {
		list, err := e.Quantities(c.id)
		if err != nil || len(list) == 0 {
			t.Fatalf("%s: %v %v", c.id, list, err)
		}
		const rounding = 1e-6 // log s goes through the scale of the glare and back
		q := list[0]
		if q.Key != c.key || math.Abs(q.One-c.one) > rounding || math.Abs(q.SD-c.sd) > rounding {
			t.Errorf("%s: %+v, want %s %g ± %g", c.id, q, c.key, c.one, c.sd)
		}
	}
	if list, _ := e.Quantities(Rest); list != nil {
		t.Errorf("a cause that the eye does not have: %+v", list)
	}
}

// The glare of a state is the second road to log s at any strength.
func TestLogSOfAStrengthIsThatOfItsState(t *testing.T) {
	e := demoRight(t)
	list, err := e.Quantities(Scatter)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []float64{0, 0.3, 1, 1.7, 3} {
		const rounding = 1e-9
		if got, want := list[0].At(k), e.glare(k).LogS(light.NormAtDeg); math.Abs(got-want) > rounding {
			t.Errorf("strength %g: log s %.6f, the state has %.6f", k, got, want)
		}
	}
}

// Twice the strength is twice the clinical quantity, and none is none.
func TestEveryCauseHasAQuantityThatGrowsFromTheReference(t *testing.T) {
	e := demoRight(t)
	for _, c := range e.Causes {
		list, err := e.Quantities(c.ID)
		if err != nil || len(list) == 0 {
			t.Fatalf("%s: %v %v", c.ID, list, err)
		}
		q := list[0]
		if q.At(0) != q.Zero || math.Abs(q.At(1)-q.One) > 1e-12 || q.One == q.Zero {
			t.Errorf("%s: %+v runs from %g to %g", c.ID, q, q.At(0), q.At(1))
		}
	}
}
