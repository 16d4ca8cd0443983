package main

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"image"
	"io"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/light"
	"simview/internal/plot"
	"simview/internal/render"
)

// lighting holds the flags of the command light.
type lighting struct {
	eye, out, lca   string
	pupil, distance float64
	dim             bool
}

// lcaNames are the formulas of the eye's focus by wavelength.
var lcaNames = render.LCAs[:]

func lightCommand() *cobra.Command {
	var k lighting
	c := &cobra.Command{
		Use:   "light [CASE] -o FILE.png",
		Short: "Plot how an eye spreads light: point, veil and contrast, cause by cause",
		Long: `light draws one page of diagrams for the reference eye, each cause alone and all
together: the light of a point from minutes of arc to 90 degrees, the veil of
scattered light against angle beside the CIE functions for the age, the contrast
that gratings keep, and the spread of the display's red, green and blue. Beside
FILE.png it writes the numbers as FILE.csv and FILE.json. Without CASE it uses the
built-in demo case.`,
		Example: `  simview light
  simview light case.yaml --dim -o night.png
  simview light case.yaml --eye left --pupil-mm 3 --lca atchison-smith`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			e, err := k.prepare(args, c.Flags().Changed("pupil-mm"))
			if err != nil {
				return err
			}
			l, err := k.work(e)
			if err != nil {
				return err
			}
			if err := c.Context().Err(); err != nil {
				return err
			}
			return k.write(l, e)
		},
	}
	f := c.Flags()
	eyeFlag(c, &k.eye)
	f.StringVarP(&k.out, "out", "o", "light.png", "output `file`, .png; it and the .csv and .json beside it are replaced")
	f.Float64Var(&k.pupil, "pupil-mm", 0, "pupil diameter in `mm`, 1 to 9 (default: the case's bright pupil)")
	f.BoolVar(&k.dim, "dim", false, "the dim pupil instead of the bright one")
	distanceFlag(c, &k.distance)
	lcaFlag(c, &k.lca)
	return c
}

// prepare checks flags and outputs, reads the case and resolves the eye.
func (k *lighting) prepare(args []string, pupilGiven bool) (*cause.Eye, error) {
	if err := cmp.Or(endsIn(k.out, ".png"), pupilFits(pupilGiven, k.pupil), knownLCA(k.lca), farEnough(k.distance)); err != nil {
		return nil, err
	}
	from, err := openCase(args)
	if err != nil {
		return nil, err
	}
	side, err := from.side(k.eye)
	if err != nil {
		return nil, err
	}
	if err := free([]string{k.out, nextTo(k.out, ".csv"), nextTo(k.out, ".json")}, from.paths...); err != nil {
		return nil, err
	}
	return cause.Resolve(from.Case, side)
}

func (k *lighting) write(l *lit, e *cause.Eye) error {
	m, err := k.page(l, e)
	if err != nil {
		return err
	}
	if err := writePNG(k.out, m); err != nil {
		return err
	}
	if err := writeFile(nextTo(k.out, ".csv"), l.csv); err != nil {
		return err
	}
	return writeJSON(nextTo(k.out, ".json"), l)
}

// csv writes one row per number: quantity, view, place, value.
func (l *lit) csv(w io.Writer) error {
	c := csv.NewWriter(w)
	rows := [][]string{{"quantity", "view", "at", "at_unit", "value", "unit"}}
	add := func(what, view string, at []float64, atUnit string, v []float64, unit string) {
		for i := range v {
			rows = append(rows, []string{what, view, number(at[i]), atUnit, number(v[i]), unit})
		}
	}
	for _, v := range l.Views {
		add("point", v.ID, l.AngleDeg, "deg", v.PointPerSr, "1/sr")
		add("veil", v.ID, l.AngleDeg, "deg", v.VeilPerSr, "cd/m2 per lx")
		add("mtf all round", v.ID, l.FrequencyCD, "cycles/deg", v.MTF, "1")
		add("mtf upright bars", v.ID, l.FrequencyCD, "cycles/deg", v.MTFUpright, "1")
		add("mtf level bars", v.ID, l.FrequencyCD, "cycles/deg", v.MTFLevel, "1")
	}
	add("veil", "CIE general", l.AngleDeg, "deg", l.General, "cd/m2 per lx")
	add("point", "CIE total", l.AngleDeg, "deg", l.Total, "1/sr")
	last := l.Views[len(l.Views)-1].ID
	for p, v := range l.Primaries {
		add("point "+primaries[p]+" without scatter", last, l.AngleDeg, "deg", v, "1/sr")
	}
	return c.WriteAll(rows)
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// Dashes of published functions, pixels.
const (
	generalDash = 9
	totalDash   = 3
)

// page makes the picture.
func (k *lighting) page(l *lit, e *cause.Eye) (image.Image, error) {
	last := l.Views[len(l.Views)-1]
	p := plot.LightPage{
		Title:  fmt.Sprintf("%s eye: how it spreads light", capital(e.Side.String())),
		Words:  []string{fmt.Sprintf("Pupil %.1f mm. %s.", last.PupilMM, capital(last.Focus))},
		Graphs: []plot.Graph{pointGraph(l), veilGraph(l), mtfGraph(l), primariesGraph(l)},
		Notes: []string{
			"Curves are means over all directions: a streak or a tail counts, but which way it points is not in them. Each cause alone is drawn with the glasses that suit that eye. A veil is drawn for the straylight usual at this age and, where it is a cause, for what was measured.",
			fmt.Sprintf("Focus by wavelength: %s. CIE functions are those of a normal eye of %g years; the general function holds beyond 0.1 degrees, and scatter here starts softly beside the wavefront.", lcaWords[k.lca], e.Case.AgeYears.V),
		},
	}
	for _, v := range l.Views {
		p.Keys = append(p.Keys, plot.Key{Name: v.Name, Ink: v.ink})
		if v.ID == "reference" || v.ID == string(cause.Scatter) {
			p.Words = append(p.Words, veilWords(v))
		}
		for _, n := range v.notes {
			if n = capital(n) + "."; !slices.Contains(p.Notes, n) {
				p.Notes = append(p.Notes, n)
			}
		}
	}
	p.Words = append(p.Words, cieWords(e.Case.AgeYears.V, e.Data.PigmentFactor()))
	p.Keys = append(p.Keys, plot.Key{Name: "CIE general function", Ink: 7, Dash: generalDash}, plot.Key{Name: "CIE total function", Ink: 7, Dash: totalDash})
	return p.Draw()
}

// lcaWords names the formulas as the references do.
var lcaWords = map[string]string{lcaNames[0]: render.LCASources[0], lcaNames[1]: render.LCASources[1]}

// veilWords says what scatter does, at the angles where it is usually quoted.
func veilWords(v spreading) string {
	return fmt.Sprintf("%s: straylight log s %.2f at %g degrees, %.0f %% of the light scattered; 1 lux at the eye lays %.2g, %.2g and %.2g cd/m² over what is 2, 5 and 10 degrees away.",
		capital(v.Name), v.LogS, light.NormAtDeg, 100*v.Scattered, v.veil[0], v.veil[1], v.veil[2])
}

// cieWords says what the two CIE functions lay at the same angles.
func cieWords(age, pigment float64) string {
	at := func(f func(deg, age, p float64) float64) string {
		return fmt.Sprintf("%.2g, %.2g and %.2g cd/m²", f(2, age, pigment), f(5, age, pigment), f(10, age, pigment))
	}
	return fmt.Sprintf("A normal eye of %g years, at the same places: by the CIE general function, from which the veil is built, %s; by the CIE total function, which has the blur of an average eye in it, %s.", age, at(light.CIEGeneral), at(light.CIETotal))
}

var angleTicks = []plot.Tick{
	{At: 0.1 / 60, Words: "0.1 min"},
	{At: 1.0 / 60, Words: "1 min"},
	{At: 10.0 / 60, Words: "10 min"},
	{At: 1, Words: "1°"},
	{At: 10, Words: "10°"},
	{At: 90, Words: "90°"},
}

func pointGraph(l *lit) plot.Graph {
	g := plot.Graph{
		Title: "Light of a point, PSF and scatter",
		X:     plot.Axis{Label: "angle from the point", From: leastAngle, To: mostAngle, Log: true, Ticks: angleTicks},
		Y:     plot.Axis{Label: "share of the light per steradian", From: 1e-3, To: 1e8, Log: true, Ticks: plot.Decades(1e-3, 1e8, 2)},
	}
	for _, v := range l.Views {
		g.Curves = append(g.Curves, plot.Curve{X: l.AngleDeg, Y: v.PointPerSr, Ink: v.ink})
	}
	g.Curves = append(g.Curves, plot.Curve{X: l.AngleDeg, Y: l.Total, Ink: 7, Dash: totalDash})
	return g
}

func veilGraph(l *lit) plot.Graph {
	g := plot.Graph{
		Title: "Veil of scattered light",
		X: plot.Axis{Label: "angle from a lamp", From: 0.1, To: mostAngle, Log: true, Ticks: []plot.Tick{
			{At: 0.1, Words: "0.1°"}, {At: 1, Words: "1°"}, {At: 2, Words: "2°"}, {At: 5, Words: "5°"}, {At: 10, Words: "10°"}, {At: 30, Words: "30°"}, {At: 90, Words: "90°"},
		}},
		Y: plot.Axis{Label: "cd/m² for each lux at the eye", From: 1e-3, To: 1e4, Log: true, Ticks: plot.Decades(1e-3, 1e4, 1)},
	}
	for _, v := range l.Views {
		if v.ID == "reference" || v.Scattered != l.Views[0].Scattered {
			g.Curves = append(g.Curves, plot.Curve{X: l.AngleDeg, Y: v.VeilPerSr, Ink: v.ink})
		}
	}
	g.Curves = append(g.Curves, plot.Curve{X: l.AngleDeg, Y: l.General, Ink: 7, Dash: generalDash}, plot.Curve{X: l.AngleDeg, Y: l.Total, Ink: 7, Dash: totalDash})
	return g
}

func mtfGraph(l *lit) plot.Graph {
	g := plot.Graph{
		Title: "Contrast kept (MTF), scatter included",
		X: plot.Axis{Label: "cycles per degree; 30 are the strokes of 20/20, logMAR 0", From: leastCPD, To: mostCPD, Log: true, Ticks: []plot.Tick{
			{At: 0.5, Words: "0.5"}, {At: 1, Words: "1"}, {At: 3, Words: "3"}, {At: 10, Words: "10"}, {At: 30, Words: "30"}, {At: 60, Words: "60"},
		}},
		Y: plot.Axis{Label: "share of the contrast, mean of all directions", From: 0, To: 1, Ticks: []plot.Tick{
			{At: 0, Words: "0"}, {At: 0.25, Words: "0.25"}, {At: 0.5, Words: "0.5"}, {At: 0.75, Words: "0.75"}, {At: 1, Words: "1"},
		}},
	}
	for _, v := range l.Views {
		g.Curves = append(g.Curves, plot.Curve{X: l.FrequencyCD, Y: v.MTF, Ink: v.ink})
	}
	return g
}

// primaryInks are the page's colours nearest to red, green and blue.
var primaryInks = [3]int{4, 3, 1}

func primariesGraph(l *lit) plot.Graph {
	last := l.Views[len(l.Views)-1]
	g := plot.Graph{
		Title: "Red, green and blue light, " + last.Name + ", no scatter",
		X:     plot.Axis{Label: "angle from the point", From: leastAngle, To: 1, Log: true, Ticks: angleTicks[:4]},
		Y:     plot.Axis{Label: "share of the light per steradian; lines in their own colours", From: 1, To: 1e8, Log: true, Ticks: plot.Decades(1, 1e8, 2)},
	}
	for p, v := range l.Primaries {
		g.Curves = append(g.Curves, plot.Curve{X: l.AngleDeg, Y: v, Ink: primaryInks[p]})
	}
	return g
}
