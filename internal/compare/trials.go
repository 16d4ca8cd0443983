package compare

import (
	"fmt"
	"slices"
	"strings"

	"simview/internal/cause"
)

// trialShots plans the views of the trials, in the order asked for. A what-if
// that does not say which outcome it shows has three: the middle one of its
// draws and the ends of the middle 80 in 100.
func trialShots(e *cause.Eye, asked []string) ([]Shot, error) {
	var shots []Shot
	var seen []string
	for _, text := range asked {
		t, err := cause.FindTrial(text)
		if err != nil {
			return nil, err
		}
		if slices.Contains(seen, t.ID) {
			return nil, fmt.Errorf("trial %q: asked for twice; each trial is shown once", text)
		}
		seen = append(seen, t.ID)
		shots = append(shots, trialViews(e, t)...)
	}
	return shots, nil
}

// outcomeNames say on a panel which outcome it shows.
var outcomeNames = map[cause.Outcome]string{
	cause.Middle: "middle of the draws",
	cause.Better: "one in ten comes out better than this",
	cause.Worse:  "one in ten comes out worse than this",
}

func trialViews(e *cause.Eye, t cause.Trial) []Shot {
	shot := func(t cause.Trial, name, amount string) Shot {
		return Shot{ID: fileWords(t.ID), Name: name, Amount: amount, Side: e.Side, Set: e.All(), Trial: t.ID, on: e}
	}
	switch {
	case t.InRoom:
		return []Shot{shot(t, t.Label, "trial on the eye as measured")}
	case t.HasOutcome():
		return []Shot{shot(t, t.Label+": "+namedOutcome(t), whatIfAmount(t))}
	}
	var list []Shot
	for _, o := range []cause.Outcome{cause.Middle, cause.Better, cause.Worse} {
		list = append(list, shot(t.With(o), t.Label+": "+outcomeNames[o], whatIfAmount(t)))
	}
	return list
}

// whatIfAmount says beside every outcome what share saw worse, where that is
// known.
func whatIfAmount(t cause.Trial) string { return "what-if on the eye as measured; " + t.Published }

func namedOutcome(t cause.Trial) string {
	if name, ok := outcomeNames[t.Outcome()]; ok {
		return name
	}
	return "exactly as intended"
}

// fileWords turns a trial into words for a file name, different for different
// trials.
func fileWords(id string) string {
	return strings.NewReplacer("+", "-and-", ":outcome=", "-", ":", "-", "=", "-", "_", "-").Replace(id)
}

// WhatIf is what a record says of a drawn view.
type WhatIf struct {
	Outcome    string  `json:"outcome"`
	Draws      int     `json:"draws"`
	Seed       uint64  `json:"seed"`
	OrderedBy  string  `json:"ordered_by"`
	Value      float64 `json:"value"`
	Now        float64 `json:"now"` // of the eye as it is, in the same kind of glasses
	WorseShare float64 `json:"share_worse_than_now"`
}

// OrderedBy names the number that the draws of a what-if are ordered by.
const OrderedBy = "visual Strehl ratio of the view, scattered light taken off"

// whatIf returns what is said of a drawn view; nil for any other.
func (s Shot) whatIf(v cause.Viewing) (*WhatIf, error) {
	if s.Trial == "" {
		return nil, nil
	}
	t, err := cause.FindTrial(s.Trial)
	if err != nil || t.Outcome() == cause.Exact {
		return nil, err
	}
	sp, err := t.Spread(s.on, s.Set, v)
	if err != nil {
		return nil, err
	}
	o := t.Outcome()
	return &WhatIf{Outcome: o.String(), Draws: sp.Draws, Seed: sp.Seed, OrderedBy: OrderedBy, Value: sp.Value(o), Now: sp.Now, WorseShare: sp.WorseShare}, nil
}

// RestsOn lists what the trials of a sheet rest on, each once, with its source.
func RestsOn(shots []Shot) []string {
	var all []string
	for _, s := range shots {
		t, err := cause.FindTrial(s.Trial)
		if err != nil || t.Assumes == "" {
			continue
		}
		if text := t.Label + ": " + t.Assumes; !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return all
}
