package main

import (
	"encoding/json"
	"fmt"
	"image"
	"io"
	"math"
	"os"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/fieldmask"
	"simview/internal/plot"
	"simview/internal/render"
	"simview/internal/unit"
)

// fieldRecord is enough to make the files of the command field again.
type fieldRecord struct {
	Format  int                  `json:"simview_field_record"`
	Version string               `json:"program_version"`
	Case    string               `json:"case_file"`
	Files   map[string]string    `json:"case_files"`
	Asked   fieldChoice          `json:"asked"`
	Numbers fieldNumbers         `json:"numbers"`
	Scene   *compare.SceneRecord `json:"scene,omitempty"`
	Assumed []string             `json:"assumed"`
}

func fieldFromRecord(c *cobra.Command, path, photo string, args []string) (j fieldJob, err error) {
	if err := recordAlone(c, args); err != nil {
		return j, err
	}
	var r fieldRecord
	data, err := os.ReadFile(path)
	if err != nil || json.Unmarshal(data, &r) != nil || r.Format != fieldForm {
		return j, fmt.Errorf("record %s: is not a record of a field (format %d expected); hint: name the .json file that field wrote", path, fieldForm)
	}
	j.from, err = fromRecord(path, photo, &r.Asked.Options, r.Case, r.Files)
	j.fieldChoice = r.Asked
	return j, err
}

// run makes every file and prints the numbers.
func (j *fieldJob) run(c *cobra.Command, out string, asJSON bool) error {
	opt, err := j.Options.Options()
	if err != nil {
		return err
	}
	if j.Scene && !asJSON {
		sayUrgent(c.OutOrStdout(), opt)
	}
	n, err := j.numbers(c.Context())
	if err != nil {
		return err
	}
	rec := fieldRecord{Format: fieldForm, Version: version, Case: j.from.name, Files: j.from.files, Asked: j.fieldChoice, Numbers: n, Assumed: j.assumed()}
	var strip *render.Sheet
	if j.Scene {
		if strip, rec.Scene, err = j.scene(c, opt); err != nil {
			return err
		}
	}
	if err := j.write(out, n, rec, strip); err != nil {
		return err
	}
	if asJSON {
		return encode(c.OutOrStdout(), n)
	}
	n.write(c.OutOrStdout())
	fmt.Fprintf(c.OutOrStdout(), "%s\n%s\n", out, compare.Notice[0])
	return c.Context().Err()
}

func (j *fieldJob) assumed() (all []string) {
	for _, e := range j.eyes {
		for _, n := range e.Notes {
			all = append(all, fmt.Sprintf("%s eye: %s", e.Side, n))
		}
	}
	return all
}

func (j *fieldJob) write(out string, n fieldNumbers, rec fieldRecord, strip *render.Sheet) error {
	page, err := j.page(n)
	if err != nil {
		return err
	}
	names := j.outputs(out)
	if err := writePNG(names[0], page); err != nil {
		return err
	}
	if err := writeFile(names[1], n.csv); err != nil {
		return err
	}
	for _, e := range j.eyes {
		const stepDeg = 1
		if err := writeFile(names[2+e.Side], func(w io.Writer) error { return fieldmask.WriteMap(w, e.FieldTests().Surface, stepDeg) }); err != nil {
			return err
		}
	}
	if strip != nil {
		if err := writePNG(names[5], strip.Draw()); err != nil {
			return err
		}
	}
	return writeJSON(names[4], rec)
}

// scene makes the row of views of the scene.
func (j *fieldJob) scene(c *cobra.Command, opt compare.Options) (*render.Sheet, *compare.SceneRecord, error) {
	list, err := openScenes(j.Options)
	if err != nil {
		return nil, nil, err
	}
	shots, err := compare.FieldShots(j.eyes[0], j.fields())
	if err != nil {
		return nil, nil, err
	}
	tell, clear := progress(c.ErrOrStderr())
	defer clear()
	nowhere := func(string, image.Image) error { return nil }
	row, rec, err := compare.RunShots(c.Context(), j.from.Case, list[0], opt, shots, nowhere, tell)
	if err != nil {
		return nil, nil, err
	}
	s := &render.Sheet{
		Title: fmt.Sprintf("a scene with the lost field of the %s eye and nothing else wrong", j.eyes[0].Side), Sub: whose(j.from.Case), Urgent: compare.Urgent(opt),
		Rows: []render.Row{row}, Checks: stripChecks(j.from.Case),
	}
	if series := j.series(); series != nil {
		s.Title = "Teaching series: " + s.Title
		s.Foot = series.words()
	}
	if j.Draws > 0 {
		s.Title = "Equally likely: " + s.Title
		s.Foot = append(s.Foot, "Equally likely: the tests fit each of these fields as well as the spread of their answers lets them; which is true is not known.")
	}
	s.Title = capital(s.Title)
	s.Foot = append(append(s.Foot, opt.Manner.Nerve.Words()), compare.Notice...)
	return s, &rec, nil
}

// page draws the maps.
func (j *fieldJob) page(n fieldNumbers) (image.Image, error) {
	p := plot.FieldPage{
		Title: "The visual field as simview draws it", Words: []string{whose(j.from.Case) + ". Every map is as the patient sees: right is right, up is up, fixation in the middle, rings every 10 degrees."},
		Notes: []string{
			"Warm: what the nerve has lost, in dB of the field test, as all answers together make likely; numbers are the total deviations that were measured. A line every 5 dB. Cold: how far that may lie off, as one standard deviation; a line every dB.",
			"Hatched: below 15 dB of sensitivity the depth is not known, it may be more. Grey with strokes: nobody tested there, which is not the same as normal. Broken line: the tested area; green line: the usual blind spot. Nobody sees these colours.",
			"Loss between the tested places: " + n.LossFrom + ".",
		},
	}
	half := j.halfDeg()
	for k, e := range j.eyes {
		p.Rows = append(p.Rows, fieldRow(e, n.Eyes[k], half))
	}
	if b := n.Both; b != nil {
		p.Rows = append(p.Rows, plot.FieldRow{
			Name: "Both eyes together", Words: []string{"By " + b.Rule + " (" + b.Source + "). The blind spot of one eye is filled by the other."},
			Maps: []*plot.FieldMap{bothMap(b, half)},
		})
	}
	return p.Draw()
}

// Ends of the colours, dB.
const (
	lossEndDB, lossEveryDB = 30.0, 5.0
	sdEndDB, sdEveryDB     = 8.0, 1.0
)

// halfDeg is how far the maps reach: to the farthest tested place and a little on.
func (j *fieldJob) halfDeg() float64 {
	far := 9.0
	for _, e := range j.eyes {
		for _, t := range e.FieldTests().Deviations {
			for _, p := range t.Points {
				far = math.Max(far, math.Max(math.Abs(float64(p.At.X)), math.Abs(float64(p.At.Y))))
			}
		}
	}
	return far + 4
}

func fieldRow(e *cause.Eye, n eyeField, half float64) plot.FieldRow {
	s := e.FieldTests().Surface
	row := plot.FieldRow{Name: capital(n.Eye) + " eye"}
	for _, t := range n.Tests {
		row.Words = append(row.Words, fmt.Sprintf("%s of %s: mean deviation %.1f dB, worst: %s.", t.Pattern, orUnknown(t.Date), t.MeanDeviationDB, t.Worst))
	}
	if !n.Drawn {
		row.Words = append(row.Words, "Within normal limits: pictures have a full field, and what is drawn here may be noise.")
	}
	where := plot.FieldMap{
		HalfDeg: half, Tested: s.Tested, Blind: func(x, y float64) bool { return fieldmask.InBlindSpot(e.Side, x, y) },
		Left: "nose side", Right: "temple side",
	}
	if e.Side == unit.Left {
		where.Left, where.Right = where.Right, where.Left
	}
	loss, sure := where, where
	loss.Title, loss.EndDB, loss.EveryDB, loss.Deeper, loss.Marks = "What is lost", lossEndDB, lossEveryDB, s.AtLeast, marks(e, s)
	loss.Value = known(s.Known, s.LossDB)
	sure.Title, sure.EndDB, sure.EveryDB, sure.Doubt, sure.Value = "How sure each part is (one standard deviation)", sdEndDB, sdEveryDB, true, known(s.Known, s.SD)
	row.Maps = []*plot.FieldMap{&loss, &sure}
	return row
}

func known(in func(x, y float64) bool, v func(x, y float64) float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		if !in(x, y) {
			return math.NaN()
		}
		return v(x, y)
	}
}

// marks are the measured deviations, the finest pattern where two asked.
func marks(e *cause.Eye, s *fieldmask.Surface) (list []plot.FieldMark) {
	const apart = 1.5 // degrees
	fields := e.FieldTests().Deviations
	for k := len(fields) - 1; k >= 0; k-- {
		for _, p := range fields[k].Points {
			x, y := float64(p.At.X), float64(p.At.Y)
			free := true
			for _, m := range list {
				free = free && math.Hypot(m.XDeg-x, m.YDeg-y) >= apart
			}
			if free {
				list = append(list, plot.FieldMark{XDeg: x, YDeg: y, Words: fmt.Sprintf("%.0f", math.Round(p.DB)+0)})
			}
		}
	}
	return list
}

func bothMap(b *bothField, half float64) *plot.FieldMap {
	return &plot.FieldMap{
		Title: "What both lack together", HalfDeg: half, EndDB: lossEndDB, EveryDB: lossEveryDB,
		Value: known(b.loss.Known, b.loss.LossDB), Left: "left", Right: "right",
	}
}
