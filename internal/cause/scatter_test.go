package cause_test

import (
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
