package eye_test

import (
	"testing"

	"simview/internal/eye"
	"simview/internal/unit"
)

// TestAValuesOriginIsThatOfThePartItMade, in the same word; a missing one has
// none.
func TestAValuesOriginIsThatOfThePartItMade(t *testing.T) {
	for _, o := range []unit.Origin{unit.Measured, unit.Typical, unit.Assumed} {
		if got := eye.OriginOf(o).String(); got != o.String() {
			t.Errorf("%s became %s", o, got)
		}
	}
	if eye.OriginOf(unit.Missing) != eye.NotStated || eye.Origin(99).String() != "unknown origin" {
		t.Error("an origin was made up")
	}
}
