package casefile

import (
	"fmt"
	"math"
	"strconv"
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

// inUnit writes the sphere's map with another header or another unit: k times the
// heights, or 7.8 mm or 43.27 D everywhere.
func inUnit(column string, value func(h float64) float64) []byte {
	var b strings.Builder
	for i, line := range strings.Split(strings.TrimSpace(sphereMap()), "\n") {
		if i == 0 {
			b.WriteString("x_mm,y_mm," + column + "\n")
			continue
		}
		at := strings.LastIndexByte(line, ',')
		h, err := strconv.ParseFloat(line[at+1:], 64)
		if err != nil {
			panic(err)
		}
		fmt.Fprintf(&b, "%s,%.5f\n", line[:at], value(h))
	}
	return []byte(b.String())
}

func TestAMapInAWrongUnitOrWithAHoleSaysSoInOneSentence(t *testing.T) {
	sphere := sphereMap()
	hole := strings.Replace(sphere, "\n0.60,0.30,", "\n0.60,0.30,NaN", 1)
	lines := strings.SplitAfter(sphere, "\n")
	files := fstest.MapFS{
		"mm.csv":     {Data: inUnit("height_um", func(h float64) float64 { return h / 1000 })},
		"down.csv":   {Data: inUnit("height_um", func(h float64) float64 { return -h })},
		"radius.csv": {Data: inUnit("curvature_d", func(float64) float64 { return 7.8 })},
		"power.csv":  {Data: inUnit("curvature_mm", func(float64) float64 { return 43.27 })},
		"nan.csv":    {Data: []byte(hole)},
		"gone.csv":   {Data: []byte(strings.Join(append(append([]string{}, lines[:200]...), lines[201:]...), ""))},
	}
	const start, end = "c.yaml:5: eyes.right.cornea.map: cannot be used: ", "; hint: the form of a map is described in docs/case.md"
	const noCornea = "which is no cornea; heights must be in µm, positive towards the observer, and of the whole surface, not above a sphere"
	for _, k := range []struct{ file, of, want string }{
		{"mm.csv", "height", noCornea + "; these look like mm"},
		{"down.csv", "height", noCornea + "; these look positive away from the observer"},
		{"radius.csv", "curvature", "radius.csv:2: curvature_d must lie between 20 and 100 (got 7.8); it looks like a radius in mm; then the column is curvature_mm"},
		{"power.csv", "curvature", "power.csv:2: curvature_mm must lie between 3.3 and 17 (got 43.27); it looks like dioptres; then the column is curvature_d"},
		{"nan.csv", "height", `must be a finite number (got "NaN-`},
		{"gone.csv", "height", "gone.csv: no value at (0, -0.3) mm; a map with holes cannot be used: cut it to the part without any"},
	} {
		_, _, err := Parse("c.yaml", []byte(strings.Replace(mapped, "m.csv, layout: grid, of: height", k.file+", layout: grid, of: "+k.of, 1)), files)
		if err == nil || !strings.HasPrefix(err.Error(), start+k.file) || !strings.Contains(err.Error(), k.want) || !strings.HasSuffix(err.Error(), end) || strings.Contains(err.Error(), "\n") {
			t.Errorf("got %v\nwant %s…%s", err, start+k.want, end)
		}
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
