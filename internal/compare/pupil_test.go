package compare

import (
	"math"
	"strings"
	"testing"

	"simview/internal/light"
	"simview/internal/scene"
)

// The unified formula (Watson and Yellott 2012), which package light holds to
// published values, with the scene's light and size.
func TestThePupilFollowsTheLightOfTheSceneWhenAskedTo(t *testing.T) {
	s := &scene.Scene{AdaptCdM2: 0.3, WidthDeg: 30, HeightDeg: 22, DistanceM: 50, Night: true}
	v, words, err := Options{PupilFromLight: true}.Viewing(s, 68)
	if err != nil {
		t.Fatal(err)
	}
	if want := light.PupilMM(0.3, 660, 68, 2); math.Abs(v.PupilMM-want) > 1e-12 || !strings.Contains(words, "0.3 cd/m² over 660 deg²") || !v.Night {
		t.Errorf("%+v, %q, want %v mm", v, words, want)
	}
	if v, words, err = (Options{PupilFromLight: true, OneEye: true}).Viewing(s, 68); err != nil || math.Abs(v.PupilMM-light.PupilMM(0.3, 660, 68, 1)) > 1e-12 || !strings.Contains(words, "one eye") {
		t.Errorf("one eye: %+v, %q, %v", v, words, err)
	}
	if v, words, err = (Options{}).Viewing(s, 68); err != nil || v.PupilMM != 0 || words != "" {
		t.Errorf("not asked for: %+v, %q, %v", v, words, err)
	}
	if _, _, err = (Options{PupilFromLight: true}).Viewing(s, 8); err == nil {
		t.Error("a child's pupil was worked out")
	}
}
