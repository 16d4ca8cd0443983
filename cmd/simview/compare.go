package main

import (
	"encoding/json"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/scene"
)

func compareCommand() *cobra.Command {
	var l looking
	var allBut, bothEyes bool
	var trials []string
	var record string
	var on onScreen
	c := &cobra.Command{
		Use:   "compare [CASE]",
		Short: "Make the sheet: each cause alone, all together, and the fellow eye",
		Long: `compare makes one picture for each cause of the eye of the complaint, and one of
nothing wrong, of all causes together and of the fellow eye, for each scene. It
writes sheet.png, one PNG a panel, and record.json, from which the same pictures
can be made again. Without CASE it uses the built-in demo case.

Files appear when all of them are made: a run that is stopped or fails changes
nothing. An output folder that holds files of your own is refused; in one that
compare made, pictures of the earlier run go. A photograph comes beside the
scenes, or alone with --scene "". The first --gaze-deg holds for all views; each
further one adds the eye as measured, looking there.`,
		Example: `  simview compare
  simview compare case.yaml --scene letters,street-day -o consult
  simview compare case.yaml --all-but --trial pinhole,spectacles
  simview compare case.yaml --trial rigid-lens+spectacles,lens-straight-refracted
  simview compare case.yaml --photo kitchen.jpg --photo-width-deg 50 --photo-white-cdm2 300
  simview compare case.yaml --scene harbour-night --gaze-deg 4,-5
  simview compare --scene fence --gaze-deg 0,0 --gaze-deg 8,3 --both-eyes
  simview compare --scene fence --field-draw 2
  simview compare --record simview-out/record.json -o again`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			pitch, err := on.check(c)
			if err != nil {
				return err
			}
			job, err := newJob(c, &l, args, record)
			if err != nil {
				return err
			}
			if record == "" {
				job.set.AllBut, job.set.Trials, job.set.BothEyes = allBut, trials, bothEyes
			}
			if err := job.run(c, l.out); err != nil {
				return err
			}
			return on.say(c.OutOrStdout(), pitch, sheetPicture, widePicture, windowPicture)
		},
	}
	l.flags(c, demoScenes, "`ids` of the scenes with a comma between them, see simview scenes, or scene files of your own, FILE.yaml")
	c.Flags().StringVarP(&l.out, "out", "o", "simview-out", "output `folder`; made when absent, never emptied")
	on.flags(c)
	l.likely.flags(c)
	c.Flags().BoolVar(&bothEyes, "both-eyes", false, "add one panel of both eyes open, each as measured")
	c.Flags().BoolVar(&allBut, "all-but", false, "add one panel for each cause left out of all")
	c.Flags().StringSliceVar(&trials, "trial", nil, "add `trials` with a comma between them, see simview causes and docs/trials.md, as in pinhole:diameter_mm=1,rigid-lens+spectacles")
	c.Flags().StringVar(&record, "record", "", "make the pictures of a record.json again (`file`); only -o and --photo (where the photograph lies now) go with it")
	complete(c, "trial", trialWords)
	return c
}

// job is one sheet to be made.
type job struct {
	from opened
	set  compare.Settings
}

func newJob(c *cobra.Command, l *looking, args []string, record string) (job, error) {
	if c.Flags().Changed("record") {
		return jobFromRecord(c, record, l.photo.File, args)
	}
	from, err := openCase(args)
	if err != nil {
		return job{}, err
	}
	set, err := l.settings(c, from)
	return job{from: from, set: set}, err
}

func jobFromRecord(c *cobra.Command, path, photo string, args []string) (job, error) {
	if err := recordAlone(c, args); err != nil {
		return job{}, err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return job{}, fmt.Errorf("record %s: cannot be read; hint: it is the record.json of a folder that compare made", path)
	}
	var r compare.Record
	if err := json.Unmarshal(data, &r); err != nil || r.Format != compare.Format {
		return job{}, fmt.Errorf("record %s: is not a record of this version (format %d expected); hint: name a record.json that compare wrote", path, compare.Format)
	}
	from, err := fromRecord(path, photo, &r.Options, r.Case, r.Files)
	return job{from: from, set: r.Options}, err
}

// run makes every file of the sheet, then puts them in their places at once.
func (j job) run(c *cobra.Command, dir string) error {
	opt, err := j.set.Options()
	if err != nil {
		return err
	}
	sayUrgent(c.OutOrStdout(), opt)
	if _, err := namedTrials(j.set.Trials); err != nil {
		return err
	}
	list, err := openScenes(j.set)
	if err != nil {
		return err
	}
	shots, err := compare.Shots(j.from.Case, opt)
	if err != nil {
		return err
	}
	out, err := openFolder(dir)
	if err != nil {
		return err
	}
	defer out.drop()
	rec := compare.Record{
		Format: compare.Format, Version: version, Case: j.from.name, Files: j.from.files, Options: j.set,
		Assumed: compare.Assumed(shots), RestsOn: compare.RestsOn(shots), Notice: compare.Notice,
	}
	if err := j.fill(c, out, list, opt, rec); err != nil {
		return err
	}
	if err := out.publish(j.read()...); err != nil {
		return err
	}
	fmt.Fprintf(c.OutOrStdout(), "%s\n%s\n", filepath.Join(dir, "sheet.png"), compare.Notice[0])
	return nil
}

// namedTrials finds trials, each of which may be named once.
func namedTrials(ids []string) (list []cause.Trial, err error) {
	for _, id := range ids {
		t, err := cause.FindTrial(id)
		if err != nil {
			return nil, usagef("--%w", err)
		}
		list = append(list, t)
	}
	return list, distinct("--trial", ids)
}

// fill makes the pictures, the sheet and the record.
func (j job) fill(c *cobra.Command, out *folder, list []*scene.Scene, opt compare.Options, rec compare.Record) error {
	tell, clear := progress(c.ErrOrStderr())
	defer clear()
	save := func(name string, m image.Image) error { return out.named(name, writePNG(out.path(name), m)) }
	sheet, records, err := compare.Run(c.Context(), j.from.Case, list, opt, save, tell)
	if err != nil {
		return err
	}
	rec.Scenes = records
	if err := save("sheet.png", sheet.Draw()); err != nil {
		return err
	}
	if err := out.named(marker, writeJSON(out.path(marker), rec)); err != nil {
		return err
	}
	return c.Context().Err()
}

// read lists the files that are read and must stay.
func (j job) read() []string {
	if j.set.Photo == nil {
		return j.from.paths
	}
	return append(slices.Clone(j.from.paths), j.set.Photo.File)
}
