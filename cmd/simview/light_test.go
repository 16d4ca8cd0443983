//go:build !race

package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"simview/internal/light"
)

func readLit(t *testing.T, args ...string) *lit {
	t.Helper()
	dir := t.TempDir()
	must(t, append([]string{"light", "-o", filepath.Join(dir, "l.png")}, args...)...)
	data, err := os.ReadFile(filepath.Join(dir, "l.json"))
	if err != nil {
		t.Fatal(err)
	}
	l := new(lit)
	if err := json.Unmarshal(data, l); err != nil {
		t.Fatal(err)
	}
	if text := read(t, filepath.Join(dir, "l.csv")); strings.Count(text, "\n") < 1000 || !strings.HasPrefix(text, "quantity,view,at,at_unit,value,unit\n") {
		t.Errorf("csv: %.80q", text)
	}
	return l
}

var keptFour *lit

// throughFour is the light of a point through 4 mm, made once for all tests.
func throughFour(t *testing.T) *lit {
	t.Helper()
	if keptFour == nil {
		keptFour = readLit(t, "--pupil-mm", "4")
	}
	return keptFour
}

// All the light of a point is somewhere: the integral over solid angle of what is
// plotted is 1, to 3 % for 200 places over six decades and the tail's joint. The
// veil is the CIE general function of the age from 2 degrees on, to 3 % plus what
// the clinic's norm differs from it.
func TestThePlottedLightOfAPointIsAllOfIt(t *testing.T) {
	l := throughFour(t)
	for _, v := range l.Views {
		if sum := hemisphereOf(l.AngleDeg, v.PointPerSr); math.Abs(sum-1) > 0.03 {
			t.Errorf("%s: %.4f of the light is in the curve", v.ID, sum)
		}
		if v.MTF[0] > 1-v.Scattered+1e-3 {
			t.Errorf("%s: contrast %v is more than scatter leaves", v.ID, v.MTF[0])
		}
	}
	if len(l.Views) < 3 || l.Views[0].ID != "reference" || l.Views[len(l.Views)-1].ID != "all" {
		t.Fatalf("%d views", len(l.Views))
	}
	for i, deg := range l.AngleDeg {
		if deg < 2 || deg > 30 {
			continue
		}
		g, err := light.GlareFromLogS(l.Views[0].LogS, light.NormAtDeg, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		general := 10/math.Pow(deg, 3) + 0.0025*0.5 + g.Scale*(5/(deg*deg)+0.1*0.5/deg)
		if v := l.Views[0].VeilPerSr[i]; math.Abs(v/general-1) > 0.03 {
			t.Errorf("veil at %.2f degrees is %v, the function gives %v", deg, v, general)
		}
	}
}

// hemisphereOf integrates a curve by trapezoids in the log of the angle; inside
// the first place it is level.
func hemisphereOf(deg, perSr []float64) float64 {
	rad := math.Pi / 180
	sum := math.Pi * math.Pow(deg[0]*rad, 2) * perSr[0]
	f := func(i int) float64 { return perSr[i] * 2 * math.Pi * math.Sin(deg[i]*rad) * deg[i] * rad }
	for i := 1; i < len(deg); i++ {
		sum += (f(i-1) + f(i)) / 2 * math.Log(deg[i]/deg[i-1])
	}
	return sum
}

// The two formulas differ by up to 0.12 D, so the curves differ, a little.
func TestTheFocusByWavelengthIsAChoice(t *testing.T) {
	a, b := throughFour(t), readLit(t, "--pupil-mm", "4", "--lca", "atchison-smith")
	var most float64
	for i, v := range a.Views[0].MTF {
		most = math.Max(most, math.Abs(v-b.Views[0].MTF[i]))
	}
	if most < 1e-4 || most > 0.05 {
		t.Errorf("largest difference of the MTF %v", most)
	}
	if a.LCA != "thibos" || b.LCA != "atchison-smith" {
		t.Errorf("%q and %q", a.LCA, b.LCA)
	}
}
