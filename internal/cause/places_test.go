package cause_test

import (
	"os"
	"regexp"
	"testing"

	"simview/internal/cause"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/unit"
	"simview/scenes"
)

// stage is a scene set up once for all the causes that are looked for in it.
type stage struct {
	scene   *scene.Scene
	theatre *render.Theatre
	kept    map[cause.Place]pictures // reference views
}

// texture is the grain of a surface in a scene file: at most a sixth of its light,
// and a third of the time that drawing takes.
var texture = regexp.MustCompile(`, texture: \{[^}]*\}`)

// grainless reads a built-in scene without the grain of its surfaces.
func grainless(t *testing.T, id string) *scene.Scene {
	t.Helper()
	name := id + ".yaml"
	text, err := os.ReadFile("../../scenes/" + name)
	if err != nil {
		t.Fatal(err)
	}
	bare := texture.ReplaceAll(text, nil)
	s, err := scene.Parse(name, bare)
	if err != nil || len(bare) == len(text) {
		t.Fatalf("%s without grain: %v", name, err)
	}
	return s
}

type pictures struct{ wide, window *light.Image }

func newStage(t *testing.T, id string) *stage {
	t.Helper()
	part := *grainless(t, id)
	switch id {
	case "harbour-night": // the strip with the window: what shows there shows in the whole
		part.WidthDeg, part.HeightDeg = 20, 5
	case "tide-table": // down to the bare paper; what shows in the wide picture needs no window
		part.WidthDeg, part.HeightDeg = 24, 19
		part.Window = scene.Scene{}.Window
	}
	theatre, err := render.NewTheatre(&part)
	if err != nil {
		t.Fatal(err)
	}
	return &stage{&part, theatre, map[cause.Place]pictures{}}
}

func (st *stage) look(t *testing.T, e *cause.Eye, set cause.Strengths, p cause.Place) pictures {
	t.Helper()
	s := state(t, e, set, cause.Viewing{DistanceM: st.scene.DistanceM, Night: st.scene.Night, PupilMM: p.PupilMM}, cause.Refracted)
	spread, err := render.PSF(s)
	if err != nil {
		t.Fatal(err)
	}
	wide, window, err := st.theatre.Look(render.View{Eye: s, Gaze: p.Gaze}, spread)
	if err != nil {
		t.Fatal(err)
	}
	return pictures{wide.Seen, window.Seen}
}

// shows reports whether a cause at its measured strength differs visibly from
// the reference eye at a place, on the display, as a sheet decides it.
func (st *stage) shows(t *testing.T, e *cause.Eye, id cause.ID, p cause.Place) bool {
	t.Helper()
	key := cause.Place{PupilMM: p.PupilMM, Gaze: p.Gaze}
	ref, ok := st.kept[key]
	if !ok {
		ref = st.look(t, e, nil, p)
		st.kept[key] = ref
	}
	curve := "linear"
	if st.scene.Night {
		curve = "photographic"
	}
	tone, err := light.ToneFor(ref.wide, curve, st.scene.AdaptCdM2)
	if err != nil {
		t.Fatal(err)
	}
	got := st.look(t, e, cause.Only(id, 1), p)
	if p.SizeDeg > 0 {
		return render.Visible(part(t, ref.wide, p), part(t, got.wide, p), tone)
	}
	return render.Visible(ref.wide, got.wide, tone) || render.Visible(ref.window, got.window, tone)
}

// part cuts out the part of a picture that a place means.
func part(t *testing.T, m *light.Image, p cause.Place) *light.Image {
	t.Helper()
	i, j := m.Pixel(float64(p.At.X)-p.SizeDeg/2, float64(p.At.Y)+p.SizeDeg/2)
	g := m.Grid
	g.LeftDeg += float64(int(i)) * g.StepDeg
	g.TopDeg -= float64(int(j)) * g.StepDeg
	g.W, g.H = int(p.SizeDeg/g.StepDeg), int(p.SizeDeg/g.StepDeg)
	out, err := m.Crop(g)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestEveryCauseShowsWhereItSaysAndNotWhereItMustNot looks at the built-in
// case's pictures; what counts as visible is render.Visible, the rule of the
// sheets (5 % of the display over 40 square minutes of arc; own choice).
func TestEveryCauseShowsWhereItSaysAndNotWhereItMustNot(t *testing.T) {
	if testing.Short() {
		t.Skip("computes some fifteen pictures")
	}
	e := demo(t, unit.Right)
	for _, id := range []string{"letters", "tide-table", "harbour-night"} {
		st := newStage(t, id)
		for _, c := range e.Causes {
			if c.Shows.Scene == id && !st.shows(t, e, c.ID, c.Shows) {
				t.Errorf("%s does not show in %s", c.ID, c.Shows.Words)
			}
			if c.Hides.Scene == id && st.shows(t, e, c.ID, c.Hides) {
				t.Errorf("%s shows in %s", c.ID, c.Hides.Words)
			}
		}
	}
}

func TestEveryCauseNamesTwoPlacesInScenesThatExist(t *testing.T) {
	e := demo(t, unit.Right)
	if chart, err := scenes.Builtin("letters"); err != nil || chart.WidthDeg > 15 || chart.HeightDeg > 11.4 {
		t.Errorf("the chart is larger than the part of the field that is looked for: %v", err)
	}
	for _, c := range e.Causes {
		for _, p := range []cause.Place{c.Shows, c.Hides} {
			if _, err := scenes.Builtin(p.Scene); err != nil || p.Words == "" {
				t.Errorf("%s: %q in %q: %v", c.ID, p.Words, p.Scene, err)
			}
		}
		if c.Shows == c.Hides {
			t.Errorf("%s shows and hides in one place", c.ID)
		}
	}
}

// TestALossEverywhereHasNoPlaceThatHidesIt, and the words say so.
func TestALossEverywhereHasNoPlaceThatHidesIt(t *testing.T) {
	e := one(t, append([]string{"lens: implant", "pupil_bright_mm: 3"}, lossEverywhere("-15")...)...)
	c, ok := e.Cause(cause.Field)
	if !ok || c.Hides.Scene != "" || c.Hides.Words == "" {
		t.Errorf("%+v", c)
	}
}
