package eye

import (
	"math"
	"testing"
)

// TestAPinholeCostsLightOnce: behind a hole of 1.2 mm before a pupil of 3 mm, 100 cd/m²
// are 100 (π/4) 1.2² trolands (definition of the troland), however the state says it.
func TestAPinholeCostsLightOnce(t *testing.T) {
	const hole, pupil, l = 1.2, 3.0, 100.0
	want := l * math.Pi / 4 * hole * hole
	tried := State{PupilMM: hole, Light: hole * hole / (pupil * pupil), TdPerCdM2: math.Pi / 4 * pupil * pupil}
	born := State{PupilMM: hole, Light: 1}
	for name, s := range map[string]State{"a hole before a pupil": tried, "a pupil as small": born} {
		if got := s.Trolands(l); math.Abs(got-want) > 1e-12*want {
			t.Errorf("%s: %v td, want %v", name, got, want)
		}
	}
}
