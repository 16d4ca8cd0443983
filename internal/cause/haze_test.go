package cause_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/light"
	"simview/internal/unit"
)

// Scatter of separate parts of an eye adds in s = 10^(log s). Mild haze adds 0.3 to a
// log s of 0.90: 7.9 deg²/sr (assumed, see light.HazeStraylight); the norm is
// 0.87 + log10(1 + (60/65)⁴) at 60 years.
func TestHazeAddsItsStraylightWhereNoneWasMeasured(t *testing.T) {
	e := one(t, "lens: natural", "pupil_dim_mm: 5", "cornea: {haze: mild}")
	c, ok := e.Cause(cause.Scatter)
	if !ok || c.From != unit.Assumed || !strings.Contains(c.Amount, "mild haze of the cornea") {
		t.Fatalf("%+v", c)
	}
	s := state(t, e, cause.Only(cause.Scatter, 1), cause.Viewing{DistanceM: 6}, cause.Refracted)
	norm := 0.87 + math.Log10(1+math.Pow(60.0/65, 4))
	want := math.Log10(math.Pow(10, norm) + math.Pow(10, 0.9)*(math.Pow(10, 0.3)-1))
	if got := s.Glare.LogS(light.NormAtDeg); math.Abs(got-want) > 1e-6 {
		t.Errorf("log s %.6f, want %.6f", got, want)
	}
}

func TestMoreHazeScattersMore(t *testing.T) {
	last := 0.0
	for _, word := range []string{"trace", "mild", "marked"} {
		e := one(t, "lens: implant", "pupil_dim_mm: 5", "cornea: {haze: "+word+"}")
		s := state(t, e, cause.Only(cause.Scatter, 1), cause.Viewing{DistanceM: 6}, cause.Refracted)
		if got := s.Glare.LogS(light.NormAtDeg); got <= last+0.01 {
			t.Errorf("%s: log s %.3f after %.3f", word, got, last)
		} else {
			last = got
		}
	}
}

func TestHazeIsNotCountedBesideMeasuredStraylight(t *testing.T) {
	e := one(t, "lens: natural", "pupil_dim_mm: 5", "cornea: {haze: marked}", "straylight: {log_s: 1.5, scattered_by: cornea}")
	s := state(t, e, e.All(), cause.Viewing{DistanceM: 6}, cause.Refracted)
	if got := s.Glare.LogS(light.NormAtDeg); math.Abs(got-1.5) > 1e-9 {
		t.Errorf("log s %.3f, measured 1.5", got)
	}
	if !strings.Contains(strings.Join(e.Notes, "\n"), "not counted again") {
		t.Errorf("not said: %q", e.Notes)
	}
}
