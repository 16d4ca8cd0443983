package explain

import (
	"strings"
	"testing"

	"simview/internal/cause"
)

// TestNumbersMoveAsAClinicianExpects changes one thing in an eye at a time. What is
// expected is common knowledge of the clinic, not of this program.
func TestNumbersMoveAsAClinicianExpects(t *testing.T) {
	with := func(lines, old, changed string) string {
		if !strings.Contains(lines, old) {
			t.Fatalf("%q is not in %q", old, lines)
		}
		return strings.Replace(lines, old, changed, 1)
	}
	field := func(db string) string {
		return "fields: [{pattern: free, eye: right, x_is: as-patient-sees, kind: total-deviation, points: [" + points(db) + "]}]"
	}
	for _, c := range []struct {
		name       string
		less, more []string // lines of a case
		number     func(t *testing.T, lines []string) float64
		least      float64 // by how much it must grow at least
		quick      bool    // also in short runs
	}{
		{name: "a lens further off has a larger share of letters in dim light", less: []string{with(implant, "value: 0.8", "value: 0.4"), pupils, scatters}, more: []string{implant, pupils, scatters}, number: shareOfLine(true, cause.Lens, Letters), least: 0.05},
		{name: "a wider dim pupil gives a displaced lens a larger share", less: []string{implant, with(pupils, "value: 5,", "value: 4,"), scatters}, more: []string{implant, pupils, scatters}, number: shareOfLine(true, cause.Lens, Letters), least: 0.05},
		{name: "more leftover cylinder has a larger share", less: []string{natural, pupils, leftover, scatters}, more: []string{natural, pupils, with(leftover, "value: -1", "value: -2"), scatters}, number: shareOfLine(false, cause.Cylinder, Letters), least: 0.1},
		{name: "a rougher cornea has a larger share", less: []string{natural, pupils, scar, scatters}, more: []string{natural, pupils, with(scar, "value: 1,", "value: 2,"), scatters}, number: shareOfLine(false, cause.Cornea, Letters), least: 0.05},
		{name: "more straylight has a larger share of contrast", less: []string{natural, pupils, with(scatters, "1.7", "1.4")}, more: []string{natural, pupils, scatters}, number: shareOfLine(false, cause.Scatter, Contrast), least: 0.05},
		{name: "a deeper loss where the eye reads has a larger share of letters", less: []string{natural, pupils, field("-6")}, more: []string{natural, pupils, field("-15")}, number: shareOfLine(false, cause.Field, Letters), least: 0.1},
		{name: "glasses that fit leave no cylinder to explain", less: []string{natural, pupils, with(leftover, "worn_far: {sphere_d: 0", "worn_far: {sphere_d: 0, cylinder_d: -1, axis_deg: 90"), scatters}, more: []string{natural, pupils, leftover, scatters}, number: shareOfLine(false, cause.Cylinder, Letters), least: 0.05},
		{name: "a pinhole gains more where glasses leave more over", less: []string{natural, pupils, leftover}, more: []string{natural, pupils, with(leftover, "value: -1", "value: -2.5")}, number: gainBy("pinhole"), least: 0.1},
		{name: "a pinhole gains more from blur than from scatter", less: []string{natural, pupils, scatters}, more: []string{natural, pupils, leftover}, number: gainBy("pinhole"), least: 0.05},
		{name: "a rigid lens gains more from a rough cornea than from scatter", less: []string{natural, pupils, scatters}, more: []string{natural, pupils, scar}, number: gainBy("rigid-lens"), least: 0.02},
		{name: "a displaced lens reads worse in dim light than in bright", less: []string{implant, pupils}, more: []string{implant, with(pupils, "value: 3,", "value: 5,")}, number: readsByDay, least: 0.1},
		{name: "worse measured acuity leaves more unexplained", less: []string{natural, pupils, scatters, reads}, more: []string{natural, pupils, scatters, with(reads, "value: 0.3", "value: 0.6")}, number: unexplained, least: 0.29, quick: true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if testing.Short() && !c.quick {
				t.Skip("two eyes in full")
			}
			if low, high := c.number(t, c.less), c.number(t, c.more); !(high-low >= c.least) {
				t.Errorf("%.3f, then %.3f", low, high)
			}
		})
	}
}

// points are those of a square of places with one loss, inside 9 degrees.
func points(db string) string {
	var out []string
	for _, x := range []string{"-9", "-6", "-3", "-1", "1", "3", "6", "9"} {
		for _, y := range []string{"-9", "-6", "-3", "-1", "1", "3", "6", "9"} {
			out = append(out, "{x_deg: "+x+", y_deg: "+y+", value_db: "+db+"}")
		}
	}
	return strings.Join(out, ", ")
}

func shareOfLine(night bool, id cause.ID, m Measure) func(*testing.T, []string) float64 {
	return func(t *testing.T, lines []string) float64 { return share(t, parsed(t, lines...), night, id, m) }
}

func gainBy(trial string) func(*testing.T, []string) float64 {
	return func(t *testing.T, lines []string) float64 {
		g := lit(t, parsed(t, lines...), false)
		return tried(t, g, "pupil-small:diameter_mm=9") - tried(t, g, trial)
	}
}

func readsByDay(t *testing.T, lines []string) float64 {
	g := lit(t, parsed(t, lines...), false)
	return logMAR(t, g, g.all(), suited)
}

func unexplained(t *testing.T, lines []string) float64 {
	e := parsed(t, lines...)
	a, _ := acuityWith(e, "glasses")
	return a.LogMAR.V - readsByDay(t, lines)
}
