package fieldmask

import (
	"math"
	"strings"
	"testing"

	"simview/internal/light"
	"simview/internal/unit"
)

func TestTheFieldMovesWithTheGaze(t *testing.T) {
	g := light.GridAround(0, 0, 480, 320, 0.05)
	m := grey(g, func(x, y float64) float64 {
		return 50 * (1 + 0.3*math.Cos(2*math.Pi*2*x)*math.Cos(2*math.Pi*2*y))
	})
	loss := func(x, y float64) float64 { return 27 * (1 - smoothStep((math.Hypot(x-6, y-3)-1)/0.7)) }
	out, _ := See(lit(m), loss, Options{Gaze: pt(4, -5)})
	var sx, sy, n float64
	for q := range m.G {
		x, y := g.Centre(q%g.W, q/g.W)
		w := math.Abs(float64(m.G[q] - out.G[q]))
		if w < 1 {
			continue
		}
		sx, sy, n = sx+w*x, sy+w*y, n+w
	}
	if math.Abs(sx/n-10) > 0.1 || math.Abs(sy/n+2) > 0.1 { // a fifth of the hole's border
		t.Errorf("a hole at (+6, +3) with the gaze at (4, -5) lies at (%.2f, %.2f), must at (10, -2)", sx/n, sy/n)
	}
}

func TestTwentyFourTwoReachesTowardsTheNose(t *testing.T) {
	for side, nose := range map[unit.Side]float64{unit.Right: -27, unit.Left: 27} {
		at, _ := Pattern("24-2", side)
		for _, p := range at {
			if math.Abs(float64(p.X)) == 27 && float64(p.X) != nose {
				t.Errorf("%v eye: a place at %v", side, p)
			}
		}
	}
}

func TestWaysOfWritingXAgree(t *testing.T) {
	// (sign of x in the file for a place to the temple) by eye and rule
	want := map[string]map[unit.Side]float64{
		"as-patient-sees":  {unit.Right: 5, unit.Left: 5},
		"nasal-positive":   {unit.Right: -5, unit.Left: 5},
		"right-eye-format": {unit.Right: 5, unit.Left: -5},
	}
	for rule, sides := range want {
		for side, x := range sides {
			text := "x_deg,y_deg,sensitivity_db\n5,1,30\n5,2,30\n5,3,30\n5,4,30\n"
			f, _, err := ReadCSV(strings.NewReader(text), "a", Meta{Side: side, XIs: rule, Pattern: "free", Kind: Sensitivity})
			if err != nil {
				t.Fatal(err)
			}
			if got := float64(f.Points[0].At.X); got != x {
				t.Errorf("%s, %v eye: x = 5 is read as %v, want %v", rule, side, got, x)
			}
		}
	}
}

func TestBlindSpotLiesTowardsTheTempleAndDown(t *testing.T) {
	if !InBlindSpot(unit.Right, 15.5, -1.5) || !InBlindSpot(unit.Left, -15.5, -1.5) || InBlindSpot(unit.Right, -15.5, -1.5) {
		t.Error("the blind spot is on the wrong side")
	}
	if !InBlindSpot(unit.Right, 15.5, -5) || InBlindSpot(unit.Right, 15.5, 3) {
		t.Error("the blind spot must lie below the midline")
	}
}

func TestUpIsUpAndNegativeDeviationIsLoss(t *testing.T) {
	s := mustSurface(t, patternField(t, "24-2", unit.Right, TotalDeviation, upperLoss))
	if !(s.LossDB(-9, 9) > 20 && s.LossDB(-9, -9) == 0) {
		t.Error("loss of the upper field must lie at y > 0 and be positive")
	}
	m := street(0.05)
	out, _ := See(lit(m), s.LossDB, Options{})
	if rmsContrast(out, -5, 2, 1.5) > rmsContrast(m, -5, 2, 1.5)/2 || rmsContrast(out, -5, -3, 1.5) < 0.98*rmsContrast(m, -5, -3, 1.5) {
		t.Error("the upper fence must fade and the lower print stay")
	}
}

func TestALeftEyeIsARightEyeInAMirror(t *testing.T) {
	loss := func(x, y float64) float64 { return -math.Abs(x+5) / 2 * (1 + y/30) }
	r := mustSurface(t, patternField(t, "24-2", unit.Right, TotalDeviation, loss))
	l := mustSurface(t, patternField(t, "24-2", unit.Left, TotalDeviation, func(x, y float64) float64 { return loss(-x, y) }))
	for x := -26.0; x <= 26; x += 3.3 {
		for y := -20.0; y <= 20; y += 3.3 {
			a, b := r.LossDB(x, y), l.LossDB(-x, y)
			if math.Abs(a-b) > 1e-4 || math.Abs(r.SD(x, y)-l.SD(-x, y)) > 1e-3 || r.Known(x, y) != l.Known(-x, y) { // float32
				t.Fatalf("at (%v, %v) the right eye lacks %v dB, the left eye in the mirror %v", x, y, a, b)
			}
		}
	}
	if r.LossDB(20, 5) < r.LossDB(-12, 5)+3 {
		t.Error("the loss must grow to the right of this right eye")
	}
}
