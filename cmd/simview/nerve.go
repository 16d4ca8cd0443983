package main

import (
	"fmt"
	"image"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/compare"
	"simview/internal/csf"
	"simview/internal/eye"
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/render"
)

// nerve holds the flags of how field loss is drawn.
type nerve struct {
	csf, appearance string
	periphery       bool
	outline         bool
}

func (n *nerve) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&n.appearance, "appearance", fieldmask.Faded.Key(), "how field loss is `drawn`: "+strings.Join(appearances(), ", ")+"; each is printed with its evidence, see docs/field.md")
	f.BoolVar(&n.periphery, "normal-periphery", false, "take away, too, what a healthy eye does not resolve away from fixation")
	f.StringVar(&n.csf, "csf", csf.Models()[0].Key(), "`model` of the contrast that is just seen: "+strings.Join(models(), ", ")+" (barten knows dim light)")
	f.BoolVar(&n.outline, "outline", false, "a line round the affected part of the field, hatched where its depth is not known")
	complete(c, "appearance", fixedWords(appearances()...))
	complete(c, "csf", fixedWords(models()...))
}

func appearances() (keys []string) {
	for _, a := range fieldmask.Appearances() {
		keys = append(keys, a.Key())
	}
	return keys
}

func models() (keys []string) {
	for _, m := range csf.Models() {
		keys = append(keys, m.Key())
	}
	return keys
}

// settings checks the flags; the usual stays unsaid.
func (n *nerve) settings(s *compare.Settings) error {
	a, err := fieldmask.ParseAppearance(n.appearance)
	if err != nil {
		return usagef("--%w", err)
	}
	m, err := csf.Named(n.csf)
	if err != nil {
		return usagef("--csf: %w", err)
	}
	if a != fieldmask.Faded {
		s.Appearance = a.Key()
	}
	if m != csf.Models()[0] {
		s.CSF = m.Key()
	}
	s.NormalPeriphery, s.Outline = n.periphery, n.outline
	return nil
}

// sayUrgent prints, before any picture is made, what must be read first.
func sayUrgent(w io.Writer, o compare.Options) {
	if text := compare.Urgent(o); text != "" {
		fmt.Fprintln(w, text)
	}
}

// sayNerve prints how the field loss of a picture is drawn and on what evidence,
// where one is lost or the way is not the usual one.
func sayNerve(w io.Writer, o compare.Options, lost bool) {
	if lost || o.Manner.Nerve != (compare.Options{}).Manner.Nerve {
		fmt.Fprintln(w, o.Manner.Nerve.Words())
	}
}

// outlineOf draws the line round the affected part of a state's field, if it was
// asked for.
func outlineOf(s eye.State, o compare.Options) func(*image.NRGBA, light.Grid) {
	if !o.Manner.Nerve.Outline {
		return func(*image.NRGBA, light.Grid) {}
	}
	return render.View{Eye: s, Gaze: o.Gaze}.DrawOutline
}
