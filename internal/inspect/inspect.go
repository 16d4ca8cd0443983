package inspect

import (
	"fmt"
	"maps"
	"math"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/psf"
	"simview/internal/render"
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
	WavelengthNM float64   `json:"wavelength_nm"`        // of the coefficients
	Refraction   []Lens    `json:"refraction,omitempty"` // how the leftover error comes about; absent: none stated
	Surfaces     []Row     `json:"surfaces"`             // by plane, from the world inward
	Parts        []Row     `json:"parts"`                // by cause
	Total        Row       `json:"total"`
	Strehl       float64   `json:"strehl_white"` // against the same pupil without aberration
	Scattered    float64   `json:"scattered_share"`
	Outside      float64   `json:"psf_outside_share"`
	MTF          []MTF     `json:"mtf"`
	Sight        Sight     `json:"sight"`
	OffAxis      []OffAxis `json:"off_axis,omitempty"` // of an eye with an implant
	Causes       []Finding `json:"causes"`
	Notes        []string  `json:"notes,omitempty"`
}

// MTF is the contrast left of a grating, the light lost to scatter included.
type MTF struct {
	CyclesPerDegree float64 `json:"cycles_per_degree"`
	Upright         float64 `json:"upright"` // bars stand upright
	Level           float64 `json:"level"`   // bars lie level
	Mean            float64 `json:"mean_over_directions"`
	Sensitivity     float64 `json:"contrast_sensitivity"` // of the mean, at fixation on 100 cd/m²; 0 at 0 cycles per degree
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
	r.Refraction = balance(e)
	if err := r.wavefront(s); err != nil {
		return r, err
	}
	if err := r.offAxis(e, set[cause.Lens]); err != nil {
		return r, err
	}
	p, err := render.PSF(s)
	if err != nil {
		return r, err
	}
	if err := r.optics(s, p, freqs); err != nil {
		return r, err
	}
	return r, r.sight(e, s, v, p)
}

// optics fills what comes from the PSF of the pictures.
func (r *Report) optics(s eye.State, p *psf.PSF, freqs []float64) error {
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
		r.MTF = append(r.MTF, MTF{CyclesPerDegree: f, Upright: keep * o.MTF(f, 0), Level: keep * o.MTF(f, 90), Mean: keep * o.RadialMTF(f)})
	}
	return nil
}
