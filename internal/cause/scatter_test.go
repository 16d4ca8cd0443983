package cause_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
)

// TestMoreThanHalfTheLightScatteredIsSaid: a share of one half is passed near
// log s 1.7 (the closed form of package light for brown eyes), and from there on
// the core's share is no longer one minus the scattered light.
func TestMoreThanHalfTheLightScatteredIsSaid(t *testing.T) {
	for logS, want := range map[string]bool{"1.4": false, "2.0": true} {
		e := one(t, "lens: natural", "pupil_bright_mm: 3", "straylight: {log_s: "+logS+", scattered_by: lens}")
		s := state(t, e, e.All(), far, cause.Same)
		if got := strings.Contains(strings.Join(s.Notes, "; "), "more than half"); got != want {
			t.Errorf("log s %s: notes %q", logS, s.Notes)
		}
		if ref := state(t, e, nil, far, cause.Refracted); strings.Contains(strings.Join(ref.Notes, "; "), "more than half") {
			t.Errorf("log s %s: the reference eye scatters %.2f", logS, ref.Glare.Share())
		}
	}
}

// TestTheFieldTestLosesWhatTheCoreLoses: a spot of 1 - T of its light is fainter by
// 10 log10 of that ratio (perimetric decibels are tenths of log10 of
// luminance, common practice), T the scattered share of the two states;
// below one half scattering is single.
func TestTheFieldTestLosesWhatTheCoreLoses(t *testing.T) {
	e := one(t, append([]string{"lens: implant", "pupil_bright_mm: 3", "straylight: {log_s: 1.4, scattered_by: lens}"}, lossEverywhere("-15")...)...)
	usual := state(t, e, nil, far, cause.Refracted).Glare.Share()
	much := state(t, e, cause.Only(cause.Scatter, 1), far, cause.Refracted).Glare.Share()
	want := 10 * math.Log10((1-usual)/(1-much))
	if got := float64(e.FieldTests().Share); math.Abs(got-want) > 1e-9 || want < 0.5 {
		t.Errorf("%.4f dB are put down to the optics, want %.4f", got, want)
	}
}

// TestAFieldWithinNormalLimitsIsFull: a mean deviation of -2 dB is where a field
// counts as harmed (common practice).
func TestAFieldWithinNormalLimitsIsFull(t *testing.T) {
	for dB, want := range map[string]bool{"-1.5": false, "-2.5": true} {
		e := one(t, append([]string{"lens: implant", "pupil_bright_mm: 3"}, lossEverywhere(dB)...)...)
		if _, got := e.Cause(cause.Field); got != want || e.FieldTests().Harmed != want {
			t.Errorf("%s dB everywhere: harmed %v", dB, got)
		}
	}
}
