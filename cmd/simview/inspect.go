package main

import (
	"cmp"
	"slices"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/inspect"
)

func inspectCommand() *cobra.Command {
	var pupil, distance float64
	var freqs []float64
	var asJSON bool
	c := &cobra.Command{
		Use:   "inspect [CASE]",
		Short: "Print every number of a case: wavefront, RMS, Strehl, MTF, field",
		Long: `inspect prints, for each eye and for its bright and its dim pupil (or the one
given), the wavefront by surface and by cause: RMS, power vectors, Zernike
coefficients, and how each is known (measured, traced through the surfaces of this
eye, typical, assumed, generated, computed to suit the rest, or unexplained). Then
the Strehl ratio and the MTF as the pictures use them, scatter included, contrast
sensitivity, the letter acuity to expect on a bright chart, by reading it and from
the visual Strehl ratio, and for an eye with an implant how its refraction changes to
the sides, which no picture shows. The text lists coefficients to order 4, --json to order 6. Without CASE it
uses the built-in demo case.`,
		Example: `  simview inspect
  simview inspect case.yaml --pupil-mm 4 --frequency-cpd 3,6,12
  simview inspect case.yaml --json > numbers.json`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			if err := cmp.Or(pupilFits(c.Flags().Changed("pupil-mm"), pupil), farEnough(distance)); err != nil {
				return err
			}
			if slices.ContainsFunc(freqs, func(f float64) bool { return !(f > 0 && f <= 100) }) || len(freqs) == 0 {
				return usagef("--frequency-cpd: must be above 0 and at most 100 (got %v)", freqs)
			}
			from, err := openCase(args)
			if err != nil {
				return err
			}
			reports, err := inspectAll(from, pupil, distance, freqs)
			if err != nil {
				return err
			}
			if asJSON {
				return encode(c.OutOrStdout(), reports)
			}
			for _, r := range reports {
				if err := r.Write(c.OutOrStdout()); err != nil {
					return err
				}
			}
			return nil
		},
	}
	c.Flags().Float64Var(&pupil, "pupil-mm", 0, "pupil diameter in `mm`, 1 to 9 (default: the case's bright and dim pupils)")
	distanceFlag(c, &distance)
	c.Flags().Float64SliceVar(&freqs, "frequency-cpd", inspect.Frequencies, "spatial frequencies in `cycles per degree`, above 0, at most 100")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

func inspectAll(from opened, pupil, distance float64, freqs []float64) (all []inspect.Report, err error) {
	views := []cause.Viewing{{DistanceM: distance, PupilMM: pupil}}
	if pupil == 0 {
		views = append(views, cause.Viewing{DistanceM: distance, Night: true})
	}
	return all, from.eachEye(func(e *cause.Eye) error {
		for _, v := range views {
			r, err := inspect.Eye(e, e.All(), v, freqs)
			if err != nil {
				return err
			}
			all = append(all, r)
		}
		return nil
	})
}
