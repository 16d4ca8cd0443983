package main

import (
	"encoding/json"
	"fmt"
	"image"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"simview/internal/compare"
	"simview/internal/unit"
)

// looking holds the flags that commands with pictures share.
type looking struct {
	out         string
	scenes      []string
	eye         string
	gaze        []float64
	tone        string
	photo       compare.Photo
	extrapolate bool
}

// demoScenes are the two scenes of the complaint of the demo case; they suit
// most others too: one for the dim and one for the bright pupil.
var demoScenes = []string{"harbour-night", "tide-table"}

func (l *looking) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVarP(&l.out, "out", "o", "simview-out", "output `folder`; made when absent, never emptied")
	f.StringSliceVar(&l.scenes, "scene", demoScenes, "`ids` of the scenes, see simview scenes")
	f.StringVar(&l.eye, "eye", "", "right or left (default: the eye of the complaint)")
	f.Float64SliceVar(&l.gaze, "gaze-deg", []float64{0, 0}, "where the eye looks: `x,y` in degrees from the scene's centre, right and up are positive, -60 to 60")
	f.StringVar(&l.tone, "tone", compare.ByScene, "tone curve, one for all panels of a scene: linear, photographic, or by-scene (linear by day, photographic by night)")
	f.StringVar(&l.photo.File, "photo", "", "a photograph of your own as one more scene (`file`: PNG, JPEG or TIFF)")
	f.Float64Var(&l.photo.WidthDeg, "photo-width-deg", 0, "how wide the photograph is, in `degrees`, 1 to 120")
	f.Float64Var(&l.photo.WhiteCdM2, "photo-white-cdm2", 0, "luminance of the photograph's white in `cd/m²`, up to 100000; without it glare is off")
	f.Float64Var(&l.photo.DistanceM, "photo-distance-m", 100, "distance of what is photographed, in `metres`, 0.1 and up")
	f.BoolVar(&l.extrapolate, "extrapolate", false, "let a pupil be wider than the measured wavefront (the panel says so)")
}

// settings checks the flags against the case.
func (l *looking) settings(c opened) (compare.Settings, error) {
	s := compare.Settings{Eye: l.eye, Tone: l.tone, Extrapolate: l.extrapolate, Scenes: l.scenes}
	if s.Eye == "" {
		s.Eye = c.ComplaintSide().String()
	}
	if _, err := unit.ParseSide(s.Eye); err != nil {
		return s, usageError{fmt.Errorf("--eye: must be right or left (got %q)", s.Eye)}
	}
	if s.Tone != compare.ByScene && s.Tone != "photographic" && s.Tone != "linear" {
		return s, usageError{fmt.Errorf("--tone: must be linear, photographic or by-scene (got %q)", s.Tone)}
	}
	if len(l.gaze) != 2 || !(l.gaze[0] >= -60 && l.gaze[0] <= 60 && l.gaze[1] >= -60 && l.gaze[1] <= 60) {
		return s, usageError{fmt.Errorf("--gaze-deg: must be two angles from -60 to 60, as in --gaze-deg 4,-5 (got %v)", l.gaze)}
	}
	s.GazeXDeg, s.GazeYDeg = l.gaze[0], l.gaze[1]
	if l.photo.File != "" {
		if l.photo.WidthDeg == 0 {
			return s, usageError{fmt.Errorf("--photo: needs --photo-width-deg; hint: a hand at arm's length is about 10 degrees wide")}
		}
		s.Photo = &l.photo
	}
	return s, nil
}

func compareCommand() *cobra.Command {
	var l looking
	var allBut bool
	var trials []string
	var record string
	c := &cobra.Command{
		Use:   "compare [CASE]",
		Short: "Make the sheet: each cause alone, all together, and the fellow eye",
		Long: `compare makes one picture for each cause of the eye of the complaint, and one of
nothing wrong, of all causes together and of the fellow eye, for each scene. It
writes sheet.png, one PNG a panel, and record.json, from which the same pictures
can be made again. Without CASE it uses the built-in demo case.`,
		Example: `  simview compare
  simview compare case.yaml --scene letters,street-day -o consult
  simview compare case.yaml --all-but --trial pinhole,spectacles
  simview compare case.yaml --photo kitchen.jpg --photo-width-deg 50 --photo-white-cdm2 300
  simview compare --record simview-out/record.json -o again`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			job, err := newJob(&l, args, record)
			if err != nil {
				return err
			}
			if record == "" {
				job.set.AllBut, job.set.Trials = allBut, trials
			}
			return job.run(c, l.out)
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&allBut, "all-but", false, "add one panel for each cause left out of all")
	c.Flags().StringSliceVar(&trials, "trial", nil, "add trials by `ids`, see simview causes")
	c.Flags().StringVar(&record, "record", "", "make the pictures of a record.json again (`file`)")
	return c
}

// job is one sheet to be made.
type job struct {
	from opened
	set  compare.Settings
}

func newJob(l *looking, args []string, record string) (job, error) {
	if record != "" {
		return jobFromRecord(record, args)
	}
	c, err := openCase(args)
	if err != nil {
		return job{}, err
	}
	set, err := l.settings(c)
	return job{c, set}, err
}

func jobFromRecord(path string, args []string) (job, error) {
	if len(args) > 0 {
		return job{}, usageError{fmt.Errorf("--record: a record holds its own case; leave out %s", args[0])}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return job{}, fmt.Errorf("record %s: cannot be read; hint: it is the record.json of a folder that compare made", path)
	}
	var r compare.Record
	if err := json.Unmarshal(data, &r); err != nil || r.Format != compare.Format {
		return job{}, fmt.Errorf("record %s: is not a record of this version (format %d expected); hint: name a record.json that compare wrote", path, compare.Format)
	}
	c, err := fromRecord(r)
	return job{c, r.Options}, err
}

func (j job) run(c *cobra.Command, dir string) error {
	opt, err := j.set.Options()
	if err != nil {
		return err
	}
	list, err := openScenes(j.set.Scenes, j.set.Photo)
	if err != nil {
		return err
	}
	shots, err := compare.Shots(j.from.Case, opt)
	if err != nil {
		return err
	}
	if err := openFolder(dir); err != nil {
		return err
	}
	tell, clear := progress(c.ErrOrStderr())
	defer clear()
	save := func(name string, m image.Image) error { return writePNG(filepath.Join(dir, name), m) }
	rec := compare.Record{
		Format: compare.Format, Version: version, Case: j.from.name, Files: j.from.files, Options: j.set,
		Assumed: compare.Assumed(shots), Notice: compare.Notice,
	}
	// The record comes first, so that a folder of a run that was stopped is
	// known as simview's own.
	if err := writeJSON(filepath.Join(dir, marker), rec); err != nil {
		return err
	}
	sheet, records, err := compare.Run(c.Context(), j.from.Case, list, opt, save, tell)
	if err != nil {
		return err
	}
	rec.Scenes = records
	if err := writePNG(filepath.Join(dir, "sheet.png"), sheet.Draw()); err != nil {
		return err
	}
	if err := writeJSON(filepath.Join(dir, marker), rec); err != nil {
		return err
	}
	clear()
	fmt.Fprintf(c.OutOrStdout(), "%s\n%s\n", filepath.Join(dir, "sheet.png"), compare.Notice[0])
	return nil
}
