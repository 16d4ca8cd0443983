package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/render"
)

// which holds the flags that choose one eye state.
type which struct {
	eye    string
	causes []string
	trial  string
	same   bool
	blinkS float64 // seconds since the blink; 0: an even film

	extrapolate bool
}

func (k *which) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringSliceVar(&k.causes, "view", []string{"all"}, "all, reference, or causes with their strength as `cause=k`, k from 0 to 3, as in lens=1,field=0.5")
	f.StringVar(&k.trial, "trial", "", "apply a `trial`, see simview causes and docs/trials.md; it starts from the view, and a what-if is shown exactly as intended unless it says outcome=middle, better or worse")
	f.BoolVar(&k.same, "same-glasses", false, "wear the owner's own glasses with one cause too, instead of those that suit the rest of that eye")
	f.Float64Var(&k.blinkS, "since-blink-s", 0, "with the tear film of the case so many `seconds` after a blink, 0 to 120; 0 leaves it even")
	complete(c, "view", viewWords)
	complete(c, "trial", trialWords)
}

// state makes the chosen eye state in a viewing condition.
func (k *which) state(from opened, v cause.Viewing) (eye.State, error) {
	e, err := k.subject(from)
	if err != nil {
		return eye.State{}, err
	}
	return k.stateOf(e, v)
}

// subject resolves the chosen eye.
func (k *which) subject(from opened) (*cause.Eye, error) {
	side, err := from.side(k.eye)
	if err != nil {
		return nil, err
	}
	e, err := cause.Resolve(from.Case, side)
	if err != nil {
		return nil, err
	}
	e.Extrapolate = k.extrapolate
	return e, nil
}

// stateOf makes the chosen state of an eye.
func (k *which) stateOf(e *cause.Eye, v cause.Viewing) (eye.State, error) {
	if !within(k.blinkS, 0, cause.MaxSinceBlinkS) {
		return eye.State{}, usagef("--since-blink-s: must be 0 to %d (got %g)", cause.MaxSinceBlinkS, k.blinkS)
	}
	v.SinceBlinkS = k.blinkS
	set, err := strengths(e, k.causes)
	if err != nil {
		return eye.State{}, usagef("--view: %w", err)
	}
	if k.trial != "" && k.same {
		return eye.State{}, usagef("--same-glasses: does not go with --trial, which says itself which glasses are worn")
	}
	if k.trial != "" {
		t, err := cause.FindTrial(k.trial)
		if err != nil {
			return eye.State{}, usagef("--%w", err)
		}
		return t.Apply(e, set, v)
	}
	return e.State(set, v, glasses(set, k.same))
}

// glasses follows the sheet: a cause alone is refracted for the rest of its eye,
// several together wear their owner's own glasses, unless --same-glasses (same)
// says so for one too.
func glasses(set cause.Strengths, same bool) cause.Glasses {
	if same || len(set) > 1 {
		return cause.Same
	}
	return cause.Refracted
}

// strengths reads the words of --view.
func strengths(e *cause.Eye, words []string) (cause.Strengths, error) {
	if len(words) == 0 {
		return nil, fmt.Errorf("is empty; hint: all, reference, or causes as in lens=1,field=0.5")
	}
	if len(words) == 1 && words[0] == "all" {
		return e.All(), nil
	}
	set := cause.Strengths{}
	if len(words) == 1 && words[0] == "reference" {
		return set, nil
	}
	for _, w := range words {
		id, amount, err := strength(w)
		if err != nil {
			return nil, err
		}
		if _, twice := set[id]; twice {
			return nil, fmt.Errorf("names %s twice", id)
		}
		set[id] = amount
	}
	return set, set.Check(e)
}

// strength reads one cause and its strength, 1 unless stated.
func strength(word string) (cause.ID, float64, error) {
	id, k, has := strings.Cut(word, "=")
	switch {
	case id == "all" || id == "reference":
		return "", 0, fmt.Errorf("%s stands alone, without a strength and other causes (got %q)", id, word)
	case !has:
		return cause.ID(id), 1, nil
	}
	amount, err := strconv.ParseFloat(k, 64)
	if err != nil {
		return "", 0, fmt.Errorf("strength of %s: must be a number from 0 to %d (got %q)", id, cause.MaxStrength, k)
	}
	return cause.ID(id), amount, nil
}

func renderCommand() *cobra.Command {
	var l looking
	var k which
	var window bool
	var d develop
	var on onScreen
	c := &cobra.Command{
		Use:   "render [CASE] --scene ID -o FILE.png",
		Short: "Render one view of one scene",
		Long: `render makes one picture: one eye with a chosen set of causes before one scene.
The exposure follows the reference view of the scene, as on a sheet. A
photograph takes the place of the scene. Several --gaze-deg make a strip, one panel
for each fixation. Without CASE it uses the built-in demo case.`,
		Example: `  simview render --scene letters --view cylinder -o cylinder.png
  simview render case.yaml --scene harbour-night --view lens=2 --window -o lens.png
  simview render case.yaml --scene letters --trial pinhole -o pinhole.png
  simview render --scene letters --trial lens-straight-refracted:outcome=worse -o worse.png
  simview render case.yaml --scene letters --since-blink-s 8 -o tears.png
  simview render case.yaml --scene my-kitchen.yaml -o kitchen.png
  simview render case.yaml --photo kitchen.jpg --photo-width-deg 50 -o kitchen-seen.png
  simview render --scene fence --view field --gaze-deg 0,0 --gaze-deg 8,3 -o gazes.png
  simview render --scene letters --linear -o light.png
  simview render --scene harbour-night --tone visibility -o night.png
  simview render --scene harbour-night -o night.tif`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error { return runRender(c, args, &l, &k, &d, &on, window) },
	}
	on.flags(c)
	l.flags(c, []string{"letters"}, "`id` of the scene, see simview scenes, or a scene file of your own, FILE.yaml")
	c.Flags().StringVarP(&l.out, "out", "o", "view.png", "output `file`, .png, or .tif for linear light in cd/m² as 32-bit floating point; one that exists is replaced")
	k.flags(c)
	l.likely.flags(c)
	c.Flags().BoolVar(&window, "window", false, "the magnified window instead of the whole scene")
	c.Flags().BoolVar(&d.linear, "linear", false, "16-bit linear light, white at the tone's white, instead of 8-bit sRGB")
	c.Flags().Float64Var(&d.viewerGain, "viewer-gain", 0, "sharpen for a viewer whose own normal eye blurs the picture again, at true size, by a `factor` above 1, at most 3")
	return c
}

// runRender makes one view, or a strip of several fixations, and says what it shows.
func runRender(c *cobra.Command, args []string, l *looking, k *which, d *develop, on *onScreen, window bool) error {
	if err := d.check(l.out, c.Flags().Changed("viewer-gain"), l.nerve.outline); err != nil {
		return err
	}
	pitch, err := on.check(c)
	if err != nil {
		return err
	}
	from, set, err := l.prepare(c, args, ".png", ".tif")
	if err != nil {
		return err
	}
	k.eye, k.extrapolate = l.eye, l.extrapolate
	opt, err := set.Options()
	if err != nil {
		return err
	}
	sayUrgent(c.OutOrStdout(), opt)
	if len(opt.MoreGazes) > 0 {
		if window || d.linear || d.viewerGain != 0 || !strings.HasSuffix(l.out, ".png") {
			return usagef("--gaze-deg: several fixations make a strip, a .png without --window, --linear and --viewer-gain")
		}
		if err := renderGazes(c, from, set, k, l.out); err != nil {
			return err
		}
		return on.say(c.OutOrStdout(), pitch, sheetPicture)
	}
	m, err := renderOne(from, set, k, window)
	if err != nil {
		return err
	}
	if err := c.Context().Err(); err != nil {
		return err
	}
	if err := d.write(c.OutOrStdout(), l.out, m); err != nil {
		return err
	}
	shown := map[bool]sized{false: widePicture, true: windowPicture}[window]
	if err := on.say(c.OutOrStdout(), pitch, shown); err != nil {
		return err
	}
	for _, line := range m.said {
		fmt.Fprintln(c.OutOrStdout(), line)
	}
	sayNerve(c.OutOrStdout(), opt, m.lost)
	sayWhatIf(c.OutOrStdout(), k.trial)
	return nil
}

// prepare reads the case and checks flags and output of render before any work.
func (l *looking) prepare(c *cobra.Command, args []string, endings ...string) (opened, compare.Settings, error) {
	if err := endsIn(l.out, endings...); err != nil {
		return opened{}, compare.Settings{}, err
	}
	if c.Flags().Changed("scene") && l.photo.File != "" {
		return opened{}, compare.Settings{}, usagef("--photo: takes the place of --scene; leave one of them out")
	}
	if l.photo.File != "" {
		l.scenes = nil
	}
	from, err := openCase(args)
	if err != nil {
		return from, compare.Settings{}, err
	}
	set, err := l.settings(c, from)
	if err != nil {
		return from, set, err
	}
	if n := len(set.Scenes); n > 1 {
		return from, set, usagef("--scene: render takes one scene (got %d)", n)
	}
	return from, set, free([]string{l.out}, append(from.paths, l.photo.File)...)
}

// staged is a scene set up with the eye that looks at it.
type staged struct {
	theatre *render.Theatre
	state   eye.State
	opt     compare.Options
	refWide *light.Image // the reference view, which exposure follows
	refPart *light.Image
}

func stageOne(from opened, set compare.Settings, k *which) (t staged, err error) {
	list, err := openScenes(set)
	if err != nil {
		return t, err
	}
	s := list[0]
	if err := k.glareKnown(s); err != nil {
		return t, err
	}
	if t.opt, err = set.Options(); err != nil {
		return t, err
	}
	v, _, err := t.opt.Viewing(s, from.AgeYears.V)
	if err != nil {
		return t, err
	}
	e, err := k.subject(from)
	if err != nil {
		return t, err
	}
	if t.state, err = k.stateOf(e, v); err != nil {
		return t, err
	}
	if set.FieldDraw > 0 && t.state.Loss() == nil {
		return t, usagef("--field-draw: this view has no lost field of which another could be drawn; hint: leave it out")
	}
	if t.state, err = t.opt.Field.Apply(t.state); err != nil {
		return t, err
	}
	refState, err := e.Reference(v)
	if err != nil {
		return t, err
	}
	if t.theatre, err = render.NewTheatre(s); err != nil {
		return t, err
	}
	t.refWide, t.refPart, err = look(t.theatre, refState, t.opt)
	return t, err
}

func renderOne(from opened, set compare.Settings, k *which, window bool) (m made, err error) {
	t, err := stageOne(from, set, k)
	if err != nil {
		return m, err
	}
	s := t.theatre.Scene
	if window && t.theatre.Window == nil {
		return m, usagef("--window: scene %s has no magnified window", s.ID)
	}
	tone, err := light.ToneFor(t.refWide, compare.Curve(set.Tone, s), s.AdaptCdM2)
	if err != nil {
		return m, err
	}
	wide, part, err := look(t.theatre, t.state, t.opt)
	if window {
		wide = part
	}
	if err != nil {
		return m, err
	}
	m = made{light: wide, tone: tone, lost: t.state.Loss() != nil}
	if m.said, err = lightSaid(t.opt, t.state); err != nil {
		return m, err
	}
	for _, n := range t.state.Notes {
		m.said = append(m.said, capital(n)+".")
	}
	if t.opt.Manner.Nerve.Outline {
		m.outline = &render.View{Eye: t.state, Gaze: t.opt.Gaze}
	}
	return m, nil
}

func look(t *render.Theatre, s eye.State, o compare.Options) (wide, window *light.Image, err error) {
	p, err := o.Manner.Spread(s)
	if err != nil {
		return nil, nil, err
	}
	a, b, err := t.LookThrough(render.View{Eye: s, Gaze: o.Gaze, Manner: o.Manner}, p)
	return a.Seen, b.Seen, err
}

// lightSaid is what is said of a view's colour, layers and tint; nothing in the usual
// manner.
func lightSaid(o compare.Options, s eye.State) ([]string, error) {
	m := o.Manner
	m.Nerve = render.Nerve{}
	if m == (render.Manner{}) {
		return nil, nil
	}
	notes, err := m.Notes(s)
	return append([]string{m.Words()}, notes...), err
}
