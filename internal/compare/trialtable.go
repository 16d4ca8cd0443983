package compare

import (
	"simview/internal/cause"
)

// TrialTable is what every trial leaves of one eye in one view, in the fixed
// order of the list.
type TrialTable struct {
	Eye     string        `json:"eye"`
	Pupil   string        `json:"pupil"` // bright or dim
	Now     cause.Numbers `json:"as_it_is"`
	InRoom  []TrialRow    `json:"to_try_in_the_room"`
	WhatIfs []TrialRow    `json:"what_if"`
}

// TrialRow is one trial. Of a what-if, Left is the middle outcome.
type TrialRow struct {
	ID      string         `json:"trial"`
	Label   string         `json:"label"`
	Left    *cause.Numbers `json:"leaves,omitempty"`
	Better  *cause.Numbers `json:"one_in_ten_better,omitempty"`
	Worse   *cause.Numbers `json:"one_in_ten_worse,omitempty"`
	Spread  *WhatIf        `json:"spread,omitempty"`
	RestsOn string         `json:"rests_on,omitempty"`
	SawLess string         `json:"saw_worse_after,omitempty"`  // published, in words with the source
	NotHere string         `json:"not_for_this_eye,omitempty"` // why, when the trial cannot be put on it
}

// Tabulate works out the table of some trials on the eye as measured. A trial
// that the eye does not allow is a row that says why. Errors are those of
// [cause.Eye.State].
func Tabulate(e *cause.Eye, trials []cause.Trial, v cause.Viewing) (TrialTable, error) {
	t := TrialTable{Eye: e.Side.String(), Pupil: "bright", InRoom: []TrialRow{}, WhatIfs: []TrialRow{}}
	if v.Night {
		t.Pupil = "dim"
	}
	var err error
	if t.Now, err = cause.NumbersNow(e, e.All(), v); err != nil {
		return t, err
	}
	for _, k := range trials {
		if k.InRoom {
			t.InRoom = append(t.InRoom, roomRow(e, k, v))
		} else {
			t.WhatIfs = append(t.WhatIfs, whatIfRow(e, k, v))
		}
	}
	return t, nil
}

func roomRow(e *cause.Eye, t cause.Trial, v cause.Viewing) TrialRow {
	r := TrialRow{ID: t.ID, Label: t.Label, RestsOn: t.Assumes, SawLess: t.Published}
	n, err := t.Numbers(e, e.All(), v)
	if err != nil {
		r.NotHere = err.Error()
		return r
	}
	r.Left = &n
	return r
}

func whatIfRow(e *cause.Eye, t cause.Trial, v cause.Viewing) TrialRow {
	if t.HasOutcome() {
		return roomRow(e, t, v)
	}
	r := TrialRow{ID: t.ID, Label: t.Label, RestsOn: t.Assumes, SawLess: t.Published}
	var n [3]cause.Numbers
	for k, o := range []cause.Outcome{cause.Middle, cause.Better, cause.Worse} {
		var err error
		if n[k], err = t.With(o).Numbers(e, e.All(), v); err != nil {
			r.NotHere = err.Error()
			return r
		}
	}
	r.Left, r.Better, r.Worse = &n[0], &n[1], &n[2]
	var err error
	r.Spread, err = Shot{Trial: t.With(cause.Middle).ID, Set: e.All(), on: e}.whatIf(v)
	if err != nil {
		r.NotHere = err.Error()
	}
	return r
}
