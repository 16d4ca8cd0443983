package compare_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/unit"
	"simview/scenes"
)

func TestFurtherFixationsAndBothEyesAreViewsOfTheirOwn(t *testing.T) {
	o := compare.Options{Eye: unit.Right, MoreGazes: []unit.SightPoint{{X: 8, Y: 3}, {X: -4}}, BothEyes: true, Field: compare.FieldAs{Draw: 2, Seed: 1}}
	list := shots(t, demo(t), o)
	want := []string{"reference", "lens", "cylinder", "cornea", "scatter", "field", "all", "all-gaze-2", "all-gaze-3", "fellow", "both-eyes"}
	if got := ids(list); !reflect.DeepEqual(got, want) {
		t.Fatalf("views %v, want %v", got, want)
	}
	if g := list[7].Gaze; g == nil || g.X != 8 || g.Y != 3 || list[6].Gaze != nil || list[8].Gaze.X != -4 {
		t.Errorf("gazes %v, %v", list[7].Gaze, list[8].Gaze)
	}
	if b := list[10]; b.Fellow == nil || b.Fellow.Side != unit.Left || b.Side != unit.Right {
		t.Errorf("both eyes: %+v", b)
	}
	for _, s := range list {
		if s.Field.Draw != 2 {
			t.Errorf("%s is drawn with field %+v", s.ID, s.Field)
		}
	}
}

// The note on a panel says which field it is; a view without lost field has none.
func TestAnEquallyLikelyFieldIsNoted(t *testing.T) {
	list := shots(t, demo(t), compare.Options{Eye: unit.Right, Field: compare.FieldAs{Draw: 2, Seed: 9}})
	for _, s := range list[:7] {
		e := state(t, s)
		noted := strings.Contains(strings.Join(e.Notes, ";"), "equally likely field 2 of seed 9")
		if want := s.Set[cause.Field] > 0; noted != want {
			t.Errorf("%s: notes %q", s.ID, e.Notes)
		}
	}
}

func TestFieldsOfAStripDifferInTheFieldAlone(t *testing.T) {
	e := demoEye(t)
	as := []compare.FieldAs{{}, {Draw: 1, Seed: 1}, {Years: 5, Rate: -0.4, Of: "untreated", Which: "median"}}
	list, err := compare.FieldShots(e, as)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 4 || list[0].ID != "reference" || !strings.Contains(list[3].Name, "After 5 years") || !strings.Contains(list[3].Amount, "not a forecast") {
		t.Fatalf("%+v", list)
	}
	var losses []float64
	for _, s := range list[1:] {
		st := state(t, s)
		losses = append(losses, st.Loss()(3, -15))
		if len(s.Set) != 1 {
			t.Errorf("%s has %v", s.ID, s.Set)
		}
	}
	if losses[0] == losses[1] || losses[2] <= losses[0] {
		t.Errorf("losses %v: as measured, drawn, after 5 years", losses)
	}
}

func demoEye(t *testing.T) *cause.Eye {
	t.Helper()
	e, err := cause.Resolve(demo(t), unit.Right)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// What the demo case was made for, on two scenes: what is fixated stays clear, the
// fence or the print fades where the field is lost, nothing turns darker than the
// scene around is, the same eye with its optics put right still shows the loss,
// and optics and field together leave less contrast than either. The shares are
// the project's own; the darkest point is looked for within 2.5 degrees.
func TestFieldAndOpticsTogetherAreWorseThanEither(t *testing.T) {
	if testing.Short() {
		t.Skip("eight pictures")
	}
	for _, id := range []string{"fence", "tide-table"} {
		p := fourViews(t, id)
		ref, field, optics, all := p.of["reference"], p.of["field"], p.of["optics"], p.of["all"]
		lost := func(x, y float64) bool { return y > -8 && y < -5 && x > -4 && x < 4 }
		fixated := func(x, y float64) bool { return y > 0.4 && y < 2 && math.Abs(x) < 1.5 }
		if r := detail(field, fixated) / detail(ref, fixated); r < 0.9 {
			t.Errorf("%s: at fixation %.2f of the detail is left", id, r)
		}
		if r := detail(field, lost) / detail(ref, lost); r > 0.3 {
			t.Errorf("%s: where the field is lost %.2f of the detail is left", id, r)
		}
		for name, m := range map[string]*light.Image{"field": field, "all": all} {
			if base := map[string]*light.Image{"field": ref, "all": optics}[name]; darker(m, base) {
				t.Errorf("%s, %s: a place is darker than anything near it", id, name)
			}
		}
		border := func(x, y float64) bool { l := p.loss(x, y); return l > 3 && l < 15 }
		both, f, o := detail(all, border), detail(field, border), detail(optics, border)
		if whole := detail(ref, border); !(both < 0.9*f && both < 0.9*o && f < 0.95*whole && o < 0.95*whole) {
			t.Errorf("%s: of %.3g, the field leaves %.3g, the optics %.3g, both %.3g", id, whole, f, o, both)
		}
	}
}

// On a road at night, lamps in the lost part cover at most a tenth more area above
// the display's white than without the loss: headlamps above their shine on a wet
// road, where glow and surface run into each other. (Not so under a veil: with all the
// demo's causes it is 15 % more, see docs/architecture.md.)
func TestHeadlampsOnAWetRoadDoNotGrow(t *testing.T) {
	if testing.Short() {
		t.Skip("four pictures")
	}
	const white = 3 // cd/m²: ten times the adaptation of the scene, its tone's white
	p := fourViews(t, "harbour-night")
	was, now := whiter(p.of["reference"], white), whiter(p.of["field"], white)
	if was == 0 || float64(now) > 1.1*float64(was) {
		t.Errorf("%d samples above white, %d without the loss", now, was)
	}
}

// whiter counts the samples above a luminance.
func whiter(m *light.Image, white float32) (n int) {
	for _, l := range m.Luminance(nil) {
		if l > white {
			n++
		}
	}
	return n
}

// views are pictures of one scene, and the loss of the demo's right eye.
type views struct {
	of   map[string]*light.Image
	loss func(x, y float64) float64
}

func fourViews(t *testing.T, id string) views {
	t.Helper()
	e := demoEye(t)
	s, err := scenes.Builtin(id)
	if err != nil {
		t.Fatal(err)
	}
	theatre, err := render.NewTheatre(s)
	if err != nil {
		t.Fatal(err)
	}
	theatre.Window = nil
	out := views{of: map[string]*light.Image{}}
	for name, set := range map[string]cause.Strengths{"reference": {}, "field": cause.Only(cause.Field, 1), "optics": e.AllBut(cause.Field), "all": e.All()} {
		g := cause.Refracted
		if len(set) > 1 {
			g = cause.Same
		}
		st, err := e.State(set, compare.Viewing(s), g)
		if err != nil {
			t.Fatal(err)
		}
		if name == "field" {
			out.loss = st.Loss()
		}
		out.of[name] = seenBy(t, theatre, st)
	}
	return out
}

func seenBy(t *testing.T, theatre *render.Theatre, st eye.State) *light.Image {
	t.Helper()
	spread, err := render.PSF(st)
	if err != nil {
		t.Fatal(err)
	}
	wide, _, err := theatre.Look(render.View{Eye: st}, spread)
	if err != nil {
		t.Fatal(err)
	}
	return wide.Seen
}

// detail is the root mean square of the difference between a sample and the mean of
// the four that lie 6 minutes of arc away, over the mean, where in is true.
func detail(m *light.Image, in func(x, y float64) bool) float64 {
	const off = 6
	l := m.Luminance(nil)
	sum, mean, n := 0.0, 0.0, 0.0
	for j := off; j < m.H-off; j++ {
		for i := off; i < m.W-off; i++ {
			if x, y := m.Centre(i, j); in(x, y) {
				q := j*m.W + i
				d := float64(l[q] - (l[q-off]+l[q+off]+l[q-off*m.W]+l[q+off*m.W])/4)
				sum, mean, n = sum+d*d, mean+float64(l[q]), n+1
			}
		}
	}
	return math.Sqrt(sum/n) / (mean / n)
}

// darker reports whether any sample (one in 48 each way) of the seen picture is
// darker than the darkest of the scene within 2.5 degrees, beyond rounding.
func darker(seen, base *light.Image) bool {
	a, b := seen.Luminance(nil), base.Luminance(nil)
	const reach, every = 150, 48
	for j := 0; j < seen.H; j += every {
		for i := 0; i < seen.W; i += every {
			least := float32(math.Inf(1))
			for v := max(j-reach, 0); v < min(j+reach, seen.H); v++ {
				for u := max(i-reach, 0); u < min(i+reach, seen.W); u++ {
					least = min(least, b[v*seen.W+u])
				}
			}
			if a[j*seen.W+i] < 0.995*least {
				return true
			}
		}
	}
	return false
}
