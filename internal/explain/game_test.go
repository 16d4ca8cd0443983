package explain

import (
	"math"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/shares"
	"simview/internal/unit"
)

// sameState fails unless two states have the same light, wavefront and field.
func sameState(t *testing.T, name string, a, b eye.State) {
	t.Helper()
	const rounding = 1e-12 // µm: the same parts summed in another order
	if a.PupilMM != b.PupilMM || a.Glare != b.Glare || a.FieldK != b.FieldK || (a.Loss() == nil) != (b.Loss() == nil) {
		t.Errorf("%s: pupil %g and %g, glare %v and %v, field %g and %g", name, a.PupilMM, b.PupilMM, a.Glare, b.Glare, a.FieldK, b.FieldK)
	}
	for _, p := range [][2]float64{{0, 0}, {1, 0}, {-0.7, 1.1}, {0.3, -1.3}} {
		if u, v := a.PathUM(p[0], p[1]), b.PathUM(p[0], p[1]); math.Abs(u-v) > rounding {
			t.Errorf("%s: path at %v is %v and %v µm", name, p, u, v)
		}
	}
}

// TestTheGameIsPlayedOnTheStatesOfThePanels: the value of no cause is that of the
// reference panel, of all causes that of all together, of all but one in own
// glasses that of its panel; and of one cause that of the cause alone, but for the
// lens, which brings its share of the error in the glasses along.
func TestTheGameIsPlayedOnTheStatesOfThePanels(t *testing.T) {
	c, err := casefile.Demo()
	if err != nil {
		t.Fatal(err)
	}
	shots, err := compare.Shots(c, compare.Options{Eye: unit.Right, AllBut: true})
	if err != nil {
		t.Fatal(err)
	}
	e, err := cause.Resolve(c, unit.Right)
	if err != nil {
		t.Fatal(err)
	}
	for _, night := range []bool{false, true} {
		v := cause.Viewing{DistanceM: 40, Night: night}
		g, err := bareEngine(e, v)
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]place{"reference": {0, suited}, "all": {g.all(), suited}}
		for i, id := range g.ids {
			want["all-but-"+string(id)] = place{g.all().Without(i), own}
			if id != cause.Lens {
				want[string(id)] = place{shares.Set(0).With(i), suited}
			}
		}
		found := 0
		for _, shot := range shots {
			p, ok := want[shot.ID]
			if !ok || shot.Side != unit.Right {
				continue
			}
			found++
			panel, err := shot.State(v)
			if err != nil {
				t.Fatal(err)
			}
			state, err := g.state(p.set, p.w)
			if err != nil {
				t.Fatal(err)
			}
			sameState(t, shot.ID, panel, state)
		}
		if found != len(want) {
			t.Errorf("%d of %d panels found", found, len(want))
		}
	}
}

// TestAKeyNamesOneWavefront: states that share a point spread have one path.
func TestAKeyNamesOneWavefront(t *testing.T) {
	g := lit(t, parsed(t, implant, pupils, leftover, scatters), false)
	first := map[string]eye.State{}
	for _, p := range g.places() {
		q := g.plain(p)
		simple, err := g.state(q.set, q.w)
		if err != nil {
			t.Fatal(err)
		}
		if same, err := g.state(p.set, p.w); err != nil || q != p {
			sameState(t, "the simplest place", same, simple)
		}
		s, err := g.state(p.set, p.w)
		if err != nil {
			t.Fatal(err)
		}
		key := g.key(p.set, p.w)
		if was, ok := first[key]; ok {
			s.Glare = was.Glare
			sameState(t, key, was, s)
		}
		first[key] = s
	}
	if len(first) >= len(g.places()) || len(first) < 4 {
		t.Errorf("%d wavefronts for %d states", len(first), len(g.places()))
	}
}

func TestSharesOfAStoryAddUpToWhatIsLost(t *testing.T) {
	s := story(t)
	const rounding = 1e-9
	for _, l := range s.Lights {
		for _, m := range Measures {
			var sum float64
			for _, c := range l.Causes {
				sum += c.Share[m].Value
			}
			if want := l.Now.Harm(m) - l.Reference.Harm(m); math.Abs(sum-want) > rounding {
				t.Errorf("%s, measure %d: shares add up to %v of %v", l.Name, m, sum, want)
			}
		}
	}
}

// TestAFieldLossFarFromFixationHasNoShareOfLetters and not of contrast read there
// either: a cause that changes nothing.
func TestAFieldLossFarFromFixationHasNoShareOfLetters(t *testing.T) {
	ring := "fields: [{pattern: free, eye: right, x_is: as-patient-sees, kind: total-deviation, points: [{x_deg: -1, y_deg: -1, value_db: 0}, {x_deg: 1, y_deg: -1, value_db: 0}, {x_deg: -1, y_deg: 1, value_db: 0}, {x_deg: 1, y_deg: 1, value_db: 0}, {x_deg: 12, y_deg: -12, value_db: -25}, {x_deg: 15, y_deg: -15, value_db: -25}, {x_deg: 15, y_deg: -12, value_db: -25}, {x_deg: 12, y_deg: -15, value_db: -25}]}]"
	e := parsed(t, natural, pupils, scatters, ring)
	if _, ok := e.Cause(cause.Field); !ok {
		t.Fatal("the field is no cause")
	}
	for _, m := range []Measure{Letters, Contrast} {
		if got := share(t, e, false, cause.Field, m); math.Abs(got) > 1e-9 {
			t.Errorf("measure %d: share %v", m, got)
		}
	}
}

// TestPutRightIsAllLessAllButOne of the table, by hand for the lens.
func TestPutRightIsAllLessAllButOne(t *testing.T) {
	g := lit(t, parsed(t, implant, pupils, leftover, scatters), false)
	tab, err := g.simulate()
	if err != nil {
		t.Fatal(err)
	}
	i := g.index(cause.Lens)
	same, renewed := g.right(i, tab.harms(Letters))
	wantSame := logMAR(t, g, g.all(), own) - logMAR(t, g, g.all().Without(i), own)
	wantNew := logMAR(t, g, g.all(), fresh) - logMAR(t, g, g.all().Without(i), fresh)
	if math.Abs(same-wantSame) > 1e-9 || math.Abs(renewed-wantNew) > 1e-9 {
		t.Errorf("%v and %v, want %v and %v", same, renewed, wantSame, wantNew)
	}
}
