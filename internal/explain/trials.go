package explain

import (
	"fmt"

	"simview/internal/cause"
)

// TrialRow is one trial, by light: what it leaves. Of a what-if the middle outcome
// stands between one in ten better and one in ten worse.
type TrialRow struct {
	ID      string       `json:"trial"`
	Label   string       `json:"label"`
	Leaves  []TrialLight `json:"leaves,omitempty"`
	Now     *float64     `json:"now_same_kind_of_glasses_logmar,omitempty"`
	Draws   int          `json:"draws,omitempty"`
	Worse   *float64     `json:"share_of_draws_worse_than_now,omitempty"`
	RestsOn string       `json:"rests_on,omitempty"`
	SawLess string       `json:"saw_worse_after,omitempty"`
	NotHere string       `json:"not_for_this_eye,omitempty"`
}

// TrialLight is what a trial leaves in one light.
type TrialLight struct {
	Light   string  `json:"light"`
	Numbers Numbers `json:"numbers"`
	Focus   string  `json:"focus"`
	// Better and Worse are the ends of the middle 80 in 100 draws, by the fast
	// surrogate offset to Numbers; nil in the room.
	Better *Numbers `json:"one_in_ten_better,omitempty"`
	Worse  *Numbers `json:"one_in_ten_worse,omitempty"`
}

// trials fills both tables, each in its fixed order.
func (t *teller) trials() error {
	t.tell("trials")
	var room, whatIfs []cause.Trial
	for _, k := range cause.Trials {
		if k.InRoom {
			room = append(room, k)
		} else {
			whatIfs = append(whatIfs, k)
		}
	}
	t.story.Trials = make([]TrialRow, len(room))
	if err := each(len(room), func(k int) error {
		t.story.Trials[k] = t.roomRow(room[k])
		return t.ctx.Err()
	}); err != nil {
		return err
	}
	for _, k := range whatIfs {
		t.tell(k.Label)
		row, err := t.whatIfRow(k)
		if err != nil {
			return err
		}
		t.story.WhatIfs = append(t.story.WhatIfs, row)
		if err := t.ctx.Err(); err != nil {
			return err
		}
	}
	return nil
}

func (t *teller) roomRow(k cause.Trial) TrialRow {
	row := TrialRow{ID: k.ID, Label: k.Label, RestsOn: k.Assumes}
	for _, g := range t.engines {
		l, err := g.trial(k, k.ID)
		if err != nil {
			return TrialRow{ID: k.ID, Label: k.Label, RestsOn: k.Assumes, NotHere: err.Error()}
		}
		row.Leaves = append(row.Leaves, l)
	}
	return row
}

// lightName is bright or dim.
func (g *engine) lightName() string {
	if g.v.Night {
		return "dim"
	}
	return "bright"
}

// trial puts a trial on the eye as it is.
func (g *engine) trial(k cause.Trial, name string) (TrialLight, error) {
	s, err := k.Apply(g.e, g.e.All(), g.v)
	if err != nil {
		return TrialLight{}, err
	}
	o, err := g.point(s, "trial "+name)
	if err != nil {
		return TrialLight{}, err
	}
	n, err := g.measure(s, o, s.Light, nil)
	return TrialLight{Light: g.lightName(), Numbers: n, Focus: s.Focus}, err
}

// whatIfRow draws a what-if by day: the middle outcome by the whole simulation,
// the ends by the surrogate.
func (t *teller) whatIfRow(k cause.Trial) (TrialRow, error) {
	g, f := t.engines[0], t.fasts[0]
	row := TrialRow{ID: k.ID, Label: k.Label, RestsOn: k.Assumes, SawLess: k.Published, Draws: t.o.Draws}
	drawn, err := cause.FindTrial(fmt.Sprintf("%s:draws=%d", k.ID, t.o.Draws))
	if err != nil {
		return row, err
	}
	sp, err := drawn.Spread(g.e, g.e.All(), g.v)
	if err != nil {
		row.NotHere = err.Error()
		return row, nil
	}
	middle, err := g.trial(drawn.With(cause.Middle), drawn.ID)
	if err != nil {
		row.NotHere = err.Error()
		return row, nil
	}
	end := func(o cause.Outcome) *Numbers {
		n := f.moved(middle.Numbers, sp.Value(cause.Middle), sp.Value(o))
		return &n
	}
	middle.Better, middle.Worse = end(cause.Better), end(cause.Worse)
	row.Leaves, row.Worse = []TrialLight{middle}, &sp.WorseShare
	now := f.moved(middle.Numbers, sp.Value(cause.Middle), sp.Now).LogMAR
	row.Now = &now
	return row, nil
}

// moved are numbers moved along the lines of the surrogate, from one visual Strehl
// ratio to another.
func (f *fast) moved(n Numbers, from, to float64) Numbers {
	a, b := logVS(from), logVS(to)
	n.LogMAR += f.lines[Letters].rise(a, b)
	n.LogCS -= f.lines[Contrast].rise(a, b)
	n.LostPercent += f.lines[Scene].rise(a, b)
	return n
}
