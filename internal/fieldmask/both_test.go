//go:build !race

package fieldmask

import (
	"math"
	"testing"

	"simview/internal/unit"
)

// Check values of the rule of summation: equal eyes +1.505 dB, 30 and 27 dB
// 30.49, 30 and 20 dB 30.02 (arithmetic of the published rule).
func TestTwoEyesAddUpByThePublishedRules(t *testing.T) {
	for _, c := range []struct{ r, l, sum, best float64 }{{30, 30, 31.505, 30}, {30, 27, 30.97 - 0.483, 30}, {30, 20, 30.02, 30}, {20, 30, 30.02, 30}, {math.Inf(-1), 24, 24, 24}} {
		if got := Summation.add(c.r, c.l); math.Abs(got-c.sum) > 6e-3 { // two decimals
			t.Errorf("%v and %v dB: %v, want %v", c.r, c.l, got, c.sum)
		}
		if got := BetterEye.add(c.r, c.l); got != c.best {
			t.Errorf("%v and %v dB: better eye %v, want %v", c.r, c.l, got, c.best)
		}
	}
}

func even(t *testing.T, side unit.Side, loss float64) *Surface {
	t.Helper()
	return mustSurface(t, patternField(t, "24-2", side, TotalDeviation, func(x, y float64) float64 { return -loss }))
}

func mustBoth(t *testing.T, r, l *Surface, rule Rule) *Binocular {
	t.Helper()
	b, err := Both(r, l, rule)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestTheBetterEyeHidesTheLossOfTheOther(t *testing.T) {
	r := even(t, unit.Right, 18)
	for _, rule := range []Rule{Summation, BetterEye} {
		b := mustBoth(t, r, nil, rule)       // the left eye is full
		if got := b.LossDB(-9, 9); got > 2 { // 1.5 dB for equal eyes, and half of what the norms of nose and temple differ by
			t.Errorf("%v: %.2f dB lacking with a full left eye", rule, got)
		}
		same := mustBoth(t, r, even(t, unit.Left, 18), rule)
		if got := same.LossDB(3, 3); math.Abs(got-18) > 1e-3 {
			t.Errorf("%v: %.2f dB lacking of two eyes that lack 18", rule, got)
		}
	}
}

func TestTheFellowEyeFillsTheBlindSpot(t *testing.T) {
	r, l := even(t, unit.Right, 18), even(t, unit.Left, 4)
	b := mustBoth(t, r, l, BetterEye)
	if got := b.LossDB(15.5, -1.5); math.Abs(got-4) > 1e-3 {
		t.Errorf("in the right eye's blind spot %.2f dB are lacking, the left eye lacks 4", got)
	}
	if got := b.LossDB(-15.5, -1.5); math.Abs(got-18) > 1e-3 {
		t.Errorf("in the left eye's blind spot %.2f dB are lacking, the right eye lacks 18", got)
	}
}

func TestTwoEyesLookAtTheSamePlace(t *testing.T) {
	// each eye is blind to the left of fixation, as after a stroke: corresponding points
	left := func(x, y float64) float64 {
		if x < 0 {
			return -25
		}
		return 0
	}
	r := mustSurface(t, patternField(t, "24-2", unit.Right, TotalDeviation, left))
	l := mustSurface(t, patternField(t, "24-2", unit.Left, TotalDeviation, left))
	b := mustBoth(t, r, l, Summation)
	if in, out := b.LossDB(-12, 9), b.LossDB(12, 9); in < 20 || out > 1 {
		t.Errorf("%.1f dB lacking on the side both lost, %.1f on the other", in, out)
	}
	if !b.Known(3, 3) || b.Known(60, 0) {
		t.Error("what was never tested is unknown")
	}
}

func TestEyesAreNotMistakenForEachOther(t *testing.T) {
	r, l := even(t, unit.Right, 3), even(t, unit.Left, 3)
	if _, err := Both(l, r, Summation); err == nil {
		t.Error("eyes in the wrong order were taken")
	}
	if _, err := Both(nil, nil, Summation); err == nil {
		t.Error("no eye was taken")
	}
	if _, err := Both(r, l, Rule(9)); err == nil {
		t.Error("an unknown rule was taken")
	}
}
