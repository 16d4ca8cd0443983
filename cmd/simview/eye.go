package main

import (
	"cmp"
	"errors"
	"fmt"
	"image"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/plot"
	"simview/internal/raytrace"
	"simview/internal/render"
	"simview/internal/unit"
)

// tracing holds the flags of the command eye.
type tracing struct {
	eye, out string
	pupil    float64
	meridian float64
	chosen   bool // the meridian was given
}

func eyeCommand() *cobra.Command {
	var k tracing
	c := &cobra.Command{
		Use:   "eye [CASE] -o FILE.png",
		Short: "Draw the traced eye: section with the lens and rays, wavefront, point spread",
		Long: `eye draws one page. Above: the eye in section with its implant as it lies and,
dashed, where it belongs, and the rays of a far point through the pupil. Below,
for the lens in its place, the lens as measured and all causes of blur together:
the wavefront over the pupil, a point of light as the patient sees it, without
scatter, and the same point by rays alone. The section goes through the direction in which the lens is displaced
unless another meridian is named. Only an eye with an implant is drawn. Without
CASE it uses the built-in demo case.`,
		Example: `  simview eye
  simview eye case.yaml --eye left -o left-eye.png
  simview eye case.yaml --pupil-mm 3 --meridian-deg 90 -o upright.png`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			k.chosen = c.Flags().Changed("meridian-deg")
			e, err := k.prepare(args, c.Flags().Changed("pupil-mm"))
			if err != nil {
				return err
			}
			m, err := k.page(e)
			if err != nil {
				return err
			}
			if err := c.Context().Err(); err != nil {
				return err
			}
			return writePNG(k.out, m)
		},
	}
	f := c.Flags()
	eyeFlag(c, &k.eye)
	f.StringVarP(&k.out, "out", "o", "eye.png", "output `file`, .png; one that exists is replaced")
	f.Float64Var(&k.pupil, "pupil-mm", 0, "pupil diameter in `mm`, 1 to 9 (default: the case's dim pupil)")
	f.Float64Var(&k.meridian, "meridian-deg", 0, "plane of the section in `degrees` counter-clockwise from the clinician's right, -360 to 360 (default: that of the displacement)")
	return c
}

// prepare checks flags and output, reads the case and resolves the eye.
func (k *tracing) prepare(args []string, pupilGiven bool) (*cause.Eye, error) {
	if err := cmp.Or(endsIn(k.out, ".png"), pupilFits(pupilGiven, k.pupil)); err != nil {
		return nil, err
	}
	if !within(k.meridian, -360, 360) {
		return nil, usagef("--meridian-deg: must be -360 to 360 (got %g)", k.meridian)
	}
	from, err := openCase(args)
	if err != nil {
		return nil, err
	}
	side, err := from.side(k.eye)
	if err != nil {
		return nil, err
	}
	if err := free([]string{k.out}, from.paths...); err != nil {
		return nil, err
	}
	return cause.Resolve(from.Case, side)
}

// model is the eye that is traced, at strength 0 and 1.
type model struct {
	eye       raytrace.ImplantEye
	at        raytrace.DisplacedLens
	displaced bool
	rests     string // what it rests on, where no note of the eye says so
}

func (k *tracing) model(e *cause.Eye) (model, error) {
	traced, at, ok := e.Traced(1)
	if ok {
		return model{eye: traced, at: at, displaced: true}, nil
	}
	traced, rests, err := e.TracedCentred()
	if p := (casefile.Problem{}); errors.As(err, &p) {
		return model{}, p
	}
	if err != nil {
		return model{}, fmt.Errorf("%s: %w; only an eye with an implant is traced; hint: --eye names the other eye, `simview psf` draws the spread of any", e.Case.File, err)
	}
	return model{eye: traced, rests: rests}, nil
}

// page makes the picture.
func (k *tracing) page(e *cause.Eye) (image.Image, error) {
	m, err := k.model(e)
	if err != nil {
		return nil, err
	}
	v := cause.Viewing{DistanceM: farMetres, Night: true, PupilMM: k.pupil}
	p := plot.Page{Side: e.Side, Title: fmt.Sprintf("%s eye, traced through its surfaces", capital(e.Side.String()))}
	var widest float64
	for _, c := range k.states(e, m) {
		s, err := e.State(c.set, v, c.glasses())
		if err != nil {
			return nil, err
		}
		if !c.rays {
			c.name += ", " + s.Focus
		}
		col, err := k.column(c, s, m)
		if err != nil {
			return nil, err
		}
		if !c.rays {
			col.Words = amounts(e)
		}
		p.Rows = append(p.Rows, col)
		if len(p.Words) == 0 {
			p.Words = k.words(e, m, s)
		}
		for _, n := range s.Notes {
			p.Notes = noted(p.Notes, capital(n)+".")
		}
		widest = s.PupilMM
	}
	p.Notes = append(notes(e, m, widest), p.Notes...)
	return p.Draw()
}

// noted adds a note that is not there yet; rows whose light beside the lens differs by
// their glasses alone share one.
func noted(notes []string, n string) []string {
	const beside = "beside the displaced lens"
	if slices.ContainsFunc(notes, func(o string) bool {
		return o == n || strings.Contains(o, beside) && strings.Contains(n, beside)
	}) {
		return notes
	}
	return append(notes, n)
}

// shown is one row of the page.
type shown struct {
	name  string
	set   cause.Strengths
	times float64 // of the displacement
	rays  bool    // its rays are traced: no cause but the lens
}

// glasses are those that suit the lens alone best; all causes together are seen
// through what is worn, as their owner sees them.
func (c shown) glasses() cause.Glasses {
	if c.rays {
		return cause.Refracted
	}
	return cause.Same
}

func (k *tracing) states(e *cause.Eye, m model) []shown {
	rows := []shown{{"Lens in its place, no other cause", cause.Strengths{}, 0, true}}
	if m.displaced {
		rows = append(rows, shown{"Lens as measured, no other cause", cause.Only(cause.Lens, 1), 1, true})
	}
	if all := blurring(e); len(all) > 1 || !m.displaced && len(all) > 0 || leftOver(e) {
		rows = append(rows, shown{"All causes of blur together", all, 1, false})
	}
	return rows
}

// leftOver reports whether what is worn leaves an error worth a row.
func leftOver(e *cause.Eye) bool {
	const halfStepD = 0.125 // of trial lenses
	b, ok := e.Balance()
	return ok && b.Left.Length() >= halfStepD
}

// blurring are the causes that a wavefront holds, as measured: scatter and field
// are in neither map nor point.
func blurring(e *cause.Eye) cause.Strengths {
	all := e.All()
	delete(all, cause.Scatter)
	delete(all, cause.Field)
	return all
}

func (k *tracing) column(c shown, s eye.State, m model) (plot.Row, error) {
	col := plot.Row{Name: c.name}
	var err error
	if c.rays {
		if col.Section, err = k.section(m, m.at.Times(c.times), s); err != nil {
			return col, err
		}
	}
	const samples = 340
	var covered func(x, y float64) bool
	if s.Past != nil {
		covered = func(x, y float64) bool { return s.Past.InsideMM(x, y) >= 0 }
	}
	if col.Map, err = plot.NewMap(s.PathUM, s.PupilMM, covered, samples); err != nil {
		return col, err
	}
	if col.Spots, err = plot.NewSpots(s.PathUM, s.PupilMM, covered); err != nil {
		return col, err
	}
	p, err := render.PSF(s)
	if err != nil {
		return col, err
	}
	col.Spread, err = plot.NewSpread(p)
	return col, err
}

func (k *tracing) section(m model, at raytrace.DisplacedLens, s eye.State) (*plot.Section, error) {
	sys, err := m.eye.At(at)
	if err != nil {
		return nil, err
	}
	const rays = 15
	return plot.NewSection(plot.Subject{
		Eye: sys, Centred: m.eye.Centred, Side: s.Side, Meridian: k.plane(m), PupilMM: s.PupilMM, OpticMM: optic(m), Rays: rays,
		Covered: func(p unit.PupilPoint) bool {
			ok, err := m.eye.Covered(at, p)
			return err != nil || ok
		},
	})
}

// plane is the meridian of the section: the one asked for, or that of the
// displacement, or that of the tilt, or upright.
func (k *tracing) plane(m model) unit.Degrees {
	d := m.at.Decentration
	switch {
	case k.chosen:
		return unit.Degrees(k.meridian)
	case d.X != 0 || d.Y != 0:
		return unit.Degrees(math.Atan2(float64(d.Y), float64(d.X)) * 180 / math.Pi)
	case m.at.Tilt != 0:
		return m.at.TiltToward
	}
	return 90
}

// usualOpticMM is the diameter drawn where none is stated: common practice.
const usualOpticMM = 6

func optic(m model) float64 {
	if d := m.eye.Spec.Lens.OpticMM; d > 0 {
		return d
	}
	return usualOpticMM
}

func (k *tracing) words(e *cause.Eye, m model, s eye.State) []string {
	what := "implant in its place"
	if c, ok := e.Cause(cause.Lens); ok {
		what = c.Amount
	}
	key := "Blue: the lens. Amber: rays of one far point."
	if d := m.at; d.Decentration != (unit.PupilPoint{}) || d.Tilt != 0 || d.AxialMM != 0 {
		key = "Blue: the lens as it lies. Dashed grey: where it belongs. Amber: rays of one far point."
	}
	if m.at.Rotation != 0 && m.eye.Spec.Lens.CylinderD != 0 {
		key += " A lens turned about its own axis looks the same in section."
	}
	return []string{
		fmt.Sprintf("%s. Entrance pupil %.1f mm. The lens alone is seen through the sphere and cylinder that suit it best, all causes through what is worn.", capital(what), s.PupilMM),
		key,
	}
}

// amounts lists every cause with its amount.
func amounts(e *cause.Eye) []string {
	var lines []string
	in := blurring(e)
	for _, c := range e.Causes {
		if in[c.ID] > 0 {
			lines = append(lines, c.Label+": "+c.Amount)
		}
	}
	return lines
}

// notes say what is assumed and what the pictures leave out.
func notes(e *cause.Eye, m model, pupilMM float64) []string {
	var lines []string
	for _, n := range e.Notes {
		if strings.Contains(n, "traced") {
			lines = append(lines, capital(n)+".")
		}
	}
	if m.rests != "" {
		lines = append(lines, "Traced through: "+m.rests+".")
	}
	lines = append(lines, "Iris and coat are drawn for orientation. What lies out of the plane of the section is laid onto it. The rays of the section are traced for the lens alone; scattered light is in no picture of this page.")
	share, err := m.eye.UncoveredShare(m.at, pupilMM)
	if err == nil && share > 0 {
		lines = append(lines, fmt.Sprintf("Dashed red: rays beside the %g mm optic, through %.1f %% of this pupil, hatched in the maps.", optic(m), 100*share))
	}
	return lines
}

// capital writes the first letter large.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
