package compare

import (
	"fmt"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/render"
)

// bothShot is the view with both eyes open, each as measured.
func bothShot(c *casefile.Case, e *cause.Eye, o Options) (Shot, error) {
	if c.Eye(e.Side.Other()) == nil {
		return Shot{}, fmt.Errorf("%s: describes no %s eye, so no view of both eyes can be made; hint: add eyes.%s or leave it out", c.File, e.Side.Other(), e.Side.Other())
	}
	f, err := cause.Resolve(c, e.Side.Other())
	if err != nil {
		return Shot{}, err
	}
	f.Extrapolate = o.Extrapolate
	return Shot{
		ID: "both-eyes", Name: "Both eyes together", Amount: "both as measured; " + render.TogetherWords,
		Side: e.Side, Set: e.All(), Same: true, on: e,
		Fellow: &Shot{ID: "fellow", Side: f.Side, Set: f.All(), Same: true, on: f},
	}, nil
}

// takeBoth computes what both eyes see and lays the two pictures together. Numbers
// of the record are those of the eye of the complaint.
func (r *runner) takeBoth(s Shot) (taken, error) {
	fellow := *s.Fellow
	fellow.Field = s.Field
	s.Fellow = nil
	t, err := r.take(s)
	if err != nil {
		return t, err
	}
	u, err := r.take(fellow)
	if err != nil {
		return t, err
	}
	t.view.Eye = "both"
	if t.wide, err = render.Together(t.wide, u.wide); err != nil || t.window == nil {
		return t, err
	}
	t.window, err = render.Together(t.window, u.window)
	return t, err
}
