package web

import (
	"math"
	"strings"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/inspect"
	"simview/internal/unit"
)

// The numbers are those that the case file states.
func TestTheFactsAreThoseOfTheCase(t *testing.T) {
	_, body, _ := fetched(t, "/api/case")
	f := into[facts](t, body)
	if f.Eye != "right" || len(f.Eyes) != 2 || len(f.Checks) != 6 || len(f.Scenes) < 16 || f.Strength != 3 {
		t.Fatalf("%+v", f)
	}
	right := f.Eyes[0]
	if right.LogMAR == nil || *right.LogMAR != 0.3 || right.SD != 0.05 {
		t.Errorf("measured acuity %v ± %g", right.LogMAR, right.SD)
	}
	var ids []string
	for _, c := range right.Causes {
		ids = append(ids, c.ID)
		if len(c.Quantities) == 0 || c.Quantities[0].One == c.Quantities[0].Zero {
			t.Errorf("%s has no quantity", c.ID)
		}
	}
	if strings.Join(ids, " ") != "lens cylinder cornea scatter field" {
		t.Errorf("causes %v", ids)
	}
}

// `simview inspect` is the second road to the numbers under a pane.
func TestTheNumbersUnderAPaneAreThoseOfInspect(t *testing.T) {
	_, body, _ := fetched(t, "/api/numbers?scene=letters&eye=right&glasses=refitted&set=cylinder:1")
	n := into[numbers](t, body)
	c, err := casefile.Demo()
	if err != nil {
		t.Fatal(err)
	}
	e, err := cause.Resolve(c, unit.Right)
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Eye(e, cause.Only(cause.Cylinder, 1), cause.Viewing{DistanceM: 4}, nil)
	if err != nil {
		t.Fatal(err)
	}
	const rounding = 1e-9 // the same arithmetic
	if math.Abs(n.LogMAR-r.Sight.AcuityLogMAR) > rounding || math.Abs(n.Visual-r.Sight.VisualStrehl*(1-r.Scattered)) > 1e-3 {
		t.Errorf("acuity %g, visual Strehl %g; inspect has %g and %g with %g scattered", n.LogMAR, n.Visual, r.Sight.AcuityLogMAR, r.Sight.VisualStrehl, r.Scattered)
	}
	if n.LogMARLow >= n.LogMAR || n.LogMARHigh <= n.LogMAR || n.Focus == "" {
		t.Errorf("%+v", n)
	}
}
