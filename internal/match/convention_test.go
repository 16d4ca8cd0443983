package match

import (
	"math"
	"slices"
	"testing"
)

// asked makes answers to one pair, k of n for the left.
func asked(left, right, k, n int) []Trial {
	var trials []Trial
	for i := range n {
		a := Right
		if i < k {
			a = Left
		}
		trials = append(trials, Trial{Question: Question{Number: i + 1, Kind: Ordinary, Left: left, Right: right}, Answer: a})
	}
	return trials
}

func inferred(t *testing.T, views int, trials ...[]Trial) *Posterior {
	t.Helper()
	p, err := Infer(views, contests(views, slices.Concat(trials...)))
	must(t, err)
	return p
}

func TestLambdaAboveZeroIsMoreLikeWhatIsSeen(t *testing.T) {
	p := inferred(t, 2, asked(0, 1, 9, 10), asked(1, 0, 1, 10))
	if p.Lambda(0).Value <= 0 || p.Lambda(1).Value >= 0 || p.Best()[0] < 0.9 {
		t.Errorf("chosen 18 of 20: %+v, %v", p.Lambda(0), p.Best())
	}
}

func TestDeltaAboveZeroIsAHabitOfChoosingTheLeft(t *testing.T) {
	p := inferred(t, 2, asked(0, 1, 9, 10), asked(1, 0, 9, 10))
	if d := p.Delta(); d.Lo <= 0 || math.Abs(p.Lambda(0).Value) > 1e-9 {
		t.Errorf("left 18 of 20: delta %+v, lambda %+v", d, p.Lambda(0))
	}
	if d := inferred(t, 2, asked(0, 1, 1, 10), asked(1, 0, 1, 10)).Delta(); d.Hi >= 0 {
		t.Errorf("right 18 of 20: %+v", d)
	}
}

func TestAViewComparedWithItselfTellsOfTheSideAlone(t *testing.T) {
	p := inferred(t, 2, asked(0, 0, 9, 10))
	if p.Delta().Value <= 0 || p.Lambda(0).Value != 0 {
		t.Errorf("delta %+v, lambda %+v", p.Delta(), p.Lambda(0))
	}
}

func TestSwappingTheSidesTurnsDeltaAndNothingElse(t *testing.T) {
	const rounding = 1e-9 // solved to 1e-11, a few roundings beside it
	a := inferred(t, 3, asked(0, 1, 7, 10), asked(1, 2, 6, 10), asked(2, 0, 3, 10))
	b := inferred(t, 3, asked(1, 0, 3, 10), asked(2, 1, 4, 10), asked(0, 2, 7, 10))
	near(t, "delta", b.Delta().Value, -a.Delta().Value, rounding)
	for i := range 3 {
		near(t, "lambda", b.Lambda(i).Value, a.Lambda(i).Value, rounding)
	}
}

func TestLambdasAreGivenAgainstTheirMean(t *testing.T) {
	p := inferred(t, 3, asked(0, 1, 9, 10), asked(1, 2, 9, 10))
	near(t, "sum of lambda", p.Lambda(0).Value+p.Lambda(1).Value+p.Lambda(2).Value, 0, 1e-12)
}

func TestNoDifferencePullsViewsTogetherAndNeitherSaysNothing(t *testing.T) {
	wins := asked(0, 1, 6, 6)
	ties, neither := asked(0, 1, 0, 6), asked(0, 1, 0, 6)
	for i := range ties {
		ties[i].Answer, neither[i].Answer = NoDifference, Neither
	}
	alone := inferred(t, 2, wins).Lambda(0)
	if with := inferred(t, 2, wins, ties).Lambda(0); with.Value >= alone.Value {
		t.Errorf("with ties %+v, without %+v", with, alone)
	}
	if with := inferred(t, 2, wins, neither).Lambda(0); with != alone {
		t.Errorf("with neither %+v, without %+v", with, alone)
	}
}

func TestTheGapOfASeverityIsAboveMinusBelow(t *testing.T) {
	a := Adjustment{Hi: 3, Runs: []Run{{Done: true, Value: 1}, {FromAbove: true, Done: true, Value: 2}}}
	if g := a.summary("").Gap; g != 1 {
		t.Errorf("gap %g", g)
	}
}

func TestARepeatedPairHasItsSidesSwappedAndTheSameAnswerIsTheOtherSide(t *testing.T) {
	for _, q := range saying(t, four(4), prefers(2)).Trials {
		if q.Kind == Repeated && (q.Repeats == 0 || q.Repeats > q.Number-repeatAtLeastAgo) {
			t.Errorf("%+v", q)
		}
	}
	c := catches([]Trial{
		{Question: Question{Number: 1, Kind: Ordinary, Left: 0, Right: 1}, Answer: Left},
		{Question: Question{Number: 2, Kind: Repeated, Left: 1, Right: 0, Repeats: 1}, Answer: Right},
		{Question: Question{Number: 3, Kind: Repeated, Left: 1, Right: 0, Repeats: 1}, Answer: Left},
	})
	if c.Repeated != 2 || c.SaidTheSame != 1 {
		t.Errorf("%+v", c)
	}
}

func TestNoDifferenceIsHalfAWinForEach(t *testing.T) {
	ties := asked(0, 1, 0, 6)
	for i := range ties {
		ties[i].Answer = NoDifference
	}
	if p := inferred(t, 2, ties); p.Lambda(0).Value != 0 || p.Delta().Value != 0 {
		t.Errorf("lambda %+v, delta %+v", p.Lambda(0), p.Delta())
	}
}
