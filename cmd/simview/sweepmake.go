package main

import (
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/sweep"
	"simview/internal/unit"
)

// sweeper makes the pictures of a grid.
type sweeper struct {
	from    opened
	set     compare.Settings
	axes    sweep.Axes
	part    sweep.Part
	workers int
	stepDeg float64
	same    bool // own glasses with one cause too
	dir     string
	write   func(path string, m image.Image, text string) error

	opt    compare.Options
	scenes map[string]*scene.Scene
	eyes   map[string]*cause.Eye
	trials map[string]cause.Trial
}

// prepare opens what the axes name, and refuses what some picture could not be.
func (s *sweeper) prepare() (err error) {
	if s.opt, err = s.set.Options(); err != nil {
		return err
	}
	list, err := openScenes(s.set)
	if err != nil {
		return err
	}
	s.scenes, s.eyes, s.trials = map[string]*scene.Scene{}, map[string]*cause.Eye{}, map[string]cause.Trial{}
	for i, name := range s.axes.Scenes {
		s.scenes[name] = list[i]
		w, h := 60*list[i].WidthDeg, 60*list[i].HeightDeg
		if least := 60 * s.stepDeg; w < 8*least || h < 8*least {
			return usagef("--step-arcmin: %s is %.3g x %.3g minutes of arc, too small for pixels of %.3g; hint: name a smaller step", name, w, h, least)
		}
	}
	for _, name := range s.axes.Eyes {
		side, _ := unit.ParseSide(name) // checked with the axes
		e, err := cause.Resolve(s.from.Case, side)
		if err != nil {
			return err
		}
		e.Extrapolate = s.set.Extrapolate
		s.eyes[name] = e
	}
	for _, id := range s.axes.Trials {
		if id == sweep.None {
			continue
		}
		if s.same {
			return usagef("--same-glasses: does not go with --trial, which says itself which glasses are worn")
		}
		if s.trials[id], err = cause.FindTrial(id); err != nil {
			return usagef("--%w", err)
		}
	}
	return s.try()
}

// try refuses strengths that an eye does not have, and pupils wider than was
// measured.
func (s *sweeper) try() error {
	one := s.axes
	one.GazesDeg = one.GazesDeg[:1]
	for _, c := range one.Cells() {
		e := s.eyes[c.Eye]
		if err := s.strengths(c).Check(e); err != nil {
			return usagef("--severity: %w", err)
		}
		if s.scenes[c.Scene].GlareOff && slices.ContainsFunc(c.Strengths, func(k sweep.Strength) bool { return k.Cause == string(cause.Scatter) }) {
			return usagef("--severity: scatter cannot be shown on a photograph whose white is not stated; hint: --photo-white-cdm2 states it")
		}
	}
	for _, name := range s.axes.Eyes {
		for _, mm := range s.axes.PupilsMM {
			state, err := s.eyes[name].Reference(cause.Viewing{DistanceM: math.Inf(1), PupilMM: mm})
			if err != nil {
				return err
			}
			if state.PupilMM < mm {
				return usagef("--pupil-mm: %g mm is wider than the %.3g mm that were measured of the %s eye; hint: --extrapolate lets it be", mm, state.PupilMM, name)
			}
		}
	}
	return nil
}

// strengths are those of a picture.
func (s *sweeper) strengths(c sweep.Cell) cause.Strengths {
	set := cause.Strengths{}
	if len(c.Strengths) == 0 || s.axes.Others == sweep.Measured {
		set = s.eyes[c.Eye].All()
	}
	for _, k := range c.Strengths {
		set[cause.ID(k.Cause)] = k.K
	}
	return set
}

// eyeOf is the eye of a picture.
func (s *sweeper) eyeOf(c sweep.Cell) (eye.State, error) {
	v, err := s.viewing(c)
	if err != nil {
		return eye.State{}, err
	}
	e, set := s.eyes[c.Eye], s.strengths(c)
	if c.Trial != "" {
		return s.trials[c.Trial].Apply(e, set, v)
	}
	return e.State(set, v, glasses(set, s.same))
}

func (s *sweeper) viewing(c sweep.Cell) (cause.Viewing, error) {
	v, _, err := s.opt.Viewing(s.scenes[c.Scene], s.from.AgeYears.V)
	if c.PupilMM > 0 {
		v.PupilMM = c.PupilMM
	}
	return v, err
}

// run writes the index, makes what is missing of this part and says what there is.
func (s *sweeper) run(c *cobra.Command) error {
	cells := s.axes.Cells()
	sayUrgent(c.OutOrStdout(), s.opt)
	if err := s.begin(cells); err != nil {
		return err
	}
	there := func(file string) bool { _, err := os.Stat(filepath.Join(s.dir, file)); return err == nil }
	mine := s.part.Of(cells)
	left := sweep.Left(mine, there)
	if err := s.make(c, left); err != nil {
		return err
	}
	share := ""
	if s.part.N > 1 {
		share = fmt.Sprintf(" in part %s", s.part)
	}
	fmt.Fprintf(c.OutOrStdout(), "%s: %d pictures%s, %d of them made now; of all %d, %d are still to be made\n%s\n",
		filepath.Join(s.dir, "index.csv"), len(mine), share, len(left), len(cells), len(sweep.Left(cells, there)), compare.Notice[0])
	return nil
}

// make makes pictures, scene after scene, so that one is kept at a time.
func (s *sweeper) make(c *cobra.Command, left []sweep.Cell) error {
	tell, clear := sweepProgress(c.ErrOrStderr(), time.Now)
	defer clear()
	done := 0
	for len(left) > 0 {
		n := slices.IndexFunc(left, func(d sweep.Cell) bool { return d.Scene != left[0].Scene })
		if n < 0 {
			n = len(left)
		}
		st, err := s.stage(left[0].Scene)
		if err != nil {
			return err
		}
		of := done + len(left)
		if err := sweep.Make(c.Context(), sweep.Groups(left[:n]), s.workers, st.maker, func(k int) { tell(done+k, of) }); err != nil {
			return err
		}
		done, left = done+n, left[n:]
	}
	return nil
}

// sweepStage is one scene, set up for its pictures.
type sweepStage struct {
	*sweeper
	theatre render.Theatre

	mu    sync.Mutex
	tones map[string]light.Tone // by eye
}

func (s *sweeper) stage(name string) (*sweepStage, error) {
	sc := s.scenes[name]
	wide, err := render.NewStage(sc, sc.Grid(s.stepDeg), 2, 0)
	return &sweepStage{sweeper: s, theatre: render.Theatre{Scene: sc, Wide: wide}, tones: map[string]light.Tone{}}, err
}

// tone is that of the reference view of an eye, which all its pictures follow.
func (t *sweepStage) tone(c sweep.Cell) (light.Tone, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if tone, ok := t.tones[c.Eye]; ok {
		return tone, nil
	}
	v, err := t.viewing(sweep.Cell{Scene: c.Scene})
	if err != nil {
		return light.Tone{}, err
	}
	state, err := t.eyes[c.Eye].Reference(v)
	if err != nil {
		return light.Tone{}, err
	}
	wide, _, err := look(&t.theatre, state, t.opt)
	if err != nil {
		return light.Tone{}, err
	}
	tone, err := light.ToneFor(wide, compare.Curve(t.set.Tone, t.theatre.Scene), t.theatre.Scene.AdaptCdM2)
	t.tones[c.Eye] = tone
	return tone, err
}

// sweepMaker makes pictures one after the other, and keeps the eye of the last.
type sweepMaker struct {
	*sweepStage
	last   *sweep.Cell
	state  eye.State
	spread render.Spread
}

func (t *sweepStage) maker() func(sweep.Cell) error {
	m := sweepMaker{sweepStage: t}
	return func(c sweep.Cell) error {
		err := m.picture(c)
		if err != nil {
			return fmt.Errorf("%s: %w", c.File, err)
		}
		return nil
	}
}

// take makes the eye of a picture ready, unless it is that of the last.
func (m *sweepMaker) take(c sweep.Cell) (err error) {
	if m.last != nil && c.SameState(*m.last) {
		return nil
	}
	m.last = nil
	if m.state, err = m.eyeOf(c); err != nil {
		return err
	}
	m.spread, err = m.opt.Manner.Spread(m.state)
	m.last = &c
	return err
}

func (m *sweepMaker) picture(c sweep.Cell) error {
	tone, err := m.tone(c)
	if err != nil {
		return err
	}
	if err := m.take(c); err != nil {
		return err
	}
	at := unit.SightPoint{X: unit.Degrees(c.GazeDeg[0]), Y: unit.Degrees(c.GazeDeg[1])}
	wide, _, err := m.theatre.LookThrough(render.View{Eye: m.state, Gaze: at, Manner: m.opt.Manner}, m.spread)
	if err != nil {
		return err
	}
	notes, err := m.opt.Manner.Notes(m.state)
	if err != nil {
		return err
	}
	words := slices.Concat([]string{m.state.Side.String() + " eye", m.state.Condition, m.state.Focus, tone.Name}, m.state.Notes, notes)
	return m.write(filepath.Join(m.dir, c.File), tone.Encode(wide.Seen), strings.Join(words, "; ")+". "+compare.Notice[0])
}

// writeNotedPNG writes a picture with what has to be said of it.
func writeNotedPNG(path string, m image.Image, text string) error {
	return writeFile(path, func(w io.Writer) error { return light.WriteNotedPNG(w, m, text) })
}
