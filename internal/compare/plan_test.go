package compare_test

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/scene"
	"simview/internal/unit"
)

func demo(t *testing.T) *casefile.Case {
	t.Helper()
	c, err := casefile.Demo()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func shots(t *testing.T, c *casefile.Case, o compare.Options) []compare.Shot {
	t.Helper()
	s, err := compare.Shots(c, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func ids(list []compare.Shot) (out []string) {
	for _, s := range list {
		out = append(out, s.ID)
	}
	return out
}

func TestTheDemoSheetHasEightViews(t *testing.T) {
	got := ids(shots(t, demo(t), compare.Options{Eye: unit.Right}))
	want := []string{"reference", "lens", "cylinder", "cornea", "scatter", "field", "all", "fellow"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("views %v, want %v", got, want)
	}
}

func TestAllButAndTrialsComeBeforeTheFellowEye(t *testing.T) {
	list := shots(t, demo(t), compare.Options{Eye: unit.Right, AllBut: true, Trials: []string{"pinhole", "spectacles"}})
	got := ids(list)
	want := []string{
		"reference", "lens", "cylinder", "cornea", "scatter", "field", "all",
		"all-but-lens", "all-but-cylinder", "all-but-cornea", "all-but-scatter", "all-but-field", "pinhole", "spectacles", "fellow",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("views %v, want %v", got, want)
	}
	seen := map[string]bool{}
	for _, s := range list {
		if seen[s.ID] || s.Name == "" || s.Amount == "" {
			t.Errorf("view %q: twice, or without a name (%q) or amount (%q)", s.ID, s.Name, s.Amount)
		}
		seen[s.ID] = true
	}
}

func TestTheFellowOfALeftEyeIsTheRight(t *testing.T) {
	list := shots(t, demo(t), compare.Options{Eye: unit.Left})
	if got := ids(list); !reflect.DeepEqual(got, []string{"reference", "all", "fellow"}) {
		t.Errorf("views %v", got)
	}
	last := list[len(list)-1]
	if last.Side != unit.Right || len(last.Set) != 5 || last.Name != "The right eye" {
		t.Errorf("fellow: %s eye with %v, called %q", last.Side, last.Set, last.Name)
	}
}

func TestACaseWithOneEyeHasNoFellow(t *testing.T) {
	c := demo(t)
	c.Eyes.Left = nil
	if got := ids(shots(t, c, compare.Options{Eye: unit.Right})); len(got) != 7 || got[6] != "all" {
		t.Errorf("views %v", got)
	}
	if _, err := compare.Shots(c, compare.Options{Eye: unit.Left}); err == nil || !strings.Contains(err.Error(), "describes no left eye") {
		t.Errorf("got %v", err)
	}
}

func TestTrialsThatCannotBeShownAreRefused(t *testing.T) {
	for want, trials := range map[string][]string{
		`trial "magic": not known`:         {"magic"},
		`trial "pinhole": asked for twice`: {"pinhole", "spectacles", "pinhole"},
	} {
		if _, err := compare.Shots(demo(t), compare.Options{Trials: trials}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}

var far = cause.Viewing{DistanceM: math.Inf(1)}

func state(t *testing.T, s compare.Shot) eye.State {
	t.Helper()
	e, err := s.State(far)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// edge is the curvature of a view's focus and leftover error as its path at the pupil's edge, µm.
func edge(e eye.State) float64 {
	return e.Without(func(p eye.Part) bool { return p.By != "focus" && p.By != string(cause.Cylinder) }).PathUM(1, 0.5)
}

// TestAViewsStateIsWhatItsNameSays: the reference has no cause, the fellow is
// the other side, all but one keeps the glasses of the whole.
func TestAViewsStateIsWhatItsNameSays(t *testing.T) {
	states := map[string]eye.State{}
	for _, s := range shots(t, demo(t), compare.Options{Eye: unit.Right, AllBut: true}) {
		states[s.ID] = state(t, s)
	}
	if ref := states["reference"]; ref.Loss() != nil || ref.Side != unit.Right {
		t.Error("the reference eye is not whole")
	}
	if states["fellow"].Side != unit.Left || states["field"].Loss() == nil || states["all-but-field"].Loss() != nil {
		t.Error("side or field of a view is not what its name says")
	}
	if states["scatter"].Glare != states["all"].Glare || states["all-but-scatter"].Glare != states["reference"].Glare {
		t.Error("straylight of a view is not what its name says")
	}
	for _, id := range []string{"all-but-lens", "all-but-cornea", "all-but-field"} {
		if math.Abs(edge(states[id])-edge(states["all"])) > 1e-12 {
			t.Errorf("%s: other glasses than all together", id)
		}
	}
}

// TestATrialIsAppliedToTheEyeAsMeasured, here a pinhole that costs (1.2/3)² of
// the light.
func TestATrialIsAppliedToTheEyeAsMeasured(t *testing.T) {
	list := shots(t, demo(t), compare.Options{Eye: unit.Right, Trials: []string{"pinhole"}})
	s := state(t, list[7])
	if s.PupilMM != 1.2 || math.Abs(s.Light-0.16) > 1e-12 || s.Loss() == nil {
		t.Errorf("%g mm, light %g", s.PupilMM, s.Light)
	}
}

func TestAPupilMayGoOnBeyondItsMeasurementWhenAsked(t *testing.T) {
	text := `
title: t
complaint_eye: right
age_years: 60
eyes:
  right:
    lens: natural
    pupil_bright_mm: 6
    wavefront: {scheme: osa, of: whole-eye, pupil_mm: 4, wavelength_nm: 555, terms_um: {'8': 0.1}}
`
	c, _, err := casefile.Parse("t.yaml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	for asked, want := range map[bool]float64{false: 4, true: 6} {
		if s := state(t, shots(t, c, compare.Options{Extrapolate: asked})[0]); s.PupilMM != want {
			t.Errorf("extrapolate %v: %g mm, want %g", asked, s.PupilMM, want)
		}
	}
}

func TestTheCurveGoesByTheLightUnlessNamed(t *testing.T) {
	day, night := &scene.Scene{}, &scene.Scene{Night: true}
	for _, c := range []struct {
		option string
		s      *scene.Scene
		want   string
	}{
		{compare.ByScene, day, "linear"},
		{compare.ByScene, night, "photographic"},
		{"linear", night, "linear"},
		{"photographic", day, "photographic"},
	} {
		if got := compare.Curve(c.option, c.s); got != c.want {
			t.Errorf("%s, night %v: %s, want %s", c.option, c.s.Night, got, c.want)
		}
	}
	if v := compare.Viewing(&scene.Scene{DistanceM: 0.4, Night: true}); v != (cause.Viewing{DistanceM: 0.4, Night: true}) {
		t.Errorf("looks %+v", v)
	}
}

// TestSettingsComeBackFromARecord through JSON, unchanged.
func TestSettingsComeBackFromARecord(t *testing.T) {
	in := compare.Settings{
		Eye: "left", GazeXDeg: 3.25, GazeYDeg: -2.125, Tone: "linear", AllBut: true, Trials: []string{"pinhole"}, Extrapolate: true,
		Scenes: []string{"letters"}, Photo: &compare.Photo{File: "a.png", SHA256: "00", WidthDeg: 20, WhiteCdM2: 150, DistanceM: 3},
	}
	data, err := json.Marshal(compare.Record{Format: compare.Format, Options: in})
	if err != nil {
		t.Fatal(err)
	}
	var back compare.Record
	if err := json.Unmarshal(data, &back); err != nil || !reflect.DeepEqual(back.Options, in) {
		t.Fatalf("%v: %+v, was %+v", err, back.Options, in)
	}
	o, err := back.Options.Options()
	want := compare.Options{Eye: unit.Left, Gaze: unit.SightPoint{X: 3.25, Y: -2.125}, Tone: "linear", AllBut: true, Trials: []string{"pinhole"}, Extrapolate: true}
	if err != nil || !reflect.DeepEqual(o, want) {
		t.Errorf("%v: %+v, want %+v", err, o, want)
	}
	if _, err := (compare.Settings{Eye: "both"}).Options(); err == nil || !strings.Contains(err.Error(), "must be right or left") {
		t.Errorf("got %v", err)
	}
}

func TestWhatIsAssumedIsSaidOncePerEye(t *testing.T) {
	list := compare.Assumed(shots(t, demo(t), compare.Options{Eye: unit.Right}))
	seen := map[string]bool{}
	var right, left bool
	for _, s := range list {
		if seen[s] {
			t.Errorf("twice: %s", s)
		}
		seen[s] = true
		right, left = right || strings.HasPrefix(s, "right eye: "), left || strings.HasPrefix(s, "left eye: ")
	}
	if !right || !left {
		t.Errorf("an eye is missing: %q", list)
	}
}

// TestEveryOutputSaysWhatItIsNot: the words that must stand on every sheet.
func TestEveryOutputSaysWhatItIsNot(t *testing.T) {
	all := strings.Join(compare.Notice, " ")
	for _, words := range []string{"not a diagnosis", "fitness to drive", "same day", "does not speak against field loss"} {
		if !strings.Contains(all, words) {
			t.Errorf("does not say %q", words)
		}
	}
}
