package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/compare"
	"simview/internal/render"
)

// renderGazes writes a strip: one eye before one scene, once for each fixation.
func renderGazes(c *cobra.Command, from opened, set compare.Settings, k *which, out string) error {
	t, err := stageOne(from, set, k)
	if err != nil {
		return err
	}
	s := t.theatre.Scene
	hang, err := render.Hang(t.refWide, t.refPart, compare.Curve(set.Tone, s), s.AdaptCdM2, t.state.Loss())
	if err != nil {
		return err
	}
	row := render.Row{Heading: fmt.Sprintf("%s, %s; %s", s.Title, t.state.Condition, hang.Tone.Name)}
	for _, at := range t.opt.Gazes() {
		if err := c.Context().Err(); err != nil {
			return err
		}
		opt := t.opt
		opt.Gaze = at
		wide, window, err := look(t.theatre, t.state, opt)
		if err != nil {
			return err
		}
		row.Panels = append(row.Panels, render.Panel{
			Name: fmt.Sprintf("Looking at (%.3g°, %.3g°)", float64(at.X), float64(at.Y)), Amount: "right and up are positive, from the middle of the scene",
			Notes: strings.Join(append([]string{t.state.Focus}, t.state.Notes...), "; "),
			Pic:   hang.ComposeWith(wide, window, outlineOf(t.state, opt)),
		})
	}
	sheet := render.Sheet{
		Title: fmt.Sprintf("The %s eye looks at one place after the other", t.state.Side), Sub: whose(from.Case), Urgent: compare.Urgent(t.opt),
		Rows: []render.Row{row}, Checks: stripChecks(from.Case),
		Foot: append([]string{"Shown: " + strings.Join(k.causes, ", ") + "; " + t.opt.Manner.Nerve.Words()}, compare.Notice...),
	}
	if err := writePNG(out, sheet.Draw()); err != nil {
		return err
	}
	sayNerve(c.OutOrStdout(), t.opt, t.state.Loss() != nil)
	sayWhatIf(c.OutOrStdout(), k.trial)
	fmt.Fprintf(c.OutOrStdout(), "%s\n%s\n", out, compare.Notice[0])
	return nil
}
