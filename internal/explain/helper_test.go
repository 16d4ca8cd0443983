package explain

import (
	"context"
	"strings"
	"sync"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/csf"
	"simview/internal/shares"
	"simview/internal/unit"
)

const head = `
title: A test
invented: true
complaint_eye: right
age_years: 60
eyes:
  right:
`

// parsed resolves a right eye of the given lines.
func parsed(t testing.TB, lines ...string) *cause.Eye {
	t.Helper()
	text := head + "    " + strings.ReplaceAll(strings.Join(lines, "\n"), "\n", "\n    ") + "\n"
	c, _, err := casefile.Parse("test.yaml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := cause.Resolve(c, unit.Right)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Lines of a case. A displaced lens and a leftover cylinder by themselves, and
// what can stand beside them.
const (
	pupils   = "pupil_bright_mm: {value: 3, sd: 0.2}\npupil_dim_mm: {value: 5, sd: 0.3}"
	implant  = "lens: implant\nimplant: {decentration_mm: {value: 0.8, sd: 0.1}, direction: up, tilt_deg: {value: 5, sd: 1}, tilt_axis_deg: 0, power_d: 21, optic_mm: 6, spherical_aberration_at_6mm_um: -0.2}"
	natural  = "lens: natural"
	leftover = "refraction: {kind: manifest, sphere_d: {value: 0, sd: 0.25}, cylinder_d: {value: -1, sd: 0.25}, axis_deg: 90, vertex_mm: 12}\nworn_far: {sphere_d: 0, vertex_mm: 12}"
	scatters = "straylight: {log_s: {value: 1.7, sd: 0.08}, scattered_by: cornea}"
	scar     = "cornea:\n  surface: {kind: grain, rms_um: {value: 1, sd: 0.3}, grain_mm: 0.6, zone_x_mm: 0.5, zone_y_mm: 0, zone_radius_mm: 2, seed: 3}"
	reads    = "acuity: [{logmar: {value: 0.3, sd: 0.05}, with: glasses}]"
)

// lit is an engine of an eye without a scene.
func lit(t testing.TB, e *cause.Eye, night bool) *engine {
	t.Helper()
	if testing.Short() && len(e.Causes) > 2 {
		t.Skip("many states in full")
	}
	g, err := newEngine(e, cause.Viewing{DistanceM: UsualOptions.DistanceM, Night: night}, csf.Models()[0], nil)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// surrogate is that of an eye by day.
func surrogate(t testing.TB, e *cause.Eye) *fast {
	t.Helper()
	g := lit(t, e, false)
	tab, err := g.simulate()
	if err != nil {
		t.Fatal(err)
	}
	f, err := g.newFast(tab, inputs(e))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// share is the share of one cause.
func share(t testing.TB, e *cause.Eye, night bool, id cause.ID, m Measure) float64 {
	t.Helper()
	g := lit(t, e, night)
	r, err := divide(len(g.ids), func(p place) float64 {
		n, err := g.numbers(p.set, p.w)
		if err != nil {
			t.Fatal(err)
		}
		return n.Harm(m)
	})
	if err != nil {
		t.Fatal(err)
	}
	at := g.index(id)
	if at < 0 {
		return 0
	}
	return r.Share[at]
}

// logMAR is the acuity of a set.
func logMAR(t testing.TB, g *engine, s shares.Set, w wear) float64 {
	t.Helper()
	n, err := g.numbers(s, w)
	if err != nil {
		t.Fatal(err)
	}
	return n.LogMAR
}

// tried is the acuity that a trial leaves.
func tried(t testing.TB, g *engine, id string) float64 {
	t.Helper()
	k, err := cause.FindTrial(id)
	if err != nil {
		t.Fatal(err)
	}
	l, err := g.trial(k, id)
	if err != nil {
		t.Fatal(err)
	}
	return l.Numbers.LogMAR
}

// told is one whole story, told once for all tests that read it.
var told = sync.OnceValues(func() (*Story, error) {
	t := &testing.T{}
	o := UsualOptions
	o.Draws = 10
	return Tell(context.Background(), parsed(t, implant, pupils, scatters, reads), o)
})

func story(t testing.TB) *Story {
	t.Helper()
	if testing.Short() {
		t.Skip("a whole story")
	}
	s, err := told()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// numbers are those of a set.
func (g *engine) numbers(s shares.Set, w wear) (Numbers, error) {
	st, err := g.state(s, w)
	if err != nil {
		return Numbers{}, err
	}
	o, err := g.point(st, g.key(s, w))
	if err != nil {
		return Numbers{}, err
	}
	return g.measure(st, o, 1, nil)
}
