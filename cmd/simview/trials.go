package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
)

func trialsCommand() *cobra.Command {
	var eye string
	var only []string
	var distance float64
	var asJSON bool
	c := &cobra.Command{
		Use:   "trials [CASE]",
		Short: "Table of what each trial would leave, in numbers",
		Long: `trials puts every trial on one eye as measured, through its bright and its dim
pupil, and prints what is left: RMS of the wavefront, visual Strehl ratio, sphere
and cylinder, light. What can be tried in the room comes first, then the what-ifs
with their spread, each in a fixed order that says nothing about which is better.
Without CASE it uses the built-in demo case.`,
		Example: `  simview trials
  simview trials case.yaml --eye left --json
  simview trials --trial rigid-lens+spectacles,lens-straight-refracted:draws=200`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			if err := farEnough(distance); err != nil {
				return err
			}
			list, err := chosenTrials(only)
			if err != nil {
				return err
			}
			e, err := oneEye(args, eye)
			if err != nil {
				return err
			}
			tables, err := tabulate(c, e, list, distance)
			if err != nil {
				return err
			}
			if asJSON {
				return encode(c.OutOrStdout(), trialReport{tables, compare.OrderedBy, compare.Notice})
			}
			printTables(c.OutOrStdout(), tables)
			return nil
		},
	}
	eyeFlag(c, &eye)
	c.Flags().StringSliceVar(&only, "trial", nil, "only these `trials`, with a comma between them, see simview causes (default: all)")
	distanceFlag(c, &distance)
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	complete(c, "trial", trialWords)
	return c
}

// trialReport is what trials prints as JSON.
type trialReport struct {
	Tables    []compare.TrialTable `json:"tables"`
	OrderedBy string               `json:"draws_ordered_by"`
	Notice    []string             `json:"notice"`
}

func chosenTrials(only []string) ([]cause.Trial, error) {
	if len(only) == 0 {
		return cause.Trials, nil
	}
	return namedTrials(only)
}

// oneEye resolves the eye that a flag names, or that of the complaint.
func oneEye(args []string, word string) (*cause.Eye, error) {
	from, err := openCase(args)
	if err != nil {
		return nil, err
	}
	side, err := from.side(word)
	if err != nil {
		return nil, err
	}
	return cause.Resolve(from.Case, side)
}

// tabulate works out the two tables, row by row so that it can be stopped.
func tabulate(c *cobra.Command, e *cause.Eye, list []cause.Trial, distance float64) ([]compare.TrialTable, error) {
	tell, clear := progress(c.ErrOrStderr())
	defer clear()
	var tables []compare.TrialTable
	for k, night := range []bool{false, true} {
		v := cause.Viewing{DistanceM: distance, Night: night}
		all, err := compare.Tabulate(e, nil, v)
		if err != nil {
			return nil, err
		}
		for i, t := range list {
			if err := c.Context().Err(); err != nil {
				return nil, err
			}
			tell(k*len(list)+i, 2*len(list), t.Label)
			one, err := compare.Tabulate(e, []cause.Trial{t}, v)
			if err != nil {
				return nil, err
			}
			all.InRoom, all.WhatIfs = append(all.InRoom, one.InRoom...), append(all.WhatIfs, one.WhatIfs...)
		}
		tables = append(tables, all)
	}
	return tables, nil
}

func printTables(w io.Writer, tables []compare.TrialTable) {
	for _, t := range tables {
		fmt.Fprintf(w, "%s eye, %s pupil of %.1f mm\n", t.Eye, t.Pupil, t.Now.PupilMM)
		fmt.Fprintf(w, "  as it is\n")
		printNumbers(w, "", t.Now)
		printRows(w, "to try in the room", t.InRoom)
		printRows(w, "what if", t.WhatIfs)
	}
	fmt.Fprintf(w, "Draws are ordered by: %s.\n", compare.OrderedBy)
	for _, text := range restsOn(tables) {
		fmt.Fprintf(w, "Rests on: %s.\n", text)
	}
	for _, n := range compare.Notice {
		fmt.Fprintln(w, n)
	}
}

func printRows(w io.Writer, heading string, rows []compare.TrialRow) {
	if len(rows) > 0 {
		fmt.Fprintf(w, " %s:\n", heading)
	}
	for _, r := range rows {
		fmt.Fprintf(w, "  %s (%s)\n", r.Label, r.ID)
		if r.NotHere != "" {
			fmt.Fprintf(w, "    not for this eye: %s\n", r.NotHere)
			continue
		}
		if r.Spread == nil {
			printNumbers(w, "", *r.Left)
			continue
		}
		printNumbers(w, "middle             ", *r.Left)
		printNumbers(w, "one in ten better  ", *r.Better)
		printNumbers(w, "one in ten worse   ", *r.Worse)
		fmt.Fprintf(w, "    %.0f of %d draws (seed %d) worse than now in the optics alone; now, in the same kind of glasses, %.3f\n", r.Spread.WorseShare*float64(r.Spread.Draws), r.Spread.Draws, r.Spread.Seed, r.Spread.Now)
		fmt.Fprintf(w, "    %s\n", r.SawLess)
	}
}

func printNumbers(w io.Writer, name string, n cause.Numbers) {
	fmt.Fprintf(w, "    %spupil %.1f mm, RMS %.3f µm, beyond sphere and cylinder %.3f µm; visual Strehl %.3f; left M %+.2f J0 %+.2f J45 %+.2f D; light %.0f %%; %s\n",
		name, n.PupilMM, n.RMSUM, n.HighUM, n.VisualStrehl, n.M, n.J0, n.J45, 100*n.LightShare, n.Focus)
}

// restsOn lists what the rows rest on, what is alike once.
func restsOn(tables []compare.TrialTable) []string {
	var order []string
	labels := map[string][]string{}
	if len(tables) == 0 {
		return nil
	}
	for _, rows := range [][]compare.TrialRow{tables[0].InRoom, tables[0].WhatIfs} {
		for _, r := range rows {
			if r.RestsOn == "" {
				continue
			}
			if labels[r.RestsOn] == nil {
				order = append(order, r.RestsOn)
			}
			labels[r.RestsOn] = append(labels[r.RestsOn], r.ID)
		}
	}
	for k, text := range order {
		order[k] = strings.Join(labels[text], ", ") + ": " + text
	}
	return order
}

// sayWhatIf says of the one picture of a what-if what it is not.
func sayWhatIf(w io.Writer, id string) {
	t, err := cause.FindTrial(id)
	if err != nil || t.InRoom {
		return
	}
	fmt.Fprintf(w, "%s: one outcome (%s) of many, some of them worse than now; %s. `simview trials` shows the spread.\n", t.Label, t.Outcome(), t.Published)
}
