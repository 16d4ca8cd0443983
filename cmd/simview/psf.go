package main

import (
	"io"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/render"
)

func psfCommand() *cobra.Command {
	var k which
	var out, primary string
	var white, night bool
	var distance float64
	c := &cobra.Command{
		Use:   "psf [CASE] -o FILE.npy|FILE.png",
		Short: "Write the point-spread function of one eye state",
		Long: `psf writes the point-spread function as float32 [y][x], row 0 at the top, in the
patient's axes, sum 1, straight ahead at (N/2, N/2), and beside it FILE.json with
degrees per sample, wavelengths and weights, pupil and causes. A .png is for
looking: its brightness is the square root of the share of light. What passes
beside a displaced lens spreads over degrees and is not in it; beside_share in the
JSON says how much of all the light that is. Without CASE it uses the built-in demo
case.`,
		Example: `  simview psf -o all.npy
  simview psf case.yaml --view cylinder --dim -o cylinder.png
  simview psf case.yaml --primary green -o green.npy`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			lines, name, err := spectrum(white, primary)
			if err != nil {
				return err
			}
			if primary != "" && c.Flags().Changed("white") && white {
				return usagef("--white: does not go with --primary; leave one of them out")
			}
			if err := farEnough(distance); err != nil {
				return err
			}
			from, place, err := psfPlace(out, args)
			if err != nil {
				return err
			}
			s, err := k.state(from, cause.Viewing{DistanceM: distance, Night: night})
			if err != nil {
				return err
			}
			p, err := psf.Compute(s.Aperture(), lines, render.Optics())
			if err != nil {
				return err
			}
			if err := c.Context().Err(); err != nil {
				return err
			}
			if err := writePSF(out, p); err != nil {
				return err
			}
			side := map[string]any{
				"samples": p.N, "deg_per_sample": p.StepDeg, "light": name, "lines": p.Lines, "pupil_mm": p.PupilMM,
				"outside_share": p.Outside, "beside_share": besideShare(p), "eye": s.Side.String(), "view": k.causes, "trial": k.trial, "focus": s.Focus,
				"axes": "patient's: right +, up +, row 0 at the top", "origin": []int{p.N / 2, p.N / 2},
			}
			return writeJSON(place, side)
		},
	}
	k.flags(c)
	f := c.Flags()
	eyeFlag(c, &k.eye)
	f.StringVarP(&out, "out", "o", "psf.npy", "output `file`, .npy or .png; it and the .json beside it are replaced")
	f.BoolVar(&white, "white", true, "white light, as in the pictures")
	f.StringVar(&primary, "primary", "", "one display primary (`colour`) instead of white: red, green or blue")
	f.BoolVar(&night, "dim", false, "the dim pupil instead of the bright one")
	distanceFlag(c, &distance)
	complete(c, "primary", fixedWords(primaries...))
	return c
}

// besideShare is the share of the light that passes beside a displaced lens.
func besideShare(p *psf.PSF) float64 {
	if p.Beside == nil {
		return 0
	}
	return p.Beside.Share
}

var primaries = []string{"red", "green", "blue"}

// psfPlace reads the case and checks, before any work, where the PSF and the
// JSON beside it will lie.
func psfPlace(out string, args []string) (from opened, side string, err error) {
	bare, npy := strings.CutSuffix(out, ".npy")
	bare, png := strings.CutSuffix(bare, ".png")
	if npy == png {
		return from, "", usagef("-o: must end in .npy or .png (got %q)", out)
	}
	if from, err = openCase(args); err != nil {
		return from, "", err
	}
	side = bare + ".json"
	return from, side, free([]string{out, side}, from.paths...)
}

func spectrum(white bool, primary string) ([]psf.Line, string, error) {
	switch {
	case primary == "" && !white:
		return nil, "", usagef("--white: is the only light unless --primary names another")
	case primary == "":
		return render.White(), "white", nil
	}
	for i, name := range primaries {
		if name != primary {
			continue
		}
		return psfLines(light.Primary(i, primaryLines)), primary, nil
	}
	return nil, "", usagef("--primary: must be red, green or blue (got %q)", primary)
}

func writePSF(path string, p *psf.PSF) error {
	if strings.HasSuffix(path, ".png") {
		return writePNG(path, psfPicture(p))
	}
	return writeFile(path, func(w io.Writer) error { return writeNPY(w, p.Pix, p.N, p.N) })
}
