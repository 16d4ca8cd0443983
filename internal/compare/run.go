package compare

import (
	"context"
	"fmt"
	"image"
	"strings"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/scene"
)

// Save keeps one picture under a file name without a folder.
type Save func(name string, m image.Image) error

// Progress is told before each view how many are done, of how many, and which
// comes next.
type Progress func(done, of int, next string)

// Run makes every view of every scene, saves one picture a panel, and returns
// the sheet and the scenes' part of the record. It stops with ctx's error when
// ctx ends.
func Run(ctx context.Context, c *casefile.Case, scenes []*scene.Scene, o Options, save Save, tell Progress) (render.Sheet, []SceneRecord, error) {
	shots, err := Shots(c, o)
	if err != nil {
		return render.Sheet{}, nil, err
	}
	sheet := render.Sheet{Title: heading(o), Sub: subtitle(c), Urgent: Urgent(o), Checks: checks(c), Foot: foot(shots, o)}
	var records []SceneRecord
	for k, s := range scenes {
		row, rec, err := RunShots(ctx, c, s, o, shots, save, func(done, of int, next string) { tell(k*of+done, len(scenes)*of, next) })
		if err != nil {
			return sheet, nil, err
		}
		sheet.Rows, records = append(sheet.Rows, row), append(records, rec)
	}
	return sheet, records, nil
}

type runner struct {
	ctx   context.Context
	save  Save
	tell  func(n int, what string)
	shots []Shot
	opt   Options
	scene *scene.Scene

	viewing cause.Viewing
	light   string // what the pupil follows from, when asked for
	theatre *render.Theatre
	hanging render.Hanging
	ref     encoded // the reference view
}

// taken is one view before the display.
type taken struct {
	looks        render.View
	state        eye.State
	wide, window *light.Image
	view         ViewRecord
}

func (r *runner) run() (render.Row, SceneRecord, error) {
	var err error
	r.tell(0, "drawing the scene")
	if r.theatre, err = render.NewTheatre(r.scene); err != nil {
		return render.Row{}, SceneRecord{}, err
	}
	row, rec := render.Row{}, SceneRecord{ID: r.scene.ID, Title: r.scene.Title}
	for k, s := range r.shots {
		if err := r.ctx.Err(); err != nil {
			return row, rec, err
		}
		r.tell(k, s.Name)
		t, err := r.take(s)
		if err != nil {
			return row, rec, fmt.Errorf("%s, %s: %w", r.scene.ID, s.ID, err)
		}
		if k == 0 {
			if err := r.hang(t, &row, &rec); err != nil {
				return row, rec, err
			}
		}
		panel, view, err := r.show(s, t)
		if err != nil {
			return row, rec, err
		}
		row.Panels, rec.Views = append(row.Panels, panel), append(rec.Views, view)
	}
	return row, rec, nil
}

// take computes the pictures of one shot.
func (r *runner) take(s Shot) (taken, error) {
	if s.Fellow != nil {
		return r.takeBoth(s)
	}
	state, err := s.State(r.viewing)
	if err != nil {
		return taken{}, err
	}
	p, err := r.opt.Manner.Spread(state)
	if err != nil {
		return taken{}, err
	}
	notes, err := r.opt.Manner.Notes(state)
	if err != nil {
		return taken{}, err
	}
	for _, n := range notes {
		state = state.Note(n)
	}
	looks := r.viewOf(s, state)
	wide, window, err := r.theatre.LookThrough(looks, p)
	t := taken{looks: looks, state: state, wide: wide.Seen, window: window.Seen}
	t.view = ViewRecord{
		ID: s.ID, Name: s.Name, Eye: s.Side.String(), Strengths: s.Set, Trial: s.Trial,
		PupilMM: state.PupilMM, LightShare: state.Light, Condition: state.Condition, Focus: state.Focus, Notes: state.Notes,
		Trolands:   state.Trolands(r.scene.AdaptCdM2),
		PSFSamples: p.G.N, PSFStepDeg: p.G.StepDeg,
	}
	t.view.sayField(s)
	if err == nil {
		t.view.WhatIf, err = s.whatIf(r.viewing)
	}
	return t, err
}

func (r *runner) viewOf(s Shot, e eye.State) render.View {
	v := render.View{Eye: e, Gaze: r.opt.Gaze, Manner: r.opt.Manner}
	if s.Gaze != nil {
		v.Gaze = *s.Gaze
	}
	return v
}

// hang chooses how the scene is shown, from the reference view.
func (r *runner) hang(t taken, row *render.Row, rec *SceneRecord) (err error) {
	if r.hanging, err = render.Hang(t.wide, t.window, Curve(r.opt.Tone, r.scene), r.scene.AdaptCdM2, r.lost()); err != nil {
		return err
	}
	tone := r.hanging.Tone
	rec.Tone, rec.ClippedShare = tone.Name, tone.ClippedShare(t.wide)
	rec.Light, rec.FocusNM = r.opt.Manner.Words(), render.FocusNM
	if r.opt.Manner.Needles {
		rec.NeedleSeed = render.NeedleSeed
	}
	row.Heading = fmt.Sprintf("%s, %s; %s, %.1f %% clipped to white", r.scene.Title, t.state.Condition, tone.Name, 100*rec.ClippedShare)
	if t.window != nil {
		row.Heading += fmt.Sprintf("; the framed part is magnified %.3g times", t.wide.StepDeg/t.window.StepDeg)
	}
	if brief := r.opt.Manner.Brief(); brief != "" {
		row.Heading += "; " + brief
	}
	if r.light != "" {
		row.Heading += "; " + r.light
	}
	if r.scene.GlareOff {
		row.Heading += "; glare off: the photograph's white is not stated"
	}
	if r.scene.Clipped > 0 {
		row.Heading += fmt.Sprintf("; %.1f %% of the photograph itself is clipped", 100*r.scene.Clipped)
	}
	return nil
}

// lost is the field loss of the eye as measured, or of the first of several
// fields, at a direction of the scene.
func (r *runner) lost() func(x, y float64) float64 {
	for _, s := range r.shots {
		if s.ID != "all" && s.ID != firstField {
			continue
		}
		state, err := s.State(r.viewing)
		if err != nil || state.Loss() == nil {
			return nil
		}
		loss, g := state.Loss(), r.opt.Gaze
		return func(x, y float64) float64 { return loss(x-float64(g.X), y-float64(g.Y)) }
	}
	return nil
}

// show takes a view to the display, saves it, and says whether it differs from
// the reference.
func (r *runner) show(s Shot, t taken) (render.Panel, ViewRecord, error) {
	p := render.Panel{Name: s.Name, Amount: s.Amount, Notes: strings.Join(append([]string{t.state.Focus}, t.state.Notes...), "; ")}
	v := t.view
	shown := r.encode(t)
	if s.ID == "reference" {
		r.ref = shown
	} else if s.ID != "fellow" && s.Fellow == nil {
		p.Hidden = !r.visible(shown, t)
		v.NotVisible = p.Hidden
	}
	outline := r.outline(s, t.looks)
	p.Pic = r.hanging.ComposeWith(t.wide, t.window, outline)
	outline(shown.wide, t.wide.Grid)
	v.Wide = r.scene.ID + "-" + s.ID + ".png"
	if err := r.save(v.Wide, shown.wide); err != nil {
		return p, v, err
	}
	if t.window == nil {
		return p, v, nil
	}
	v.Window = r.scene.ID + "-" + s.ID + "-window.png"
	v.Magnification = t.wide.StepDeg / t.window.StepDeg
	outline(shown.window, t.window.Grid)
	return p, v, r.save(v.Window, shown.window)
}

// outline draws the layer round the affected region, if it was asked for.
func (r *runner) outline(s Shot, v render.View) func(pic *image.NRGBA, g light.Grid) {
	if !r.opt.Manner.Nerve.Outline || s.Fellow != nil {
		return func(*image.NRGBA, light.Grid) {}
	}
	return v.DrawOutline
}

// encoded is a view on the display.
type encoded struct{ wide, window *image.NRGBA }

func (r *runner) encode(t taken) encoded {
	e := encoded{wide: r.hanging.Tone.Encode(t.wide)}
	if t.window != nil {
		e.window = r.hanging.Tone.Encode(t.window)
	}
	return e
}

func (r *runner) visible(e encoded, t taken) bool {
	if render.Differ(r.ref.wide, e.wide, t.wide.StepDeg) {
		return true
	}
	return t.window != nil && render.Differ(r.ref.window, e.window, t.window.StepDeg)
}

// ByScene is the tone option that leaves the curve to the scene.
const ByScene = "by-scene"

// Curve is the tone curve of a scene under a tone option: by day linear, since
// a display holds a page or a street; by night photographic, since lamps span
// more than a display does.
func Curve(option string, s *scene.Scene) string {
	switch {
	case option != ByScene:
		return option
	case s.Night:
		return "photographic"
	}
	return "linear"
}

// RunShots makes one row of views of one scene from shots of one's own, the
// reference view first; see [Run].
func RunShots(ctx context.Context, c *casefile.Case, s *scene.Scene, o Options, shots []Shot, save Save, tell Progress) (render.Row, SceneRecord, error) {
	r := runner{ctx: ctx, save: save, shots: shots, opt: o, scene: s}
	var err error
	if r.viewing, r.light, err = o.Viewing(s, c.AgeYears.V); err != nil {
		return render.Row{}, SceneRecord{}, fmt.Errorf("%s: %w", s.ID, err)
	}
	r.tell = func(n int, what string) { tell(n, len(shots), s.Title+": "+what) }
	return r.run()
}
