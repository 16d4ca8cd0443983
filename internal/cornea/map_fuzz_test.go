package cornea

import (
	"math"
	"strings"
	"testing"
)

// FuzzReadMap holds that no bytes make the reader panic, and that a map that is
// accepted has a possible cornea and finite terms.
func FuzzReadMap(f *testing.F) {
	ball := func(x, y float64) float64 { return -1000 * conicDepth(7.8, 0)(x, y) }
	f.Add(gridCSV("height_um", 2.4, .4, ball), true, true)
	f.Add(radialCSV("height_um", 2, .5, 16, ball), false, true)
	f.Add(radialCSV("curvature_d", 2, .5, 16, func(x, y float64) float64 { return 43 + x }), false, false)
	f.Add("ring_mm,angle_deg,curvature_d\n"+strings.Repeat("0,0,43\n", 60), false, false)
	f.Add("x_mm,y_mm,height_um\n"+strings.Repeat("0,0,0\n", 60), true, true)
	f.Fuzz(func(t *testing.T, text string, grid, height bool) {
		l, q := Radial, Curvature
		if grid {
			l = Grid
		}
		if height {
			q = Height
		}
		m, err := ReadMap(strings.NewReader(text), "m.csv", l, q)
		if err != nil {
			if m != nil || err.Error() == "" {
				t.Fatalf("map %v beside error %q", m, err)
			}
			return
		}
		if err := m.Terms.Check(); err != nil || !(m.Best.RadiusMM > 4 && m.Best.RadiusMM < 14) || math.IsNaN(m.PathUM(.1, .2)+m.Fine.RMSUM) {
			t.Fatalf("%v: best %+v, terms %v", err, m.Best, m.Terms.C)
		}
	})
}
