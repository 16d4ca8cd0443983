package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/unit"
	"simview/scenes"
)

func checkCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "check CASE",
		Short:   "Check a case file and say in plain words what was understood and assumed",
		Example: "  simview check case.yaml",
		Args:    cobra.ExactArgs(1),
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
			for _, side := range []unit.Side{unit.Right, unit.Left} {
				if from.Eye(side) == nil {
					continue
				}
				e, err := cause.Resolve(from.Case, side)
				if err != nil {
					return err
				}
				for _, n := range e.Notes {
					fmt.Fprintf(w, "assumed for the %s eye: %s\n", side, n)
				}
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
		Args:  cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			list, err := scenes.Builtins()
			if err != nil {
				return err
			}
			type row struct {
				ID        string  `json:"scene"`
				Title     string  `json:"title"`
				GoodFor   string  `json:"good_for"`
				DistanceM float64 `json:"distance_m"`
				WidthDeg  float64 `json:"width_deg"`
				HeightDeg float64 `json:"height_deg"`
				AdaptCdM2 float64 `json:"adapting_cdm2"`
				Lamps     int     `json:"lamps"`
			}
			var rows []row
			for _, s := range list {
				rows = append(rows, row{s.ID, s.Title, s.GoodFor, s.DistanceM, s.WidthDeg, s.HeightDeg, s.AdaptCdM2, len(s.Lamps)})
			}
			if asJSON {
				return encode(c.OutOrStdout(), rows)
			}
			for _, r := range rows {
				fmt.Fprintf(c.OutOrStdout(), "%-14s %s\n%15s%s\n%15sat %g m, %g x %g degrees, adapting light %g cd/m², %d lamps\n", r.ID, r.Title, "", r.GoodFor, "", r.DistanceM, r.WidthDeg, r.HeightDeg, r.AdaptCdM2, r.Lamps)
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
		Args:  cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			from, err := openCase(args)
			if err != nil {
				return err
			}
			w := c.OutOrStdout()
			found := map[string][]cause.Cause{}
			for _, side := range []unit.Side{unit.Right, unit.Left} {
				if from.Eye(side) == nil {
					continue
				}
				e, err := cause.Resolve(from.Case, side)
				if err != nil {
					return err
				}
				found[side.String()] = e.Causes
				for _, k := range e.Causes {
					if !asJSON {
						fmt.Fprintf(w, "%s eye  %-12s %s: %s (%s)\n", side, k.ID, k.Label, k.Amount, k.From)
					}
				}
			}
			if asJSON {
				return encode(w, found)
			}
			for _, t := range cause.Trials {
				kind := "what-if"
				if t.InRoom {
					kind = "to try in the room"
				}
				fmt.Fprintf(w, "trial      %s: %s (%s)\n", t.ID, t.Label, kind)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}
