package match

import (
	"fmt"
	"math"
	"slices"
)

// Method says how a strength is found.
type Method string

// The methods.
const (
	// BySetting: the patient turns the strength until the picture looks like what
	// is seen (method of adjustment).
	BySetting Method = "setting"
	// ByStaircase: the patient says, of one picture after the other, whether it
	// has to be stronger or weaker.
	ByStaircase Method = "staircase"
)

const (
	// Two runs from below and two from above are the fewest with which a mean, its
	// spread and the gap between the directions can be told (common practice).
	runsOfAdjustment = 4
	// A staircase ends at this many reversals; its crossing is the mean of the
	// last of them, an even number (common practice).
	reversals, reversalsTaken = 6, 4
	// Its first step is this share of the range, and halves at the first two
	// reversals.
	firstStep = 1.0 / 8
	maxJudged = 100
)

// Adjustment is the strength of one view found from above and below. Lo, Hi and
// all strengths are in Unit.
type Adjustment struct {
	View   int     `json:"view"`
	Method Method  `json:"method"`
	Lo     float64 `json:"lo"`
	Hi     float64 `json:"hi"`
	Unit   string  `json:"unit"`
	Runs   []Run   `json:"runs"`
}

// Run is one approach to the strength, from Start. Judged holds the answers of a
// staircase, true where the picture had to be stronger. Value is the outcome once
// Done.
type Run struct {
	FromAbove bool    `json:"from_above"`
	Start     float64 `json:"start"`
	Judged    []bool  `json:"judged,omitempty"`
	Done      bool    `json:"done"`
	Value     float64 `json:"value"`
}

func (a Adjustment) clone() Adjustment {
	a.Runs = slices.Clone(a.Runs)
	for i := range a.Runs {
		a.Runs[i].Judged = slices.Clone(a.Runs[i].Judged)
	}
	return a
}

// plan returns the adjustment with its runs: above and below in turn, the first
// at random, from a random place in the outer quarter of the range.
func (s Setup) plan(a Adjustment, before int) Adjustment {
	r := s.chance(severityRange + uint64(before))
	above := r.IntN(2) == 0
	a.Runs = nil
	for range runsOfAdjustment {
		share := r.Float64() / 4
		if above {
			share = 1 - share
		}
		a.Runs = append(a.Runs, Run{FromAbove: above, Start: a.Lo + share*(a.Hi-a.Lo)})
		above = !above
	}
	return a
}

func (a Adjustment) check(views int) error {
	if a.View < 0 || a.View >= views {
		return fmt.Errorf("match: adjustment of view %d, expected 0 to %d", a.View, views-1)
	}
	if a.Method != BySetting && a.Method != ByStaircase {
		return fmt.Errorf("match: method %q, expected %q or %q", a.Method, BySetting, ByStaircase)
	}
	if !(a.Hi > a.Lo) || math.IsInf(a.Hi-a.Lo, 0) {
		return fmt.Errorf("match: range of strength %g to %g, expected two numbers, the second larger", a.Lo, a.Hi)
	}
	if len(a.Runs) == 0 || len(a.Runs) > runsOfAdjustment {
		return fmt.Errorf("match: %d runs, expected 1 to %d", len(a.Runs), runsOfAdjustment)
	}
	for _, r := range a.Runs {
		if !(r.Start >= a.Lo && r.Start <= a.Hi) || r.Done || len(r.Judged) > 0 {
			return fmt.Errorf("match: a run starts at %g, expected %g to %g and nothing done", r.Start, a.Lo, a.Hi)
		}
	}
	return nil
}

// Current returns the index of the run that is going on; false when all are done.
func (a Adjustment) Current() (int, bool) {
	for i, r := range a.Runs {
		if !r.Done {
			return i, true
		}
	}
	return 0, false
}

// Level returns the strength to show now: where a setting starts, or the next step
// of a staircase; the last value when all is done.
func (a Adjustment) Level() float64 {
	i, ok := a.Current()
	if !ok {
		return a.Runs[len(a.Runs)-1].Value
	}
	level, _ := a.climb(a.Runs[i])
	return level
}

// climb follows a staircase and returns the level it is at and the levels at which
// it turned.
func (a Adjustment) climb(r Run) (level float64, turned []float64) {
	level = r.Start
	for k, stronger := range r.Judged {
		if k > 0 && stronger != r.Judged[k-1] {
			turned = append(turned, level)
		}
		step := (a.Hi - a.Lo) * firstStep / math.Pow(2, float64(min(len(turned), 2)))
		if !stronger {
			step = -step
		}
		level = min(max(level+step, a.Lo), a.Hi)
	}
	return level, turned
}

// adjust applies an event of an adjustment.
func (s State) adjust(e event) (State, error) {
	if e.Kind == adjusts {
		if e.Adjust == nil {
			return s, fmt.Errorf("match: an adjustment without a view")
		}
		if err := e.Adjust.check(len(s.Setup.Views)); err != nil {
			return s, err
		}
		s.Severity = append(slices.Clone(s.Severity), *e.Adjust)
		return s, nil
	}
	k := len(s.Severity) - 1
	if k < 0 {
		return s, fmt.Errorf("match: %q: no view is being adjusted", e.Kind)
	}
	a, err := s.Severity[k].clone().take(e)
	if err != nil {
		return s, err
	}
	s.Severity = slices.Clone(s.Severity)
	s.Severity[k] = a
	return s, nil
}

// take adds a setting or a judgement to the current run.
func (a Adjustment) take(e event) (Adjustment, error) {
	i, ok := a.Current()
	if !ok {
		return a, fmt.Errorf("match: all runs of this adjustment are done")
	}
	if (e.Kind == set) != (a.Method == BySetting) {
		return a, fmt.Errorf("match: %q does not belong to an adjustment by %s", e.Kind, a.Method)
	}
	r := &a.Runs[i]
	if e.Kind == set {
		if !(e.Value >= a.Lo && e.Value <= a.Hi) {
			return a, fmt.Errorf("match: strength %g, expected %g to %g %s", e.Value, a.Lo, a.Hi, a.Unit)
		}
		r.Value, r.Done = e.Value, true
		return a, nil
	}
	r.Judged = append(r.Judged, e.Stronger)
	level, turned := a.climb(*r)
	if len(turned) >= reversals {
		r.Value, r.Done = mean(turned[len(turned)-reversalsTaken:]), true
	} else if len(r.Judged) >= maxJudged {
		r.Value, r.Done = level, true
	}
	return a, nil
}

// undo takes back the last setting or judgement; false when there is none.
func (a Adjustment) undo() (Adjustment, bool) {
	a = a.clone()
	for i := len(a.Runs) - 1; i >= 0; i-- {
		r := &a.Runs[i]
		if !r.Done && len(r.Judged) == 0 {
			continue
		}
		r.Done, r.Value = false, 0
		if n := len(r.Judged); n > 0 {
			r.Judged = r.Judged[:n-1]
		}
		if len(r.Judged) == 0 {
			r.Judged = nil
		}
		return a, true
	}
	return a, false
}

func mean(x []float64) float64 {
	var sum float64
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
