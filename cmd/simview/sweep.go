package main

import (
	"fmt"
	"image"
	"os"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/compare"
	"simview/internal/sweep"
)

// grid holds the flags of a sweep.
type grid struct {
	l          looking
	file       string
	pupils     []float64
	trials     []string
	severities []string
	others     string
	part       string
	workers    int
	stepArcmin float64
	same       bool
}

// Limits of the flags.
const (
	minStepArcmin = 1
	maxStepArcmin = 10
	maxWorkers    = 256
)

func sweepCommand() *cobra.Command { return sweepInto(writeNotedPNG) }

// sweepInto is the command with another way to write a picture and its text.
func sweepInto(write func(path string, m image.Image, text string) error) *cobra.Command {
	var g grid
	c := &cobra.Command{
		Use:   "sweep [CASE] -o FOLDER",
		Short: "Make a picture for every combination of scenes, eyes, pupils, severities, trials and gazes",
		Long: `sweep makes one PNG for each combination of the values that are named, and lists
them in index.csv and index.json. Pictures that are there already are not made
again: after a stop, the same command goes on. With --part k/n it makes the k-th
of n shares, so that several machines can fill one folder; docs/sweep.md shows how.
Exposure is that of the reference view of each scene and eye, with the pupil of
the case.

Without --severity every cause is as measured. With it, the causes that are not
named are absent, unless --other-causes measured. One cause alone is refracted for
the rest of its eye; several wear their owner's glasses. --grid reads the axes from
a YAML file; what it does not name is taken from the flags.`,
		Example: `  simview sweep case.yaml --scene letters,fence --severity lens=0,0.5,1,2 -o lens
  simview sweep case.yaml --severity lens=0,1 --severity cylinder=0,1,2 --pupil-mm 3,5 -o both
  simview sweep --scene fence --severity field=1 --gaze-deg 0,0 --gaze-deg 8,3 -o gazes
  simview sweep case.yaml --grid grid.yaml --part 2/16 -o many`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := g.sweeper(c, args)
			if err != nil {
				return err
			}
			s.write = write
			return s.run(c)
		},
	}
	g.flags(c)
	return c
}

func (g *grid) flags(c *cobra.Command) {
	g.l.moreEyes = []string{"right,left"}
	g.l.flags(c, []string{"letters"}, "`ids` of the scenes with a comma between them, see simview scenes, or scene files of your own, FILE.yaml")
	f := c.Flags()
	f.StringVarP(&g.l.out, "out", "o", "simview-sweep", "output `folder`; one that an earlier run with the same case and options began is filled up")
	f.StringVar(&g.file, "grid", "", "axes from a YAML `file`, see docs/sweep.md")
	f.Float64SliceVar(&g.pupils, "pupil-mm", nil, "`pupils` in mm with a comma between them, 1 to 9, instead of that of the case")
	f.StringSliceVar(&g.trials, "trial", nil, "`trials` with a comma between them, see simview causes and docs/trials.md; none is the eye as it is")
	f.StringArrayVar(&g.severities, "severity", nil, "strengths of one cause, `cause=k,k,...`, each from 0 to 3; given several times, all combinations are made")
	f.StringVar(&g.others, "other-causes", "", "what --severity does not name is `absent` (the usual) or measured")
	f.BoolVar(&g.same, "same-glasses", false, "wear the owner's own glasses with one cause too")
	f.StringVar(&g.part, "part", "1/1", "make only the k-th of n shares, `k/n`")
	f.IntVar(&g.workers, "workers", min(runtime.NumCPU(), 8), "`pictures` made at a time, 1 to 256; each takes some 100 MB")
	f.Float64Var(&g.stepArcmin, "step-arcmin", 2, "size of a pixel in `minutes` of arc, 1 to 10")
	complete(c, "trial", trialWords)
	complete(c, "other-causes", fixedWords(sweep.Absent, sweep.Measured))
}

// sweeper checks everything that can be checked before work begins.
func (g *grid) sweeper(c *cobra.Command, args []string) (*sweeper, error) {
	part, err := sweep.ParsePart(g.part)
	switch {
	case err != nil:
		return nil, usagef("--part: %w", err)
	case g.workers < 1 || g.workers > maxWorkers:
		return nil, usagef("--workers: must be 1 to %d (got %d)", maxWorkers, g.workers)
	case !within(g.stepArcmin, minStepArcmin, maxStepArcmin):
		return nil, usagef("--step-arcmin: must be %d to %d (got %g)", minStepArcmin, maxStepArcmin, g.stepArcmin)
	case g.l.nerve.outline:
		return nil, usagef("--outline: a sweep has no layers drawn on its pictures; hint: leave it out")
	case g.l.pupilFromLight && len(g.pupils) > 0:
		return nil, usagef("--pupil-mm: does not go with --pupil-from-light; leave one of them out")
	}
	from, err := openCase(args)
	if err != nil {
		return nil, err
	}
	axes, err := g.axes(c, from)
	if err != nil {
		return nil, err
	}
	set, err := g.settings(c, from, &axes)
	if err != nil {
		return nil, err
	}
	s := &sweeper{from: from, set: set, axes: axes, part: part, workers: g.workers, stepDeg: g.stepArcmin / 60, same: g.same, dir: g.l.out}
	return s, s.prepare()
}

// axes are those of the flags, over them those of the file.
func (g *grid) axes(c *cobra.Command, from opened) (a sweep.Axes, err error) {
	a = sweep.Axes{Scenes: g.l.scenes, PupilsMM: g.pupils, Trials: g.trials, Others: g.others, Eyes: strings.Split(g.l.eye, ",")}
	if g.l.photo.File != "" && !c.Flags().Changed("scene") {
		a.Scenes = nil
	}
	if g.l.eye == "" {
		a.Eyes = []string{from.ComplaintSide().String()}
	}
	if len(g.l.gaze)%2 != 0 {
		return a, usagef("--gaze-deg: must be two angles from -60 to 60, as in --gaze-deg 4,-5 (got %v)", g.l.gaze)
	}
	for k := 0; k < len(g.l.gaze); k += 2 {
		a.GazesDeg = append(a.GazesDeg, sweep.Gaze{g.l.gaze[k], g.l.gaze[k+1]})
	}
	for _, text := range g.severities {
		s, err := severity(text)
		if err != nil {
			return a, err
		}
		a.Severities = append(a.Severities, s)
	}
	if g.file == "" {
		return a, nil
	}
	data, err := os.ReadFile(g.file)
	if err != nil {
		return a, fmt.Errorf("%s: cannot be read: %w; hint: --grid names a YAML file, see docs/sweep.md", g.file, bare(err))
	}
	return sweep.Read(g.file, data, a)
}

// severity reads one --severity.
func severity(text string) (s sweep.Severity, err error) {
	id, list, ok := strings.Cut(text, "=")
	if !ok || list == "" {
		return s, usagef("--severity: must be a cause and its strengths, as in lens=0,0.5,1 (got %q)", text)
	}
	s.Cause = id
	for _, word := range strings.Split(list, ",") {
		_, k, err := strength(id + "=" + word)
		if err != nil {
			return s, usagef("--severity: %w", err)
		}
		s.Strengths = append(s.Strengths, k)
	}
	return s, nil
}

// settings checks the flags that all pictures share, and takes the scenes' names
// into the axes, which from there on name all that varies.
func (g *grid) settings(c *cobra.Command, from opened, a *sweep.Axes) (compare.Settings, error) {
	l := g.l
	l.eye, l.gaze, l.scenes = from.ComplaintSide().String(), []float64{0, 0}, a.Scenes
	set, err := l.settings(c, from)
	if err != nil {
		return set, err
	}
	a.Scenes = append([]string{}, set.Scenes...)
	if set.Photo != nil {
		a.Scenes = append(a.Scenes, photoID)
	}
	if err := a.Check(); err != nil {
		if g.file != "" {
			err = fmt.Errorf("%s: %w", g.file, err)
		}
		return set, usagef("%w; hint: docs/sweep.md describes the axes", err)
	}
	return set, nil
}
