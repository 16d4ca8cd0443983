package web

import (
	"fmt"
	"math"

	"simview/internal/acuity"
	"simview/internal/cause"

	"simview/internal/quality"
)

// numbers are those under a pane.
type numbers struct {
	Focus      string   `json:"focus"`
	Condition  string   `json:"condition"`
	PupilMM    float64  `json:"pupil_mm"`
	LightShare float64  `json:"light_share"`
	Visual     float64  `json:"visual_strehl"`               // with what scatter takes off
	HalfLight  *float64 `json:"half_light_arcmin,omitempty"` // absent: too wide to say
	LogMAR     float64  `json:"acuity_logmar"`               // predicted
	LogMARLow  float64  `json:"acuity_from_logmar"`          // of the interval
	LogMARHigh float64  `json:"acuity_to_logmar"`            // of the interval
	Beyond     bool     `json:"acuity_beyond,omitempty"`     // outside what was tried; LogMAR is the nearer end
	Scattered  float64  `json:"scattered_share"`             // of the light
	FixationDB float64  `json:"fixation_loss_db"`            // field loss at fixation
	Notes      []string `json:"notes,omitempty"`             // in English
	Published  string   `json:"published_results,omitempty"` // of a what-if: who saw worse
	Assumes    string   `json:"trial_rests_on,omitempty"`    // of a trial
	WorseShare *float64 `json:"share_of_worse,omitempty"`    // of a what-if's draws
	Draws      int      `json:"draws,omitempty"`             // of a what-if
}

const (
	chartCdM2 = 100 // of the letters, as elsewhere in the program
	// acuityDoubt is how far predicted acuity lies from the published relation of
	// blur and acuity at most, logMAR (docs/architecture.md, "Letter acuity").
	acuityDoubt = 0.2
)

// numbers works out the numbers of a question.
func (st *studio) numbers(a ask) (n numbers, err error) {
	s, err := st.spread(a)
	if err != nil {
		return n, err
	}
	v, err := quality.VisualStrehl(s.psf)
	if err != nil {
		return n, err
	}
	e := s.state
	n = numbers{
		Focus: e.Focus, Condition: e.Condition, PupilMM: e.PupilMM, LightShare: e.Light, Notes: e.Notes,
		Visual: v.Space * e.Glare.Keep(), Scattered: e.Glare.Leaving(),
	}
	if d := quality.HalfEnergyArcmin(s.psf); !math.IsInf(d, 0) {
		n.HalfLight = &d
	}
	if loss := e.Loss(); loss != nil {
		n.FixationDB = max(0, loss(0, 0))
	}
	if err := st.letters(a, s, &n); err != nil {
		return n, err
	}
	return n, a.whatIf(&n)
}

// letters predicts the acuity of a view, knowing the letters as the reference eye
// sees them.
func (st *studio) letters(a ask, s spread, n *numbers) error {
	trolands := s.state.Trolands(chartCdM2)
	ref := a
	ref.set, ref.trial, ref.glasses = cause.Strengths{}, "", cause.Refracted
	o, err := st.observers.get(ref.optics()+fmt.Sprintf("|%g", trolands), func() (*acuity.Observer, error) {
		known, err := st.spread(ref)
		if err != nil {
			return nil, err
		}
		return acuity.New(nil, trolands, acuity.Of(known.psf))
	})
	if err != nil {
		return err
	}
	r, err := o.LogMAR(acuity.Of(s.psf), acuity.Task{Scattered: n.Scattered, LossDB: n.FixationDB})
	n.LogMAR, n.LogMARLow, n.LogMARHigh, n.Beyond = r.LogMAR, r.LogMAR-acuityDoubt, r.LogMAR+acuityDoubt, r.Beyond
	return err
}

// whatIf adds what must stand beside a trial.
func (a ask) whatIf(n *numbers) error {
	if a.trial == "" {
		return nil
	}
	t, err := cause.FindTrial(a.trial)
	if err != nil {
		return err
	}
	n.Published, n.Assumes = t.Published, t.Assumes
	if t.InRoom {
		return nil
	}
	sp, err := t.Spread(a.eye, a.set, a.viewing)
	if err != nil {
		return err
	}
	n.Draws, n.WorseShare = sp.Draws, &sp.WorseShare
	return nil
}
