package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/unit"
)

// Limits of a strip.
const (
	minSinceS = 0.05
	maxTimes  = 11
	blinkForm = 1 // version of the record's layout
)

// blinkRecord is enough to make a strip again.
type blinkRecord struct {
	Format  int               `json:"simview_blink_record"`
	Version string            `json:"program_version"`
	Case    string            `json:"case_file"`
	Files   map[string]string `json:"case_files"`
	Options compare.Settings  `json:"options"`
	TimesS  []float64         `json:"times_s"`
	Tone    string            `json:"tone"`
	Views   []blinkView       `json:"views"`
	Assumed []string          `json:"assumed"`
	Notice  []string          `json:"notice"`
}

// blinkView is one panel of a strip; 0 s stands for an even film.
type blinkView struct {
	SinceBlinkS float64  `json:"since_blink_s"`
	TearsRMSUM  float64  `json:"tears_rms_um"`
	PupilMM     float64  `json:"pupil_mm"`
	Condition   string   `json:"condition"`
	Focus       string   `json:"focus"`
	Notes       []string `json:"notes,omitempty"`
}

func blinkCommand() *cobra.Command {
	var l looking
	var times []float64
	var record string
	c := &cobra.Command{
		Use:   "blink [CASE] -o FILE.png",
		Short: "Show how the tear film changes the picture in the seconds after a blink",
		Long: `blink makes one strip: the eye as measured with an even tear film, and the same
after each of some times since a blink. The film first evens out and then thins
unevenly; how fast is an assumption, how much is in the case (tears). Beside the
strip it writes a record, FILE.json, from which the same strip can be made again.
The built-in demo case does not describe its tears: name a case that does.`,
		Example: `  simview blink case.yaml
  simview blink case.yaml --scene letters --times-s 1,5,10 -o blink.png
  simview blink --record blink.json -o again.png`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := newStrip(c, &l, times, args, record)
			if err != nil {
				return err
			}
			sayUrgent(c.OutOrStdout(), s.opt)
			return s.run(c, l.out)
		},
	}
	l.flags(c, []string{"letters"}, "`id` of the scene, see simview scenes")
	f := c.Flags()
	f.StringVarP(&l.out, "out", "o", "blink.png", "output `file`, .png; one that exists is replaced, and so is the record beside it")
	f.Float64SliceVar(&times, "times-s", []float64{0.5, 1, 2, 4, 8, 12}, "times since the blink in `seconds`, 0.05 to 120, at most 11 of them")
	f.StringVar(&record, "record", "", "make the strip of a record again (`file`); only -o and --photo (where the photograph lies now) go with it")
	return c
}

// strip is one strip to be made.
type strip struct {
	from  opened
	set   compare.Settings
	opt   compare.Options // of set
	times []float64
}

func newStrip(c *cobra.Command, l *looking, times []float64, args []string, record string) (s strip, err error) {
	if record == "" {
		s.from, s.set, err = l.prepare(c, args, ".png")
		s.times = times
	} else {
		s, err = stripFromRecord(c, l, args, record)
	}
	if err == nil {
		err = oneGaze(s.set, "blink")
	}
	if err != nil {
		return s, err
	}
	if len(s.times) == 0 || len(s.times) > maxTimes {
		return s, usagef("--times-s: must be 1 to %d times (got %d)", maxTimes, len(s.times))
	}
	for _, t := range s.times {
		if !within(t, minSinceS, cause.MaxSinceBlinkS) {
			return s, usagef("--times-s: must be %g to %d seconds each (got %g)", minSinceS, cause.MaxSinceBlinkS, t)
		}
	}
	if err := free([]string{nextTo(l.out, ".json")}, append(s.from.paths, l.photo.File)...); err != nil {
		return s, err
	}
	s.opt, err = s.set.Options()
	return s, err
}

func stripFromRecord(c *cobra.Command, l *looking, args []string, path string) (strip, error) {
	if err := recordAlone(c, args); err != nil {
		return strip{}, err
	}
	if err := endsIn(l.out, ".png"); err != nil {
		return strip{}, err
	}
	var r blinkRecord
	data, err := os.ReadFile(path)
	if err != nil || json.Unmarshal(data, &r) != nil || r.Format != blinkForm {
		return strip{}, fmt.Errorf("record %s: is not a record of a strip (format %d expected); hint: name the .json file that blink wrote", path, blinkForm)
	}
	from, err := fromRecord(path, l.photo.File, &r.Options, r.Case, r.Files)
	return strip{from: from, set: r.Options, times: r.TimesS}, err
}

// run makes the strip and its record.
func (s strip) run(c *cobra.Command, out string) error {
	side, err := unit.ParseSide(s.set.Eye)
	if err != nil {
		return err
	}
	e, err := cause.Resolve(s.from.Case, side)
	if err != nil {
		return err
	}
	e.Extrapolate = s.set.Extrapolate
	list, err := openScenes(s.set)
	if err != nil {
		return err
	}
	rec := blinkRecord{
		Format: blinkForm, Version: version, Case: s.from.name, Files: s.from.files, Options: s.set, TimesS: s.times,
		Assumed: e.Notes, Notice: compare.Notice,
	}
	row, err := s.panels(c.Context(), e, list[0], &rec)
	if err != nil {
		return err
	}
	opt := s.opt
	sheet := render.Sheet{
		Title: fmt.Sprintf("The %s eye in the seconds after a blink", side), Sub: whose(s.from.Case), Urgent: compare.Urgent(opt),
		Rows: []render.Row{row}, Checks: stripChecks(s.from.Case),
		Foot: append([]string{"Assumed: how the tear film changes with time; " + strings.Join(e.Notes, "; ") + ".", opt.Manner.Words()}, saidOfNerve(e, opt)...),
	}
	if err := writePNG(out, sheet.Draw()); err != nil {
		return err
	}
	if err := writeJSON(nextTo(out, ".json"), rec); err != nil {
		return err
	}
	fmt.Fprintf(c.OutOrStdout(), "%s\n%s\n", out, compare.Notice[0])
	return nil
}

// saidOfNerve is how the field loss of a strip is drawn, if there is any, and the
// notice.
func saidOfNerve(e *cause.Eye, o compare.Options) []string {
	if _, lost := e.Cause(cause.Field); !lost && !o.Manner.Nerve.NormalPeriphery {
		return compare.Notice
	}
	return append([]string{o.Manner.Nerve.Words()}, compare.Notice...)
}

// whose names the case, and that the person is invented where it is so.
func whose(c *casefile.Case) string {
	if c.Invented {
		return c.Title + " (invented person)"
	}
	return c.Title
}

func stripChecks(c *casefile.Case) (row []render.Check) {
	for _, k := range c.Checks.Named() {
		row = append(row, render.Check{Name: k.Name, Done: k.Check.Done(), Note: k.Check.Words})
	}
	return row
}

// panels makes the row: the even film first, then each time. All hang as the
// reference view does.
func (s strip) panels(ctx context.Context, e *cause.Eye, sc *scene.Scene, rec *blinkRecord) (render.Row, error) {
	opt := s.opt
	v, _, err := opt.Viewing(sc, e.Case.AgeYears.V)
	if err != nil {
		return render.Row{}, err
	}
	ref, err := e.Reference(v)
	if err != nil {
		return render.Row{}, err
	}
	theatre, err := render.NewTheatre(sc)
	if err != nil {
		return render.Row{}, err
	}
	wide, window, err := look(theatre, ref, opt)
	if err != nil {
		return render.Row{}, err
	}
	hang, err := render.Hang(wide, window, compare.Curve(s.set.Tone, sc), sc.AdaptCdM2, ref.Loss())
	if err != nil {
		return render.Row{}, err
	}
	rec.Tone = hang.Tone.Name
	row := render.Row{Heading: fmt.Sprintf("%s, %s; %s", sc.Title, ref.Condition, hang.Tone.Name)}
	if brief := opt.Manner.Brief(); brief != "" {
		row.Heading += "; " + brief
	}
	for _, t := range append([]float64{0}, s.times...) {
		if err := ctx.Err(); err != nil {
			return row, err
		}
		v.SinceBlinkS = t
		p, view, err := stripPanel(e, v, theatre, opt, hang)
		if err != nil {
			return row, err
		}
		row.Panels, rec.Views = append(row.Panels, p), append(rec.Views, view)
	}
	return row, nil
}

// stripPanel makes one panel: every cause of the eye, its own glasses.
func stripPanel(e *cause.Eye, v cause.Viewing, theatre *render.Theatre, opt compare.Options, hang render.Hanging) (render.Panel, blinkView, error) {
	st, err := e.State(e.All(), v, cause.Same)
	if err != nil {
		return render.Panel{}, blinkView{}, err
	}
	wide, window, err := look(theatre, st, opt)
	if err != nil {
		return render.Panel{}, blinkView{}, err
	}
	notes, err := opt.Manner.Notes(st)
	if err != nil {
		return render.Panel{}, blinkView{}, err
	}
	for _, n := range notes {
		st = st.Note(n)
	}
	view := blinkView{SinceBlinkS: v.SinceBlinkS, PupilMM: st.PupilMM, Condition: st.Condition, Focus: st.Focus, Notes: st.Notes}
	p := render.Panel{Name: "Even film", Amount: "this eye as measured", Pic: hang.ComposeWith(wide, window, outlineOf(st, opt)), Notes: strings.Join(append([]string{st.Focus}, st.Notes...), "; ")}
	if t := v.SinceBlinkS; t > 0 {
		view.TearsRMSUM = e.Data.Tears.Film().RMSAtUM(t)
		p.Name, p.Amount = fmt.Sprintf("%.3g s", t), fmt.Sprintf("after a blink: film uneven by %.2f µm RMS", view.TearsRMSUM)
		p.Notes = focusAndRest(st)
	}
	return p, view, nil
}

// focusAndRest leaves out the note that the panel's amount says already.
func focusAndRest(s eye.State) string {
	words := []string{s.Focus}
	for _, n := range s.Notes {
		if !strings.HasPrefix(n, "tear film uneven") {
			words = append(words, n)
		}
	}
	return strings.Join(words, "; ")
}
