package main

import (
	"fmt"
	"image"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/unit"
)

// which holds the flags that choose one eye state.
type which struct {
	eye    string
	causes []string
	trial  string
	same   bool
}

func (k *which) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&k.eye, "eye", "", "right or left (default: the eye of the complaint)")
	f.StringSliceVar(&k.causes, "view", []string{"all"}, "all, reference, or causes with their strength as `cause=k`, k from 0 to 3, as in lens=1,field=0.5")
	f.StringVar(&k.trial, "trial", "", "apply a trial by its `id`, see simview causes")
	f.BoolVar(&k.same, "same-glasses", false, "keep the glasses that suit all causes together instead of those that suit this set")
}

// state makes the chosen eye state in a viewing condition.
func (k *which) state(from opened, v cause.Viewing) (eye.State, error) {
	side := from.ComplaintSide()
	if k.eye != "" {
		var err error
		if side, err = unit.ParseSide(k.eye); err != nil {
			return eye.State{}, usageError{fmt.Errorf("--%w", err)}
		}
	}
	e, err := cause.Resolve(from.Case, side)
	if err != nil {
		return eye.State{}, err
	}
	set, err := strengths(e, k.causes)
	if err != nil {
		return eye.State{}, usageError{fmt.Errorf("--view: %w", err)}
	}
	if k.trial != "" {
		t, err := cause.FindTrial(k.trial)
		if err != nil {
			return eye.State{}, usageError{err}
		}
		return t.Apply(e, set, v)
	}
	g := cause.Refracted
	if k.same {
		g = cause.Same
	}
	return e.State(set, v, g)
}

func strengths(e *cause.Eye, words []string) (cause.Strengths, error) {
	if len(words) == 1 && words[0] == "all" {
		return e.All(), nil
	}
	set := cause.Strengths{}
	for _, w := range words {
		if w == "reference" {
			continue
		}
		id, k, has := strings.Cut(w, "=")
		amount := 1.0
		if has {
			var err error
			if amount, err = strconv.ParseFloat(k, 64); err != nil {
				return nil, fmt.Errorf("strength of %s: must be a number from 0 to %d (got %q)", id, cause.MaxStrength, k)
			}
		}
		set[cause.ID(id)] = amount
	}
	return set, set.Check(e)
}

func renderCommand() *cobra.Command {
	var l looking
	var k which
	var linear, window bool
	c := &cobra.Command{
		Use:   "render [CASE] --scene ID -o FILE.png",
		Short: "Render one view of one scene",
		Long: `render makes one picture: one eye with a chosen set of causes before one scene.
The exposure follows the reference view of the scene, as on a sheet.`,
		Example: `  simview render --scene letters --view cylinder -o cylinder.png
  simview render case.yaml --scene harbour-night --view lens=2 --window -o lens.png
  simview render case.yaml --scene letters --trial pinhole -o pinhole.png`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			from, err := openCase(args)
			if err != nil {
				return err
			}
			if !strings.HasSuffix(l.out, ".png") {
				return usageError{fmt.Errorf("-o: must name a .png file (got %q)", l.out)}
			}
			k.eye = l.eye
			set, err := l.settings(from)
			if err != nil {
				return err
			}
			m, err := renderOne(from, set, &k, window, linear)
			if err != nil {
				return err
			}
			return writePNG(l.out, m)
		},
	}
	l.flags(c)
	c.Flags().Lookup("out").DefValue = "view.png"
	l.out = "view.png"
	c.Flags().Lookup("scene").DefValue = "letters"
	l.scenes = []string{"letters"}
	k.causes = []string{"all"}
	c.Flags().StringSliceVar(&k.causes, "view", k.causes, "all, reference, or causes with their strength as `cause=k`, k from 0 to 3, as in lens=1,field=0.5")
	c.Flags().StringVar(&k.trial, "trial", "", "apply a trial by its `id`, see simview causes")
	c.Flags().BoolVar(&k.same, "same-glasses", false, "keep the glasses that suit all causes together instead of those that suit this set")
	c.Flags().BoolVar(&window, "window", false, "the magnified window instead of the whole scene")
	c.Flags().BoolVar(&linear, "linear", false, "16-bit linear light, white at the tone's white, instead of 8-bit sRGB")
	return c
}

func renderOne(from opened, set compare.Settings, k *which, window, linear bool) (image.Image, error) {
	if len(set.Scenes) != 1 && set.Photo == nil {
		return nil, usageError{fmt.Errorf("--scene: render takes one scene (got %d)", len(set.Scenes))}
	}
	if set.Photo != nil {
		set.Scenes = nil
	}
	list, err := openScenes(set.Scenes, set.Photo)
	if err != nil {
		return nil, err
	}
	s := list[0]
	v := compare.Viewing(s)
	state, err := k.state(from, v)
	if err != nil {
		return nil, err
	}
	ref := *k
	ref.causes, ref.trial, ref.same = []string{"reference"}, "", false
	refState, err := ref.state(from, v)
	if err != nil {
		return nil, err
	}
	theatre, err := render.NewTheatre(s)
	if err != nil {
		return nil, err
	}
	if window && theatre.Window == nil {
		return nil, usageError{fmt.Errorf("--window: scene %s has no magnified window", s.ID)}
	}
	opt, err := set.Options()
	if err != nil {
		return nil, err
	}
	first, _, err := look(theatre, refState, opt)
	if err != nil {
		return nil, err
	}
	tone, err := light.ToneFor(first, compare.Curve(set.Tone, s), s.AdaptCdM2)
	if err != nil {
		return nil, err
	}
	wide, part, err := look(theatre, state, opt)
	if window {
		wide = part
	}
	if err != nil {
		return nil, err
	}
	if linear {
		return light.EncodeLinear16(wide, tone.WhiteCdM2), nil
	}
	return tone.Encode(wide), nil
}

func look(t *render.Theatre, s eye.State, o compare.Options) (wide, window *light.Image, err error) {
	p, err := render.PSF(s)
	if err != nil {
		return nil, nil, err
	}
	a, b, err := t.Look(render.View{Eye: s, Gaze: o.Gaze}, p)
	return a.Seen, b.Seen, err
}
