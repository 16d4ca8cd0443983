package main

import (
	"fmt"
	"math"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/render"
)

// spreading is how one state of an eye spreads light, as `simview light` shows it.
type spreading struct {
	ID   string `json:"view"`
	Name string `json:"name"`
	ink  int

	// PointPerSr is the light of a point, share per steradian, at the angles of
	// the file, all round: PSF and scatter together.
	PointPerSr []float64 `json:"point_per_sr"`
	// VeilPerSr is the veil of scatter alone, cd/m² per lux at the eye.
	VeilPerSr []float64 `json:"veil_cdm2_per_lux"`
	// Contrast left of a grating, scatter included: all round, upright and level bars.
	MTF        []float64 `json:"mtf_all_round"`
	MTFUpright []float64 `json:"mtf_upright_bars"`
	MTFLevel   []float64 `json:"mtf_level_bars"`

	Scattered float64 `json:"scattered_share"`
	LogS      float64 `json:"log_s_at_7_deg"`
	PupilMM   float64 `json:"pupil_mm"`
	Focus     string  `json:"focus"`

	veil  [3]float64 // at 2, 5 and 10 degrees
	notes []string
}

// lit is everything that the command light works out.
type lit struct {
	AngleDeg    []float64    `json:"angle_deg"`
	FrequencyCD []float64    `json:"frequency_cpd"`
	Views       []spreading  `json:"views"`
	General     []float64    `json:"cie_general_per_sr"`
	Total       []float64    `json:"cie_total_per_sr"`
	Primaries   [3][]float64 `json:"primaries_point_per_sr"` // of the last view, red, green, blue; without scatter
	LCA         string       `json:"chromatic_focus"`
}

// Angles and frequencies that are worked out.
const (
	leastAngle = 0.1 / 60 // degrees
	mostAngle  = 90.0
	angleSteps = 200
	leastCPD   = 0.5
	mostCPD    = 60.0
	freqSteps  = 120
)

func logSpaced(from, to float64, n int) []float64 {
	out := make([]float64, n+1)
	for i := range out {
		out[i] = from * math.Pow(to/from, float64(i)/float64(n))
	}
	return out
}

// views are the states that are compared: without any cause, each optical cause
// alone, all of them.
func (k *lighting) views(e *cause.Eye) []spreading {
	views := []spreading{{ID: "reference", Name: "reference eye: none of the causes", ink: 0}}
	n := 0
	for _, c := range e.Causes {
		if c.ID == cause.Field {
			continue // takes contrast, not light
		}
		n++
		views = append(views, spreading{ID: string(c.ID), Name: c.Label, ink: 1 + (n-1)%6})
	}
	if n > 1 {
		views = append(views, spreading{ID: "all", Name: "all causes together", ink: 7})
	}
	return views
}

// work fills everything in.
func (k *lighting) work(e *cause.Eye) (*lit, error) {
	l := &lit{AngleDeg: logSpaced(leastAngle, mostAngle, angleSteps), FrequencyCD: logSpaced(leastCPD, mostCPD, freqSteps), LCA: k.lca}
	l.Views = k.views(e)
	v := cause.Viewing{DistanceM: k.distance, Night: k.dim, PupilMM: k.pupil}
	for i := range l.Views {
		set := e.All()
		switch id := l.Views[i].ID; id {
		case "all":
		case "reference":
			set = cause.Strengths{}
		default:
			set = cause.Only(cause.ID(id), 1)
		}
		s, err := e.State(set, v, cause.Refracted)
		if err != nil {
			return nil, err
		}
		if err := k.fill(l, &l.Views[i], s, i == len(l.Views)-1); err != nil {
			return nil, err
		}
	}
	age, p := e.Case.AgeYears.V, e.Data.PigmentFactor()
	for _, deg := range l.AngleDeg {
		l.General = append(l.General, light.CIEGeneral(deg, age, p))
		l.Total = append(l.Total, light.CIETotal(deg, age, p))
	}
	return l, nil
}

// fill works one state out; the last also by primaries.
func (k *lighting) fill(l *lit, out *spreading, s eye.State, last bool) error {
	p, err := psf.Compute(s.Aperture(), render.White(), k.optics())
	if err != nil {
		return fmt.Errorf("%s: %w", out.Name, err)
	}
	keep, veil := s.Glare.Keep(), s.Glare.VeilFactor()
	core := roundProfile(p, l.AngleDeg)
	for i, deg := range l.AngleDeg {
		q := veil * s.Glare.Kernel(deg)
		out.VeilPerSr = append(out.VeilPerSr, q)
		out.PointPerSr = append(out.PointPerSr, keep*core[i]+q)
	}
	o := p.OTF()
	for _, f := range l.FrequencyCD {
		out.MTF = append(out.MTF, keep*o.RadialMTF(f))
		out.MTFUpright = append(out.MTFUpright, keep*o.MTF(f, 0))
		out.MTFLevel = append(out.MTFLevel, keep*o.MTF(f, 90))
	}
	for i, deg := range [...]float64{2, 5, 10} {
		out.veil[i] = veil * s.Glare.Kernel(deg)
	}
	out.Scattered, out.LogS = s.Glare.Leaving(), s.Glare.LogS(light.NormAtDeg)
	out.PupilMM, out.Focus, out.notes = s.PupilMM, s.Focus, s.Notes
	if !last {
		return nil
	}
	for c, lines := range light.Primaries(primaryLines) {
		q, err := psf.Compute(s.Aperture(), psfLines(lines), k.optics())
		if err != nil {
			return fmt.Errorf("%s, %s: %w", out.Name, primaries[c], err)
		}
		l.Primaries[c] = roundProfile(q, l.AngleDeg)
	}
	return nil
}

// primaryLines is the number of wavelengths of one primary.
const primaryLines = 5

func psfLines(lines []light.Line) (out []psf.Line) {
	for _, l := range lines {
		out = append(out, psf.Line{NM: l.NM, Weight: l.Weight})
	}
	return out
}

func (k *lighting) optics() psf.Options {
	o := render.Optics()
	if k.lca == lcaNames[1] {
		o.LCA = psf.AtchisonSmith
	}
	return o
}

// roundProfile returns the light of a point per steradian at each angle, mean of
// all directions; u is the share of the light that passes beside a displaced lens:
//
//	(1 - u) through + u beside
func roundProfile(p *psf.PSF, deg []float64) []float64 {
	out := throughProfile(p, deg)
	if p.Beside == nil {
		return out
	}
	u, s := p.Beside.Share, p.Beside.On(besideStep)
	for i, a := range deg {
		out[i] = (1-u)*out[i] + u*ringMean(s, a)
	}
	return out
}

const (
	besideStep = 3.0 / 60 // degrees, as in the pictures
	besideTurn = 360      // directions of a mean
)

// ringMean returns the mean density per steradian on a circle of deg degrees.
func ringMean(s psf.Spread, deg float64) (mean float64) {
	for k := range besideTurn {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / besideTurn)
		i := int(math.Round(deg*cos/besideStep)) - s.Left
		j := s.Top - int(math.Round(deg*sin/besideStep))
		if i >= 0 && i < s.W && j >= 0 && j < s.H {
			mean += float64(s.Pix[j*s.W+i])
		}
	}
	return mean / besideTurn / math.Pow(besideStep*math.Pi/180, 2)
}

// throughProfile returns that of the light through the lens: from the rings of the
// PSF, straight between them, and beyond 0.8 of its support from its tail.
func throughProfile(p *psf.PSF, deg []float64) []float64 {
	theta, perSr := p.RadialProfile()
	edge := 0.8 * theta[len(theta)-1]
	out := make([]float64, len(deg))
	for i, a := range deg {
		if a >= edge {
			out[i] = p.Tail(a) * render.TailShare(a, float64(p.N)*p.StepDeg/2)
			continue
		}
		k := min(int(a/p.StepDeg), len(theta)-2)
		for k > 0 && theta[k] > a {
			k--
		}
		f := max(0, (a-theta[k])/(theta[k+1]-theta[k]))
		out[i] = perSr[k] + min(f, 1)*(perSr[k+1]-perSr[k])
	}
	return out
}
