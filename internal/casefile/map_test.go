package casefile

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"
)

// sphereMap is a map of a sphere of 7.8 mm radius: h = √(R² - r²) - R.
func sphereMap() string {
	var b strings.Builder
	b.WriteString("x_mm,y_mm,height_um\n")
	for j := -10; j <= 10; j++ {
		for i := -10; i <= 10; i++ {
			x, y := .3*float64(i), .3*float64(j)
			fmt.Fprintf(&b, "%.2f,%.2f,%.4f\n", x, y, 1000*(math.Sqrt(7.8*7.8-x*x-y*y)-7.8))
		}
	}
	return b.String()
}

const mapped = `
title: T
complaint_eye: right
age_years: 60
eyes: {right: {lens: natural, pupil_dim_mm: 5, cornea: {map: {csv: m.csv, layout: grid, of: height}}}}
`

func TestAMapOfACorneaIsReadAndSaidBack(t *testing.T) {
	c, _, err := Parse("c.yaml", []byte(mapped), fstest.MapFS{"m.csv": {Data: []byte(sphereMap())}})
	if err != nil {
		t.Fatal(err)
	}
	if said := strings.Join(c.Understood(), "\n"); !strings.Contains(said, "Right eye: Cornea: map of height (grid) over 5.2 mm: best-fit radius 7.80 mm, Q ") {
		t.Error(said)
	}
}

func TestAMapThatCannotBeUsedIsNamed(t *testing.T) {
	files := fstest.MapFS{"m.csv": {Data: []byte(sphereMap())}, "n.csv": {Data: []byte("x_mm,y_mm,height_mm\n")}}
	at := "c.yaml:5: eyes.right.cornea.map"
	place := "; hint: put the map beside the case file and name it with / between folders"
	for _, k := range []struct{ old, wrong, want string }{
		{"m.csv", "o.csv", at + `.csv: is not there (got "o.csv")` + place},
		{"m.csv", "../m.csv", at + `.csv: must be a file beside the case or below it (got "../m.csv")` + place},
		{"m.csv", "n.csv", at + `: cannot be used: n.csv:1: the first line must be "x_mm,y_mm,height_um" (got "x_mm,y_mm,height_mm"); it names layout, quantity and unit; hint: the form of a map is described in docs/case.md`},
		{"grid", "square", at + `.layout: must be grid or radial (got "square"); hint: write the word as it stands here`},
		{", of: height", "", at + ".of: is missing; hint: write height or curvature"},
		{"{map:", "{surface: {kind: grain, rms_um: 1, grain_mm: 0.5, zone_radius_mm: 1.5}, map:", at + ": stands beside the cornea's wavefront or surface; hint: keep one of them"},
	} {
		_, _, err := Parse("c.yaml", []byte(strings.Replace(mapped, k.old, k.wrong, 1)), files)
		if err == nil || err.Error() != k.want {
			t.Errorf("got %v\nwant %s", err, k.want)
		}
	}
}
