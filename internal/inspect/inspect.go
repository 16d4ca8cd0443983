package inspect

import (
	"fmt"
	"maps"
	"math"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/psf"
	"simview/internal/refraction"
	"simview/internal/render"
	"simview/internal/zernike"
)

// Frequencies are the spatial frequencies, in cycles per degree, at which the
// MTF is listed unless others are asked for.
var Frequencies = []float64{1, 2, 5, 10, 20, 30}

// Report is every number of one eye in one condition.
type Report struct {
	Eye          string    `json:"eye"`
	Condition    string    `json:"condition"`
	Focus        string    `json:"focus"`
	PupilMM      float64   `json:"pupil_mm"`
	WavelengthNM float64   `json:"wavelength_nm"` // of the coefficients
	Parts        []Row     `json:"parts"`         // by cause
	Total        Row       `json:"total"`
	Strehl       float64   `json:"strehl_white"` // against the same pupil without aberration
	Scattered    float64   `json:"scattered_share"`
	Outside      float64   `json:"psf_outside_share"`
	MTF          []MTF     `json:"mtf"`
	Causes       []Finding `json:"causes"`
	Notes        []string  `json:"notes,omitempty"`
}

// Row is the wavefront of one part, fitted over the pupil.
type Row struct {
	By      string             `json:"by"`
	TermsUM map[string]float64 `json:"terms_um"` // by "n,m", 0.0005 µm and up
	RMSUM   float64            `json:"rms_um"`
	HighUM  float64            `json:"rms_order_3_up_um"`
	FineUM  float64            `json:"rms_beyond_fit_um"` // what the fitted orders leave
	M       float64            `json:"m_d"`
	J0      float64            `json:"j0_d"`
	J45     float64            `json:"j45_d"`
}

// MTF is the contrast left of a grating, the light lost to scatter included.
type MTF struct {
	CyclesPerDegree float64 `json:"cycles_per_degree"`
	Upright         float64 `json:"upright"` // bars stand upright
	Level           float64 `json:"level"`   // bars lie level
	Mean            float64 `json:"mean_over_directions"`
}

// Finding is one cause as resolved.
type Finding struct {
	ID     string `json:"id"`
	Label  string `json:"label"`
	Amount string `json:"amount"`
	From   string `json:"from"`
	Shows  string `json:"shows_in"`         // a scene and pupil that shows it
	Hides  string `json:"does_not_show_in"` // one that must not
}

// Eye reports one eye with the given strengths in a viewing condition, at the
// given frequencies in cycles per degree (nil: [Frequencies]). As in the
// pictures, all causes together keep their glasses and any other set is
// refracted anew. Errors are those of [cause.Eye.State], and a frequency that is
// not a number from 0 up.
func Eye(e *cause.Eye, set cause.Strengths, v cause.Viewing, freqs []float64) (Report, error) {
	for _, f := range freqs {
		if !(f >= 0) || math.IsInf(f, 1) {
			return Report{}, fmt.Errorf("spatial frequency: must be 0 or more cycles per degree (got %g)", f)
		}
	}
	g := cause.Refracted
	if maps.Equal(set, e.All()) {
		g = cause.Same
	}
	s, err := e.State(set, v, g)
	if err != nil {
		return Report{}, err
	}
	r := Report{Eye: e.Side.String(), Condition: s.Condition, Focus: s.Focus, PupilMM: s.PupilMM, WavelengthNM: 555, Notes: append(append([]string{}, e.Notes...), s.Notes...)}
	for _, c := range e.Causes {
		r.Causes = append(r.Causes, Finding{string(c.ID), c.Label, c.Amount, c.From.String(), c.Shows.Words, c.Hides.Words})
	}
	if err := r.wavefront(s); err != nil {
		return r, err
	}
	return r, r.optics(s, freqs)
}

// wavefront fits the parts by who added them, and their sum.
func (r *Report) wavefront(s eye.State) error {
	var order []string
	groups := map[string][]eye.Part{}
	for _, p := range s.Parts {
		if groups[p.By] == nil {
			order = append(order, p.By)
		}
		groups[p.By] = append(groups[p.By], p)
	}
	for _, by := range order {
		row, err := row(by, eye.State{Parts: groups[by]}, s.PupilMM)
		if err != nil {
			return err
		}
		r.Parts = append(r.Parts, row)
	}
	var err error
	r.Total, err = row("total", s, s.PupilMM)
	return err
}

const (
	fitOrder = 6
	samples  = 101  // across the pupil for the fit
	shownUM  = 5e-4 // smaller terms are not listed
)

func row(by string, s eye.State, pupilMM float64) (Row, error) {
	radius := pupilMM / 2
	var xs, ys, ws []float64
	for j := range samples {
		for i := range samples {
			x, y := (2*(float64(i)+0.5)/samples-1)*radius, (2*(float64(j)+0.5)/samples-1)*radius
			if x*x+y*y <= radius*radius {
				xs, ys, ws = append(xs, x), append(ys, y), append(ws, s.PathUM(x, y))
			}
		}
	}
	t, left, err := zernike.Fit(xs, ys, ws, radius, fitOrder)
	if err != nil {
		return Row{}, fmt.Errorf("wavefront of %s: %w", by, err)
	}
	p, err := refraction.FromTermsRMS(t)
	if err != nil {
		return Row{}, err
	}
	out := Row{
		By: by, TermsUM: map[string]float64{}, RMSUM: t.RMS(), HighUM: t.RMSOrders(3, fitOrder),
		FineUM: rms(left), M: float64(p.M), J0: float64(p.J0), J45: float64(p.J45),
	}
	for j, c := range t.C {
		if n, m := zernike.NM(j); n > 0 && math.Abs(c) >= shownUM {
			out.TermsUM[fmt.Sprintf("%d,%d", n, m)] = c
		}
	}
	return out, nil
}

func rms(v []float64) float64 {
	var s float64
	for _, x := range v {
		s += x * x
	}
	return math.Sqrt(s / float64(len(v)))
}

// optics fills what comes from the PSF of the pictures.
func (r *Report) optics(s eye.State, freqs []float64) error {
	p, err := render.PSF(s)
	if err != nil {
		return err
	}
	flat, err := psf.Compute(psf.Aperture{DiameterMM: s.PupilMM}, psf.Monochrome(r.WavelengthNM), psf.Options{StepDeg: p.StepDeg, N: p.N})
	if err != nil {
		return err
	}
	if freqs == nil {
		freqs = Frequencies
	}
	keep := s.Glare.Keep()
	r.Scattered, r.Outside, r.Strehl = 1-keep, p.Outside, p.Strehl(flat)
	o := p.OTF()
	for _, f := range freqs {
		r.MTF = append(r.MTF, MTF{f, keep * o.MTF(f, 0), keep * o.MTF(f, 90), keep * o.RadialMTF(f)})
	}
	return nil
}
