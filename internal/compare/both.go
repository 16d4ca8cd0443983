package compare

import (
	"fmt"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/render"
	"simview/internal/unit"
)

// bothShot is the view with both eyes open, each as measured.
func bothShot(e *cause.Eye, fellow Shot) Shot {
	return Shot{
		ID: "both-eyes", Name: "Both eyes together", Amount: "both as measured; " + render.TogetherWords,
		Side: e.Side, Set: e.All(), Same: true, Fellow: &fellow, on: e,
	}
}

func noFellow(c *casefile.Case, side unit.Side) error {
	return fmt.Errorf("%s: describes no %s eye, so no view of both eyes can be made; hint: add eyes.%s or leave it out", c.File, side, side)
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
	t.state.Focus, t.state.Notes = eachEye(t, u)
	t.view.Eye, t.view.Focus, t.view.Notes = "both", t.state.Focus, t.state.Notes
	if t.wide, err = render.Together(t.wide, u.wide, r.scene.AdaptCdM2); err != nil || t.window == nil {
		return t, err
	}
	t.window, err = render.Together(t.window, u.window, r.scene.AdaptCdM2)
	return t, err
}

// eachEye says focus and notes of two eyes, each with its side.
func eachEye(a, b taken) (focus string, notes []string) {
	focus = fmt.Sprintf("%s eye: %s; %s eye: %s", a.state.Side, a.state.Focus, b.state.Side, b.state.Focus)
	for _, t := range []taken{a, b} {
		for _, n := range t.state.Notes {
			notes = append(notes, fmt.Sprintf("%s eye: %s", t.state.Side, n))
		}
	}
	return focus, notes
}
