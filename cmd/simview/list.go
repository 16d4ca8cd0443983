package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/scenes"
)

func checkCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "check CASE",
		Short:   "Check a case file and say in plain words what was understood and assumed",
		Example: "  simview check case.yaml",
		Long: `check reads a case and prints what was understood, for you to compare with the
notes it was written from, what deserves a second look, and what is assumed. A
slip is named with its file and line; nothing is guessed and nothing is clamped.`,
		Args: thisCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			from, err := openCase(args)
			if err != nil {
				return err
			}
			w := c.OutOrStdout()
			for _, line := range from.Understood() {
				fmt.Fprintln(w, line)
			}
			for _, n := range from.notices {
				fmt.Fprintln(w, "please check:", n)
			}
			err = from.eachEye(func(e *cause.Eye) error {
				for _, n := range e.Notes {
					fmt.Fprintf(w, "assumed for the %s eye: %s\n", e.Side, n)
				}
				return nil
			})
			if err != nil {
				return err
			}
			for _, n := range compare.Notice {
				fmt.Fprintln(w, n)
			}
			return nil
		},
	}
}

func scenesCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "scenes",
		Short: "List the scenes: what each is good for, distance, size, light",
		Long: `scenes lists the scenes that are built in: what each is good for, how far away it
is, its width and height in degrees, the luminance in cd/m² of its darkest and
brightest surface and that which the eye is adapted to, and how many lamps it
has. simview scene NAME says more of one, and draws it.`,
		Example: `  simview scenes
  simview scenes --json`,
		Args: noCase,
		RunE: func(c *cobra.Command, _ []string) error {
			list, err := scenes.Builtins()
			if err != nil {
				return err
			}
			type row struct {
				sceneBrief
				Lamps int `json:"lamps"`
			}
			var rows []row
			for _, s := range list {
				rows = append(rows, row{briefOf(s), len(s.Lamps)})
			}
			if asJSON {
				return encode(c.OutOrStdout(), rows)
			}
			for _, r := range rows {
				fmt.Fprintf(c.OutOrStdout(), "%-14s %s\n%15s%s\n%15sat %g m, %g x %g degrees, surfaces %g to %g cd/m², adapting light %g cd/m², %d lamps\n", r.ID, r.Title, "", r.GoodFor, "", r.DistanceM, r.WidthDeg, r.HeightDeg, r.Darkest, r.Brightest, r.AdaptCdM2, r.Lamps)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

func causesCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "causes [CASE]",
		Short: "List the causes found in a case, and the trials",
		Long: `causes lists, for each eye, the causes that its measurements hold, their amount
with its unit at strength 1, and where that came from; then the trials, those to
try in the room and the what-ifs, each group in a fixed order that says nothing
about which is better. Without CASE it uses the built-in demo case.`,
		Example: `  simview causes
  simview causes case.yaml --json`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			from, err := openCase(args)
			if err != nil {
				return err
			}
			l, err := listed(from)
			if err != nil {
				return err
			}
			if asJSON {
				return encode(c.OutOrStdout(), l)
			}
			l.print(c.OutOrStdout())
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// listing is what causes prints.
type listing struct {
	Causes []causeRow `json:"causes"`
	Trials []trialRow `json:"trials"`
}

type causeRow struct {
	Eye    string `json:"eye"`
	ID     string `json:"cause"`
	Label  string `json:"label"`
	Amount string `json:"amount"`
	From   string `json:"from"`
}

type trialRow struct {
	ID       string   `json:"trial"`
	Label    string   `json:"label"`
	InRoom   bool     `json:"to_try_in_the_room"`
	Settings []string `json:"settings,omitempty"`
	RestsOn  string   `json:"rests_on,omitempty"`
	SawLess  string   `json:"saw_worse_after,omitempty"`
}

func listed(from opened) (listing, error) {
	l := listing{Causes: []causeRow{}}
	err := from.eachEye(func(e *cause.Eye) error {
		for _, k := range e.Causes {
			l.Causes = append(l.Causes, causeRow{e.Side.String(), string(k.ID), k.Label, k.Amount, k.From.String()})
		}
		return nil
	})
	for _, t := range cause.Trials {
		l.Trials = append(l.Trials, trialRow{t.ID, t.Label, t.InRoom, t.Keys(), t.Assumes, t.Published})
	}
	return l, err
}

func (l listing) print(w io.Writer) {
	for _, k := range l.Causes {
		fmt.Fprintf(w, "%s eye  %-12s %s: %s (%s)\n", k.Eye, k.ID, k.Label, k.Amount, k.From)
	}
	l.trials(w, "to try in the room", true)
	l.trials(w, "what if (outcomes spread, and some are worse than now)", false)
}

// trials lists one of the two groups in its fixed order.
func (l listing) trials(w io.Writer, heading string, inRoom bool) {
	fmt.Fprintf(w, "%s:\n", heading)
	for _, t := range l.Trials {
		if t.InRoom != inRoom {
			continue
		}
		fmt.Fprintf(w, "  %-30s %s\n", t.ID, t.Label)
		if inRoom && len(t.Settings) > 0 {
			fmt.Fprintf(w, "  %30s settings: %s\n", "", strings.Join(t.Settings, ", "))
		}
	}
	if !inRoom {
		fmt.Fprintf(w, "  each with the settings %s\n", strings.Join(l.Trials[len(l.Trials)-1].Settings, ", "))
	}
}
