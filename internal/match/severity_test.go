package match

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"
)

func TestRunsComeFromBelowAndAboveInTurnFromTheOuterQuarters(t *testing.T) {
	firstAbove := 0
	for seed := range uint64(60) {
		a := four(seed).plan(Adjustment{Lo: -1, Hi: 3}, 0)
		if len(a.Runs) != 4 {
			t.Fatalf("%d runs", len(a.Runs))
		}
		firstAbove += one(a.Runs[0].FromAbove)
		for i, r := range a.Runs {
			if i > 0 && r.FromAbove == a.Runs[i-1].FromAbove {
				t.Errorf("seed %d: runs %d and %d from the same side", seed, i-1, i)
			}
			if r.FromAbove && r.Start < 2 || !r.FromAbove && r.Start > 0 {
				t.Errorf("seed %d: run %d starts at %g", seed, i, r.Start)
			}
		}
	}
	if firstAbove < 15 || firstAbove > 45 { // four standard deviations about 30
		t.Errorf("%d of 60 begin from above", firstAbove)
	}
}

func TestTheIntervalIsThatOfStudentsT(t *testing.T) {
	a := Adjustment{Lo: 0, Hi: 3, Unit: "times", Runs: []Run{
		{Done: true, Value: 1.0},
		{FromAbove: true, Done: true, Value: 1.4},
		{Done: true, Value: 1.2},
		{FromAbove: true, Done: true, Value: 1.6},
	}}
	s := a.summary("lens")
	const rounding, table = 1e-12, 0.0005 // t(0.95; 3) = 2.353, printed tables (from memory)
	sd := math.Sqrt((0.09 + 0.01 + 0.01 + 0.09) / 3)
	near(t, "mean", s.Mean.Value, 1.3, rounding)
	near(t, "SD", s.SD, sd, rounding)
	near(t, "gap", s.Gap, 0.4, rounding)
	near(t, "half of the interval over SE", (s.Mean.Hi-s.Mean.Lo)/2/(sd/2), 2.353, table)
	if !s.Complete || !s.Known || s.AtEnd != 0 {
		t.Errorf("%+v", s)
	}
}

func TestWithOneDirectionAloneNothingIsKnown(t *testing.T) {
	a := Adjustment{Lo: 0, Hi: 3, Runs: []Run{{Done: true, Value: 3}, {FromAbove: true}}}
	if s := a.summary("lens"); s.Known || s.Complete || s.Mean != (Estimate{}) || s.AtEnd != 1 {
		t.Errorf("%+v", s)
	}
}

// judge answers a staircase with a true strength and a spread.
func judge(a Adjustment, truth, sd float64, r *rand.Rand) Adjustment {
	for {
		if _, going := a.Current(); !going {
			return a
		}
		next, err := a.take(event{Kind: judged, Stronger: a.Level()+sd*r.NormFloat64() < truth})
		if err != nil {
			panic(err)
		}
		a = next
	}
}

func TestAStaircaseFindsTheStrengthAndItsIntervalHoldsIt(t *testing.T) {
	// 400 adjustments of spread 0.15: a crossing is the mean of 4 reversals, so the
	// mean of all errors has an SE of a few thousandths; 0.02 is a fifth of the
	// smallest step. Student's interval is exact for normal values; the share of 400
	// has an SE of 0.015, and crossings are rounded to steps.
	const count, truth, bias, coverage = 400, 1.2, 0.02, 0.05
	var sum, held float64
	r := rand.New(rand.NewPCG(9, 9))
	for seed := range uint64(count) {
		a := judge(four(seed).plan(Adjustment{Method: ByStaircase, Lo: 0, Hi: 3}, 0), truth, 0.15, r)
		s := a.summary("lens")
		sum += (s.Mean.Value - truth) / count
		held += within(s.Mean, truth) / count
	}
	t.Logf("mean error %.4f, held %.3f", sum, held)
	near(t, "mean error", sum, 0, bias)
	near(t, "share of intervals that hold the truth", held, 0.90, coverage)
}

func TestAStaircaseOfSomeoneWhoAlwaysSaysStrongerEndsAtTheEndAndIsMarked(t *testing.T) {
	a := judge(four(1).plan(Adjustment{Method: ByStaircase, Lo: 0, Hi: 3}, 0), 99, 0, rand.New(rand.NewPCG(1, 1)))
	if s := a.summary("lens"); s.AtEnd != 4 || s.Mean.Value != 3 {
		t.Errorf("%+v", s)
	}
}

func TestSettingsOutsideTheRangeAndOfTheWrongMethodAreRefused(t *testing.T) {
	se := begin(t, four(1), &bytes.Buffer{})
	refused(t, se.Set(1), "no view is being adjusted")
	refused(t, se.Adjust(4, BySetting, 0, 3, ""), "view 4")
	refused(t, se.Adjust(0, BySetting, 3, 3, ""), "range of strength")
	refused(t, se.Adjust(0, BySetting, 0, math.Inf(1), ""), "range of strength")
	must(t, se.Adjust(0, BySetting, 0, 3, "times"))
	refused(t, se.Set(3.1), "expected 0 to 3 times")
	refused(t, se.Set(nan()), "expected 0 to 3 times")
	refused(t, se.Judge(true), "does not belong")
	for _, v := range []float64{1, 2, 1, 2} {
		must(t, se.Set(v))
	}
	refused(t, se.Set(1), "all runs of this adjustment are done")
}

func TestASettingCanBeTakenBackAndThenTheAdjustmentThenTheAnswer(t *testing.T) {
	se := begin(t, four(1), &bytes.Buffer{})
	through(t, se, 2)
	empty := bytesOf(t, se.State())
	must(t, se.Adjust(1, ByStaircase, 0, 3, "times"))
	start := bytesOf(t, se.State())
	for k := range 40 { // beyond the end of the first run
		must(t, se.Judge(k%2 == 0))
		if se.State().Severity[0].Runs[1].Judged != nil {
			break
		}
	}
	for !bytes.Equal(start, bytesOf(t, se.State())) {
		must(t, se.Undo())
		if len(se.State().Severity) == 0 {
			t.Fatal("the adjustment went before its judgements")
		}
	}
	must(t, se.Undo())
	if !bytes.Equal(empty, bytesOf(t, se.State())) {
		t.Error("not as before the adjustment")
	}
	must(t, se.Undo())
	if len(se.State().Trials) != 1 {
		t.Error("the answer was not taken back")
	}
}

func TestTheLevelShownIsTheStartThenTheStepThenTheLastValue(t *testing.T) {
	a := Adjustment{Method: ByStaircase, Lo: 0, Hi: 8, Runs: []Run{{Start: 2}}}
	levels := []float64{2}
	for _, stronger := range []bool{true, true, false, true, true} {
		next, err := a.take(event{Kind: judged, Stronger: stronger})
		must(t, err)
		a = next
		levels = append(levels, a.Level())
	}
	// Steps of 1, halved at the first two turns.
	for k, want := range []float64{2, 3, 4, 3.5, 3.75, 4} {
		if levels[k] != want {
			t.Fatalf("levels %v", levels)
		}
	}
	for k := range 20 {
		if next, err := a.take(event{Kind: judged, Stronger: k%2 == 0}); err == nil {
			a = next
		}
	}
	if !a.Runs[0].Done || a.Level() != a.Runs[0].Value {
		t.Errorf("%+v", a)
	}
}
