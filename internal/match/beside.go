package match

import (
	"fmt"
)

// Measured is what the measurements of the eye say of one view: how much its cause
// alone changes what is seen, larger for more, with its interval.
type Measured struct {
	View   string   `json:"view"`
	Effect Estimate `json:"effect"`
	// Words say the same in a sentence, for people.
	Words string `json:"words"`
}

// Row puts the answers and the measurements of one view side by side.
type Row struct {
	View     string   `json:"view"`
	Rank     int      `json:"rank"`
	Liked    Estimate `json:"liked"`
	Effect   Estimate `json:"effect"`
	Measured int      `json:"measured_rank"` // 1 for the largest effect
	// Says is one of "both", "answers only", "measurements only" and "neither":
	// who puts this view first, where that is settled.
	Says  string `json:"says"`
	Words string `json:"words"`
}

// Comparison is the whole table, in the order of the answers' ranking, with a
// sentence that says whether the two agree. It says nothing of which is right.
type Comparison struct {
	Unit     string `json:"unit"` // of Effect
	Rows     []Row  `json:"rows"`
	Sentence string `json:"sentence"`
}

// Beside sets what the measurements say beside what was answered. The measurements
// put a view first when its effect's interval lies above the values of all others.
// Errors: views that differ from those of the session, effects that are no numbers
// or lie outside their interval.
func (r Result) Beside(unit string, measured []Measured) (Comparison, error) {
	by, err := byView(r.Standings, measured)
	if err != nil {
		return Comparison{}, err
	}
	top := settled1st(measured)
	c := Comparison{Unit: unit, Sentence: r.agreement(top)}
	for _, s := range r.Standings {
		m := by[s.View]
		row := Row{View: s.View, Rank: s.Rank, Liked: s.Liked, Effect: m.Effect, Measured: 1, Words: m.Words}
		for _, other := range measured {
			row.Measured += one(other.Effect.Value > m.Effect.Value)
		}
		row.Says = says(s.View == r.First, s.View == top)
		c.Rows = append(c.Rows, row)
	}
	return c, nil
}

func byView(standings []Standing, measured []Measured) (map[string]Measured, error) {
	by := map[string]Measured{}
	for _, m := range measured {
		if _, twice := by[m.View]; twice {
			return nil, fmt.Errorf("match: measurements: %q is given twice", m.View)
		}
		if e := m.Effect; !(e.Lo <= e.Value && e.Value <= e.Hi) || e.Hi-e.Lo > 1e300 {
			return nil, fmt.Errorf("match: measurements: %q: %g in the interval %g to %g, expected three numbers in order", m.View, e.Value, e.Lo, e.Hi)
		}
		by[m.View] = m
	}
	for _, s := range standings {
		if _, ok := by[s.View]; !ok {
			return nil, fmt.Errorf("match: measurements: none of %q; expected one for each view of the session", s.View)
		}
	}
	if len(by) != len(standings) {
		return nil, fmt.Errorf("match: measurements of %d views, expected the %d of the session", len(by), len(standings))
	}
	return by, nil
}

// settled1st returns the view that the measurements put first, "" for none.
func settled1st(measured []Measured) string {
	for _, m := range measured {
		clear := true
		for _, o := range measured {
			clear = clear && (o.View == m.View || o.Effect.Value < m.Effect.Lo)
		}
		if clear {
			return m.View
		}
	}
	return ""
}

func says(answers, measurements bool) string {
	switch {
	case answers && measurements:
		return "both"
	case answers:
		return "answers only"
	case measurements:
		return "measurements only"
	}
	return "neither"
}

// agreement says in one sentence how the two compare.
func (r Result) agreement(top string) string {
	answers, measurements := "The answers name no view ("+string(r.Outcome)+")", "the measurements put none clearly first"
	if r.First != "" {
		answers = fmt.Sprintf("The answers name %s", r.First)
	}
	if top != "" {
		measurements = fmt.Sprintf("the measurements put %s first", top)
	}
	switch {
	case r.First != "" && r.First == top:
		return answers + ", and " + measurements + ": they agree."
	case r.First != "" && top != "":
		return answers + ", but " + measurements + ": they disagree, and either may be right."
	}
	return answers + ", and " + measurements + ": neither confirms the other."
}
