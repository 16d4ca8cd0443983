package explain

import (
	"fmt"
	"io"
	"math"

	"simview/internal/csf"
	"simview/internal/eye"
	"simview/internal/figure"
)

// Curves are what one light shows over spatial frequency.
type Curves struct {
	CyclesPerDegree []float64 `json:"cycles_per_degree"`
	// Contrast sensitivity of the reference eye and of the eye as it is.
	SensitivityReference []float64 `json:"sensitivity_reference_eye"`
	Sensitivity          []float64 `json:"sensitivity_as_it_is"`
	// MTF of the eye as it is by the direction in which a grating changes, degrees
	// anticlockwise from the right as the patient sees it, scatter included.
	DirectionsDeg []float64   `json:"directions_deg"`
	MTF           [][]float64 `json:"mtf_by_direction"`
	MTFReference  []float64   `json:"mtf_reference_eye"`
}

// Frequencies of curves run from curveFrom to curveTo cycles per degree in equal
// ratios.
const (
	curveFrom, curveTo = 0.5, 60.0
	curvePoints        = 40
)

// curves works out what the figures show.
func (g *engine) curves() (c Curves, err error) {
	c.DirectionsDeg = []float64{0, 45, 90, 135}
	for k := range curvePoints {
		c.CyclesPerDegree = append(c.CyclesPerDegree, curveFrom*math.Pow(curveTo/curveFrom, float64(k)/(curvePoints-1)))
	}
	now, o, err := g.looked(place{g.all(), suited})
	if err != nil {
		return c, err
	}
	ref, r, err := g.looked(place{0, suited})
	if err != nil {
		return c, err
	}
	all, mean, meanRef := o.p.OTF(), radial(o.p, c.CyclesPerDegree), radial(r.p, c.CyclesPerDegree)
	c.Sensitivity = g.sensitivity(now, mean, c.CyclesPerDegree)
	c.SensitivityReference = g.sensitivity(ref, meanRef, c.CyclesPerDegree)
	for _, deg := range c.DirectionsDeg {
		var row []float64
		for _, f := range c.CyclesPerDegree {
			row = append(row, now.Glare.Keep()*all.MTF(f, deg))
		}
		c.MTF = append(c.MTF, row)
	}
	for _, m := range meanRef {
		c.MTFReference = append(c.MTFReference, ref.Glare.Keep()*m)
	}
	return c, nil
}

// looked is the state of a place and its optics.
func (g *engine) looked(p place) (eye.State, *optics, error) {
	s, err := g.state(p.set, p.w)
	if err != nil {
		return s, nil, err
	}
	o, err := g.point(s, g.key(p.set, p.w))
	return s, o, err
}

func (g *engine) sensitivity(s eye.State, mtf, fs []float64) []float64 {
	at := csf.Place{Trolands: g.trolands, LossDB: readingLoss(s)}
	keep := s.Glare.Keep()
	var out []float64
	for k, f := range fs {
		out = append(out, csf.Sensitivity(g.model, f, at, keep*mtf[k]))
	}
	return out
}

// Figure is a picture that a story can draw.
type Figure struct {
	Name  string // of its file
	Write func(w io.Writer) error
}

const twoIntervals = "dot: value; dark: 90 in 100 by measurement noise only; pale: with model error"

// Figures are the pictures of a story: shares and what changes, with intervals, and
// curves, by light.
func (s *Story) Figures() []Figure {
	var out []Figure
	for _, l := range s.Lights {
		for _, m := range Measures {
			if m == Scene && l.Scene == "" {
				continue
			}
			name := [...]string{"letters", "contrast", "scene"}[m]
			unit := [...]string{"logMAR", "log contrast sensitivity", "points of what is seen in " + l.Scene}[m]
			out = append(out,
				Figure{"share-" + name + "-" + l.Name + ".png", s.bars(l, m, "Share of each cause: "+name+", "+l.Name+" pupil", unit+" lost; a share is not what treatment would give back", shareOf).Write},
				Figure{"put-right-" + name + "-" + l.Name + ".png", s.bars(l, m, "If only this is put right, new glasses: "+name+", "+l.Name+" pupil", unit+" gained", renewedOf).Write})
		}
		out = append(out, Figure{"contrast-sensitivity-" + l.Name + ".png", l.sensitivityFigure().Write}, Figure{"mtf-" + l.Name + ".png", l.mtfFigure().Write})
	}
	return out
}

func (s *Story) bars(l Light, m Measure, title, unit string, of func(CauseRow) []Estimate) figure.Bars {
	b := figure.Bars{Title: title, Unit: unit, Foot: twoIntervals}
	add := func(name string, e Estimate) {
		b.Rows = append(b.Rows, figure.Bar{Name: name, Value: e.Value, Low: e.Low, High: e.High, WideLow: e.ModelLow, WideHigh: e.ModelHigh})
	}
	for _, c := range l.Causes {
		add(c.Label, of(c)[m])
	}
	if m == Letters && s.Unexplained.Known && l.Name == "bright" {
		add(notExplained, s.Unexplained.Gap)
	}
	return b
}

func (l Light) sensitivityFigure() figure.Lines {
	c := l.Curves
	return figure.Lines{
		Title: fmt.Sprintf("Contrast sensitivity where the eye reads, %s pupil of %.1f mm", l.Name, l.PupilMM),
		X:     "cycles per degree", Y: "sensitivity", LogX: true, LogY: true,
		Curves: []figure.Line{
			{Name: "this eye without its causes", X: c.CyclesPerDegree, Y: seen(c.SensitivityReference), Dashed: true},
			{Name: "as it is", X: c.CyclesPerDegree, Y: seen(c.Sensitivity)},
		},
	}
}

// seen leaves out sensitivities below 1, which no contrast reaches.
func seen(s []float64) []float64 {
	out := append([]float64(nil), s...)
	for k, v := range out {
		if v < 1 {
			out[k] = 0
		}
	}
	return out
}

func (l Light) mtfFigure() figure.Lines {
	c := l.Curves
	f := figure.Lines{Title: fmt.Sprintf("Contrast kept by the optics, %s pupil of %.1f mm", l.Name, l.PupilMM), X: "cycles per degree", Y: "share of contrast kept", LogX: true}
	f.Curves = append(f.Curves, figure.Line{Name: "this eye without its causes, mean", X: c.CyclesPerDegree, Y: c.MTFReference, Dashed: true})
	for k, d := range c.DirectionsDeg {
		name := map[float64]string{0: "upright bars", 45: "bars leaning left", 90: "level bars", 135: "bars leaning right"}[d]
		f.Curves = append(f.Curves, figure.Line{Name: name, X: c.CyclesPerDegree, Y: c.MTF[k]})
	}
	return f
}
