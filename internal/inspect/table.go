package inspect

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"simview/internal/raytrace"
	"simview/internal/zernike"
)

// listedOrder is the highest order whose coefficients the text lists; all that
// were fitted are in the fields of the report.
const listedOrder = 4

// Write prints the report for people: causes, wavefront by surface and by cause
// with how each is known, coefficients, Strehl ratio, MTF and notes.
func (r Report) Write(w io.Writer) error {
	t := &table{tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)}
	t.line("%s eye, %s; %s", r.Eye, r.Condition, r.Focus)
	for _, c := range r.Causes {
		t.line("  cause %s: %s: %s (%s)", c.ID, c.Label, c.Amount, c.From)
	}
	t.balance(r.Refraction)
	t.rows("by surface", r.Surfaces)
	t.rows("by cause", append(append([]Row{}, r.Parts...), r.Total))
	t.terms(append(append([]Row{}, r.Parts...), r.Total))
	t.line("  Strehl ratio (white light) %.3f; light scattered %.1f %%", r.Strehl, 100*r.Scattered)
	for _, m := range r.MTF {
		t.line("  MTF at %4g c/deg: upright bars %.3f, level bars %.3f, mean %.3f; contrast sensitivity %.1f", m.CyclesPerDegree, m.Upright, m.Level, m.Mean, m.Sensitivity)
	}
	t.sight(r.Sight)
	t.offAxis(r.OffAxis)
	for _, n := range r.Notes {
		t.line("  note: %s", n)
	}
	return t.Flush()
}

type table struct{ *tabwriter.Writer }

func (t *table) line(format string, a ...any) { fmt.Fprintf(t, format+"\n", a...) }

// rows prints how much each row adds and how it is known.
func (t *table) rows(title string, rows []Row) {
	t.line("  wavefront %s\tRMS µm, tilt too\torder 3 up\tfiner\tM D\tJ0 D\tJ45 D\tknown", title)
	for _, r := range rows {
		t.line("    %s\t%.3f\t%.3f\t%.3f\t%+.2f\t%+.2f\t%+.2f\t%s", r.By, r.RMSUM, r.HighUM, r.FineUM, r.M, r.J0, r.J45, strings.Join(r.From, ", "))
	}
	t.flushed()
}

// terms prints the coefficients of orders 2 to 4, one column for each row.
func (t *table) terms(rows []Row) {
	head := make([]string, len(rows))
	for i, r := range rows {
		head[i] = r.By
	}
	t.line("  coefficients µm\t%s", strings.Join(head, "\t"))
	for j := 3; j < zernike.Count(listedOrder); j++ {
		name := termName(zernike.NM(j))
		cells := make([]string, len(rows))
		for i, r := range rows {
			cells[i] = fmt.Sprintf("%+.3f", r.TermsUM[name])
		}
		t.line("    c(%s)\t%s", name, strings.Join(cells, "\t"))
	}
	t.flushed()
}

// sight prints what the nerve gets and what is read with it.
func (t *table) sight(g Sight) {
	orders := make([]string, 0, len(g.RMSByOrderUM))
	for n, v := range g.RMSByOrderUM {
		if n >= 2 {
			orders = append(orders, fmt.Sprintf("%d: %.3f", n, v))
		}
	}
	t.line("  RMS µm of order %s", strings.Join(orders, ", "))
	half := "wider than was computed"
	if g.HalfLight != nil {
		half = fmt.Sprintf("%.2f minutes of arc", *g.HalfLight)
	}
	t.line("  visual Strehl ratio %.3f in white light, %.3f at 555 nm; circle of half the light %s", g.VisualStrehl, g.OneWavelength, half)
	t.line("  area of MTF above the nerve's threshold %.3f of a perfect pupil's; area under log contrast sensitivity %.2f; finest grating seen %.0f c/deg", g.AreaMTF, g.AreaLogCSF, g.CutOff)
	t.line("  letter acuity expected on %d cd/m² with %.1f dB lost at fixation: %s, letters of %.0f %% contrast %s", chartCdM2, g.FixationLossDB, logMAR(g.AcuityLogMAR, g.AcuityBeyond), 100*faintContrast, logMAR(g.FaintLogMAR, g.FaintBeyond))
	if g.FastLogMAR == nil {
		t.line("  letter acuity from the visual Strehl ratio: none, too low for the published relation")
		return
	}
	t.line("  letter acuity from the visual Strehl ratio at 555 nm: %+.2f logMAR, %+.2f from that above; it knows no scatter, no loss and no light", *g.FastLogMAR, *g.FastLogMAR-g.AcuityLogMAR)
}

// logMAR words an acuity; beyond what was tried it is the last that was.
func logMAR(v float64, beyond bool) string {
	switch {
	case beyond && v > 0:
		return fmt.Sprintf("worse than %+.1f logMAR", v)
	case beyond:
		return fmt.Sprintf("better than %+.1f logMAR", v)
	}
	return fmt.Sprintf("%+.2f logMAR", v)
}

// offAxis prints what the pictures leave out.
func (t *table) offAxis(rows []OffAxis) {
	if len(rows) == 0 {
		return
	}
	t.line("  refraction to the side less that straight ahead (in no picture; retina of %d mm assumed)\tM D\tJ0 D\tJ45 D", raytrace.UsualRetinaMM)
	for _, o := range rows {
		side := "right"
		if o.FieldDeg < 0 {
			side = "left"
		}
		t.line("    %.0f degrees to the patient's %s\t%+.2f\t%+.2f\t%+.2f", math.Abs(o.FieldDeg), side, o.M, o.J0, o.J45)
	}
	t.flushed()
}

// flushed ends a block of columns.
func (t *table) flushed() { _ = t.Flush() }
