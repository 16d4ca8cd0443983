package cause_test

import (
	"strings"
	"testing"

	"simview/internal/cause"
)

func TestTheSourceOfScatteredLightIsNamed(t *testing.T) {
	for _, source := range []string{"cornea", "lens", "capsule"} {
		e := one(t, "lens: natural", "pupil_dim_mm: 5", "straylight: {log_s: 1.6, scattered_by: "+source+"}")
		c, ok := e.Cause(cause.Scatter)
		if !ok || !strings.Contains(c.Amount, "from the "+source) {
			t.Errorf("%s: %+v", source, c)
		}
	}
}
