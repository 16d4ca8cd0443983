//go:build !race

package cause_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/unit"
)

// mapOfConic resolves a right eye whose cornea is a map of the conic of radius
// 7.8 mm and Q -0.26 and whose reference has no spherical aberration.
func mapOfConic(t *testing.T, more string) *cause.Eye {
	t.Helper()
	return mapCase(t, more, "front")
}

// mapCase writes a case with a map of that conic and resolves its right eye. The
// map is one of the front, of the back with a hill of 1 µm x r² mm on it, or,
// for "", of the front of an eye whose spherical aberration is not stated.
func mapCase(t *testing.T, more, of string) *cause.Eye {
	t.Helper()
	text := map[string]string{
		"": "map: %s", "front": "spherical_aberration_at_6mm_um: 0, map: %s", "back": "back: {map: %s}",
	}[of]
	hill := 0.0
	if of == "back" {
		hill = 1
	}
	var b strings.Builder
	b.WriteString("x_mm,y_mm,height_um\n")
	for j := -20; j <= 20; j++ {
		for i := -20; i <= 20; i++ {
			x, y := .2*float64(i), .2*float64(j)
			r2 := x*x + y*y
			fmt.Fprintf(&b, "%.1f,%.1f,%.5f\n", x, y, -1000*r2/7.8/(1+math.Sqrt(1-.74*r2/7.8/7.8))+hill*x*r2)
		}
	}
	dir := t.TempDir()
	text = head + "  right: {lens: natural, pupil_bright_mm: 3, pupil_dim_mm: 6, " + more + "cornea: {" + fmt.Sprintf(text, "{csv: m.csv, layout: grid, of: height}") + "}}\n"
	for name, data := range map[string]string{"m.csv": b.String(), "c.yaml": text} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	c, _, err := casefile.Load(filepath.Join(dir, "c.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return resolve(t, c, unit.Right)
}

var dim = cause.Viewing{DistanceM: math.Inf(1), PupilMM: 6}

// c(4,0) of that conic at 6 mm is 0.1790 µm (exact trace, computed by a separate
// program, to 5e-4); as much again for the map.
func TestAMapAddsTheSphericalAberrationOfItsCornea(t *testing.T) {
	e := mapOfConic(t, "")
	w := fit(t, state(t, e, cause.Only(cause.Cornea, 1), dim, cause.Refracted), by("cornea"))
	if math.Abs(w.At(4, 0)-.1790) > .001 || math.Abs(w.At(3, 1)) > 1e-3 {
		t.Errorf("c40 %.4f µm, c31 %.4f µm", w.At(4, 0), w.At(3, 1))
	}
	half := fit(t, state(t, e, cause.Only(cause.Cornea, .5), dim, cause.Refracted), by("cornea"))
	if math.Abs(half.At(4, 0)-.0895) > .001 {
		t.Errorf("half of it: c40 %.4f µm", half.At(4, 0))
	}
}

// c(4,0) = 0.4 µm seen through a pupil shifted by +0.25 mm has c(3,1) = +0.2108
// (Arba-Mosquera, Verma and Awwad 2020), and so 0.1790 has +0.0943; orders above
// 4 add a tenth of that at most. In a right eye the nose lies at +x.
func TestAPupilTowardsTheNoseSeesComaInTheMap(t *testing.T) {
	e := mapOfConic(t, "pupil_decentration_mm: 0.25, pupil_direction: in, ")
	w := fit(t, state(t, e, cause.Only(cause.Cornea, 1), dim, cause.Refracted), by("cornea"))
	if math.Abs(w.At(3, 1)-.0943) > .01 {
		t.Errorf("c31 %.4f µm", w.At(3, 1))
	}
}

func TestAPupilWiderThanTheMapIsLimitedToIt(t *testing.T) {
	s := state(t, mapOfConic(t, ""), cause.Only(cause.Cornea, 1), cause.Viewing{DistanceM: math.Inf(1), PupilMM: 8}, cause.Refracted)
	if math.Abs(s.PupilMM-2*(4-.2*math.Sqrt2)) > 1e-9 || !has(s.Notes, "limited to the 7.4 mm") {
		t.Errorf("%g mm, says %q", s.PupilMM, s.Notes)
	}
}
