package light

import (
	"math"
	"strings"
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

// The published properties: only the product of luminance, area and number of
// eyes counts; at the reference age 28.58 it is the formula of Stanley and Davies,
// written out again for 10 cd/m² over a disc of 60 degrees and two eyes.
func TestPupilDependsOnTheFluxAlone(t *testing.T) {
	near(t, "half the field", PupilMM(10, 400, 50, 2), PupilMM(20, 200, 50, 2), 1e-12)
	near(t, "one eye", PupilMM(10, 400, 50, 1), PupilMM(1, 400, 50, 2), 1e-12)
	q := math.Pow(10*2827.43/846, 0.41)
	near(t, "reference age", PupilMM(10, 2827.43, 28.58, 2), 7.75-5.75*q/(q+2), 1e-12)
}

func TestPupilInLightSaysWhatItCannotKnow(t *testing.T) {
	mm, words, err := PupilInLight(0.3, 660, 68, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mm", mm, PupilMM(0.3, 660, 68, 2), 0)
	if want := "usual for 0.3 cd/m² over 660 deg², both eyes, 68 years"; !strings.Contains(words, want) {
		t.Errorf("%q lacks %q", words, want)
	}
	for _, c := range []struct {
		l, area, age float64
		eyes         int
	}{{0, 100, 50, 2}, {math.NaN(), 100, 50, 2}, {1e6, 100, 50, 2}, {1, 0, 50, 2}, {1, 1e6, 50, 2}, {1, 100, 10, 2}, {1, 100, 95, 2}, {1, 100, math.NaN(), 1}, {1, 100, 50, 3}} {
		if got, _, err := PupilInLight(c.l, c.area, c.age, c.eyes); err == nil {
			t.Errorf("%+v gave %v", c, got)
		}
	}
}

// A pinhole of 1.2 mm instead of 4.3 mm: 2 log10(4.3/1.2) = 1.109 log units.
func TestAPinholeCostsLight(t *testing.T) {
	loss := math.Log10(Trolands(10, 4.3, 1) / Trolands(10, 1.2, 1))
	near(t, "log units", loss, 1.1, 0.01)
}
