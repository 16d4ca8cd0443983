package inspect

import (
	"math"

	"simview/internal/acuity"
	"simview/internal/cause"
	"simview/internal/csf"
	"simview/internal/eye"
	"simview/internal/psf"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/render"
)

// Sight is what the nerve gets from the optics and what is read with it.
type Sight struct {
	RMSByOrderUM       []float64 `json:"rms_by_order_um"`                     // from order 0, which is left at 0
	VisualStrehl       float64   `json:"visual_strehl"`                       // VSX of the pictures' white light
	InFrequency        float64   `json:"visual_strehl_frequency"`             // VSOTF of the same
	OneWavelength      float64   `json:"visual_strehl_555"`                   // of 555 nm, as in the published relation
	AreaMTF            float64   `json:"area_mtf"`                            // above the nerve's threshold, of that of a perfect pupil
	HalfLight          *float64  `json:"half_light_arcmin,omitempty"`         // diameter of the circle that holds half the light; absent: too wide
	AreaLogCSF         float64   `json:"area_log_csf"`                        // 1.5 to 18 cycles per degree
	CutOff             float64   `json:"cut_off_cpd"`                         // finest grating seen
	AcuityLogMAR       float64   `json:"acuity_logmar"`                       // simulated, black letters on 100 cd/m²
	AcuitySE           float64   `json:"acuity_se_logmar"`                    // of the simulation
	AcuityBeyond       bool      `json:"acuity_beyond"`                       // outside -0.6 to 2 logMAR; the nearer is given
	FaintLogMAR        float64   `json:"acuity_25_percent_logmar"`            // letters of 25 % contrast
	FaintBeyond        bool      `json:"acuity_25_percent_beyond"`            // as AcuityBeyond
	FastLogMAR         *float64  `json:"acuity_from_strehl_logmar,omitempty"` // absent below the published set
	ContrastModel      string    `json:"contrast_model"`
	TrolandsOfTheChart float64   `json:"chart_trolands"`
	FixationLossDB     float64   `json:"fixation_loss_db"`
}

const (
	chartCdM2     = 100  // within the 80 to 320 of ISO 8596 (from memory)
	faintContrast = 0.25 // of the letters of a low-contrast chart (common practice)
)

// sight fills what needs a nerve, after the wavefront; p is the spread of s.
func (r *Report) sight(e *cause.Eye, s eye.State, v cause.Viewing, p *psf.PSF) (err error) {
	model, g := csf.Models()[0], &r.Sight
	at := csf.Place{Trolands: s.Trolands(chartCdM2)}
	if loss := s.Loss(); loss != nil {
		at.LossDB = max(0, loss(0, 0))
	}
	g.ContrastModel, g.TrolandsOfTheChart, g.FixationLossDB = model.Name(), at.Trolands, at.LossDB
	if err := g.strehl(s, p); err != nil {
		return err
	}
	mtf := meanMTF(p, s.Glare.Keep())
	g.AreaMTF = quality.AreaMTF(mtf, s.PupilMM, model, at)
	g.AreaLogCSF, g.CutOff = quality.AreaLogCSF(model, at, mtf), csf.CutOff(model, at, mtf)
	for i, m := range r.MTF {
		if m.CyclesPerDegree > 0 {
			r.MTF[i].Sensitivity = csf.Sensitivity(model, m.CyclesPerDegree, at, m.Mean)
		}
	}
	return g.letters(e, s, v, p, at)
}

// meanMTF is the transfer over all directions; light beside a displaced lens counts
// as lost to detail.
func meanMTF(p *psf.PSF, keep float64) func(f float64) float64 {
	if p.Beside != nil {
		keep *= 1 - p.Beside.Share
	}
	o := p.ThroughOTF()
	return func(f float64) float64 { return keep * o.RadialMTF(f) }
}

func (g *Sight) strehl(s eye.State, p *psf.PSF) error {
	both, err := quality.VisualStrehl(p)
	if err != nil {
		return err
	}
	coarse, err := quality.NewAperture(s.Aperture())
	if err != nil {
		return err
	}
	g.VisualStrehl, g.InFrequency = both.Space, both.Frequency
	g.OneWavelength = coarse.VisualStrehl(refraction.PowerVector{})
	if v, ok := acuity.FromVisualStrehl(g.OneWavelength); ok {
		g.FastLogMAR = &v
	}
	if d := quality.HalfEnergyArcmin(p); !math.IsInf(d, 0) {
		g.HalfLight = &d
	}
	return nil
}

// letters predicts acuity, knowing the letters as the eye without its causes sees
// them in its own best glasses.
func (g *Sight) letters(e *cause.Eye, s eye.State, v cause.Viewing, p *psf.PSF, at csf.Place) error {
	ref, err := e.State(cause.Strengths{}, v, cause.Refracted)
	if err != nil {
		return err
	}
	known, err := render.PSF(ref)
	if err != nil {
		return err
	}
	o, err := acuity.New(nil, at.Trolands, acuity.Of(known))
	if err != nil {
		return err
	}
	task := acuity.Task{Scattered: s.Glare.Leaving(), LossDB: at.LossDB}
	black, err := o.LogMAR(acuity.Of(p), task)
	if err != nil {
		return err
	}
	task.Contrast = faintContrast
	faint, err := o.LogMAR(acuity.Of(p), task)
	g.AcuityLogMAR, g.AcuitySE, g.AcuityBeyond = black.LogMAR, black.SE, black.Beyond
	g.FaintLogMAR, g.FaintBeyond = faint.LogMAR, faint.Beyond
	return err
}
