package light

import (
	"math"
	"testing"
)

// Values of the unified formula (Watson and Yellott 2012) for a round field of
// 60 degrees, computed outside this project; three decimals and the rounding of
// the published constants give 0.002 mm.
func TestPupilFollowsTheUnifiedFormula(t *testing.T) {
	area := math.Pi * 60 * 60 / 4
	for _, c := range []struct{ l, y20, y30, y60, y80, mono30, mono60 float64 }{
		{.01, 7.516, 7.049, 5.647, 4.713, 7.414, 5.906},
		{1, 5.400, 5.120, 4.279, 3.719, 6.303, 5.119},
		{10, 3.983, 3.828, 3.363, 3.053, 5.120, 4.279},
		{100, 2.951, 2.887, 2.696, 2.568, 3.828, 3.363},
		{1000, 2.398, 2.383, 2.338, 2.309, 2.887, 2.696},
	} {
		for _, v := range []struct {
			age  float64
			eyes int
			want float64
		}{{20, 2, c.y20}, {30, 2, c.y30}, {60, 2, c.y60}, {80, 2, c.y80}, {30, 1, c.mono30}, {60, 1, c.mono60}} {
			near(t, "pupil", PupilMM(c.l, area, v.age, v.eyes), v.want, 0.002)
		}
	}
}

func TestTrolandsAreLuminanceTimesArea(t *testing.T) {
	// By definition 1 cd/m² through 1 mm² is 1 td.
	near(t, "td", Trolands(1, 2/math.Sqrt(math.Pi), 1), 1, 1e-12)
	near(t, "pinhole", Trolands(100, 1, 0.5)/Trolands(100, 4, 1), 1.0/32, 1e-12)
}
