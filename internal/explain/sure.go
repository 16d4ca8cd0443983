package explain

import (
	"slices"

	"simview/internal/doubt"
	"simview/internal/shares"
)

// sure draws what the noise of the measurements leaves open and fills every
// number with its interval.
func (t *teller) sure() error {
	t.tell("how sure the numbers are")
	for k, g := range t.engines {
		f, err := g.newFast(t.tables[k], t.in)
		if err != nil {
			return err
		}
		t.fasts = append(t.fasts, f)
	}
	var in []doubt.Input
	for _, i := range t.in {
		in = append(in, i.Input)
	}
	point, err := t.point()
	if err != nil {
		return err
	}
	d := doubt.Draws{Settled: true, Numbers: make([]doubt.Interval, len(point))}
	if len(in) > 0 {
		if d, err = doubt.Propagate(in, t.model(), t.o.Rule); err != nil {
			return err
		}
	} else {
		for k, v := range point {
			d.Numbers[k] = doubt.Interval{Low: v, High: v, Matters: -1}
		}
	}
	t.story.Draws, t.story.Settled = d.N, d.Settled
	return t.fill(point, d.Numbers)
}

// model is the surrogate of the whole story: all headlines of all lights and
// measures, and the gap last.
func (t *teller) model() func(x []float64) []float64 {
	bases := make([][]float64, len(t.fasts))
	for k, f := range t.fasts {
		bases[k] = f.effective(f.measuredValues())
	}
	letterAt := slices.IndexFunc(t.in, func(i input) bool { return i.reach == letters })
	return func(x []float64) []float64 {
		var out []float64
		for k, f := range t.fasts {
			rows := f.at(x, bases[k])
			for _, row := range rows {
				out = append(out, f.headlines(row)...)
			}
		}
		if letterAt >= 0 {
			out = append(out, x[letterAt]-out[0])
		}
		return out
	}
}

// point is what the model gives by the whole simulation.
func (t *teller) point() ([]float64, error) {
	var out []float64
	for k, g := range t.engines {
		for _, m := range Measures {
			h, err := g.headlines(t.tables[k].harms(m))
			if err != nil {
				return nil, err
			}
			out = append(out, h...)
		}
	}
	for _, i := range t.in {
		if i.reach == letters {
			out = append(out, i.Measured-out[0])
		}
	}
	return out, nil
}

// fill hands the numbers to their rows, in the order of headlines.
func (t *teller) fill(point []float64, is []doubt.Interval) error {
	at := 0
	next := func(m Measure, level bool) Estimate {
		sd := levelError[m]
		if !level {
			sd = changeError(m, point[at])
		}
		e := estimate(point[at], is[at], t.in, sd)
		at++
		return e
	}
	for k, g := range t.engines {
		l := &t.story.Lights[k]
		for _, id := range g.ids {
			c, _ := t.e.Cause(id)
			l.Causes = append(l.Causes, CauseRow{ID: id, Label: c.Label, Amount: c.Amount, From: c.From.String()})
		}
		for _, m := range Measures {
			l.Sure = append(l.Sure, next(m, true))
			for i := range g.ids {
				c := &l.Causes[i]
				c.Same, c.Renewed = append(c.Same, next(m, false)), append(c.Renewed, next(m, false))
				c.Share = append(c.Share, next(m, false))
			}
			l.SurrogateRMS = append(l.SurrogateRMS, t.fasts[k].lines[m].rms)
		}
		if err := t.pairs(k); err != nil {
			return err
		}
	}
	t.gap(point, is, at)
	return nil
}

// gap is what is not explained; the error of the model counts, since it stands on
// one side only.
func (t *teller) gap(point []float64, is []doubt.Interval, at int) {
	u := &t.story.Unexplained
	u.Modelled = point[0]
	if at == len(point) {
		return
	}
	u.Known, u.Measured = true, point[at]+point[0]
	u.Gap = estimate(point[at], is[at], t.in, levelError[Letters])
	if u.Gap.Value > muchLogMAR {
		u.Notice = notModelled
	}
}

// pairs fills what two causes do together.
func (t *teller) pairs(k int) error {
	g, l := t.engines[k], &t.story.Lights[k]
	var by []shares.Result
	for _, m := range Measures {
		r, err := divide(len(g.ids), t.tables[k].harms(m))
		if err != nil {
			return err
		}
		by = append(by, r)
	}
	for i := range g.ids {
		for j := range i {
			row := PairRow{A: g.ids[j], B: g.ids[i]}
			for _, r := range by {
				row.Extra = append(row.Extra, r.Pair[i][j])
			}
			l.Pairs = append(l.Pairs, row)
		}
	}
	return nil
}
