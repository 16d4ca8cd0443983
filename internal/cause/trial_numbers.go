package cause

import (
	"math"

	"simview/internal/quality"
	"simview/internal/refraction"
)

// Numbers are what a trial leaves in one view.
type Numbers struct {
	PupilMM      float64 `json:"pupil_mm"`
	RMSUM        float64 `json:"rms_um"`                   // prism left out
	HighUM       float64 `json:"rms_beyond_sphere_cyl_um"` // what no glasses take away
	VisualStrehl float64 `json:"visual_strehl"`            // of [VisualStrehl]
	M            float64 `json:"m_d"`                      // left, by RMS fit, at the cornea
	J0           float64 `json:"j0_d"`
	J45          float64 `json:"j45_d"`
	LightShare   float64 `json:"light_share"` // at the retina, over that now
	Focus        string  `json:"focus"`
}

// Numbers works out what the trial leaves; of a what-if, the outcome it shows.
// Errors are those of [Trial.Apply].
func (t Trial) Numbers(e *Eye, set Strengths, v Viewing) (Numbers, error) {
	r, err := t.on(e, set, v)
	if err != nil {
		return Numbers{}, err
	}
	return r.numbers()
}

// NumbersNow are those of the eye as it is, in its own glasses.
func NumbersNow(e *Eye, set Strengths, v Viewing) (Numbers, error) { return Trial{}.Numbers(e, set, v) }

func (t *tryout) numbers() (Numbers, error) {
	w, left, err := fitted(t.s)
	if err != nil {
		return Numbers{}, err
	}
	p, err := refraction.FromTermsRMS(w)
	if err != nil {
		return Numbers{}, err
	}
	vs, err := VisualStrehl(t.s)
	high := quality.RMS(left)
	return Numbers{
		PupilMM: t.s.PupilMM, RMSUM: math.Hypot(w.RMSOrders(2, 2), high), HighUM: high, VisualStrehl: vs,
		M: float64(p.M), J0: float64(p.J0), J45: float64(p.J45), LightShare: t.gain, Focus: t.s.Focus,
	}, err
}
