package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"simview/internal/compare"
	"simview/internal/explain"
	"simview/internal/scene"
)

func explainCommand() *cobra.Command {
	var eye string
	var asJSON, whole bool
	var plots string
	var list []string
	o := explain.UsualOptions
	c := &cobra.Command{
		Use:   "explain [CASE]",
		Short: "How much of the trouble is which cause, in numbers, and how sure",
		Long: `explain tells the story of one eye in numbers: what the model expects it to read
and what of that the case does not explain; what would change if only one cause were
put right; the share of each cause; whether measured and predicted fit; and how sure
it all is, on one screen. --long adds what each trial would leave, which quick test
tells two causes apart, both lights, pairs and sources. Every number carries the
interval that the noise of measurements leaves open, and a wider one that adds what
the model may be wrong by. Without CASE it uses the built-in demo case.`,
		Example: `  simview explain
  simview explain case.yaml --eye left --long
  simview explain case.yaml --json > story.json`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			if o.Draws < 10 || o.Draws > 2000 {
				return usagef("--draws: must be a whole number from 10 to 2000 (got %d)", o.Draws)
			}
			e, err := oneEye(args, eye)
			if err != nil {
				return err
			}
			tell, clear := progress(c.ErrOrStderr())
			defer clear()
			if o.Scenes, err = explainScenes(list); err != nil {
				return err
			}
			if err := figureFolder(plots); err != nil {
				return err
			}
			done := 0
			o.Tell = func(words string) { tell(done, explain.Steps, words); done++ }
			s, err := explain.Tell(c.Context(), e, o)
			if err != nil {
				return err
			}
			clear()
			if err := writeFigures(plots, s.Figures()); err != nil {
				return err
			}
			if asJSON {
				return encode(c.OutOrStdout(), s)
			}
			return s.Write(c.OutOrStdout(), whole)
		},
	}
	eyeFlag(c, &eye)
	c.Flags().StringSliceVar(&list, "scene", []string{"street-day", "harbour-night"}, "one `scene` for each light, by id or file, see simview scenes; \"none\" for none")
	c.Flags().IntVar(&o.Draws, "draws", o.Draws, "`outcomes` drawn of each what-if, 10 to 2000")
	c.Flags().Uint64Var(&o.Rule.Seed, "seed", o.Rule.Seed, "`seed` of the draws behind the intervals")
	c.Flags().BoolVar(&whole, "long", false, "print everything: trials, what-ifs, quick tests, both lights, pairs of causes, sources")
	c.Flags().StringVar(&plots, "plots", "", "also draw bars with intervals, contrast sensitivity and MTF into this `folder`")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// explainScenes opens at most one scene by day and one by night.
func explainScenes(list []string) (out [2]*scene.Scene, err error) {
	for _, name := range list {
		if name == "none" {
			continue
		}
		s, err := sceneNamed(name)
		if err != nil {
			return out, err
		}
		at := 0
		if compare.Viewing(s).Night {
			at = 1
		}
		if out[at] != nil {
			return out, usagef("--scene: %s and %s are both for the %s pupil; one for each light is told of", out[at].ID, name, []string{"bright", "dim"}[at])
		}
		out[at] = s
	}
	return out, nil
}

// figureFolder makes the folder for figures before the work is done.
func figureFolder(dir string) error {
	if dir == "" {
		return nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("--plots: the folder %s cannot be made: %w; hint: name another", dir, bare(err))
	}
	return nil
}

// writeFigures draws every figure of a story into a folder, if one was asked for.
func writeFigures(dir string, list []explain.Figure) error {
	if dir == "" {
		return nil
	}
	for _, f := range list {
		if err := writeFile(filepath.Join(dir, f.Name), f.Write); err != nil {
			return err
		}
	}
	return nil
}
