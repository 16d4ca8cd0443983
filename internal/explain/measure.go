package explain

import (
	"math"

	"simview/internal/acuity"
	"simview/internal/csf"
	"simview/internal/eye"
	"simview/internal/lost"
	"simview/internal/render"
)

// Numbers are what is predicted of one state.
type Numbers struct {
	LogMAR float64 `json:"logmar"`
	// LogCS is the mean log10 contrast sensitivity at [Frequencies].
	LogCS float64 `json:"log_contrast_sensitivity"`
	// LostPercent is how much of what the reference eye sees in the scene is lost;
	// 0 where no scene was asked for.
	LostPercent float64 `json:"scene_lost_percent"`
}

// Frequencies are those of the usual tests of contrast sensitivity, cycles per
// degree (common practice).
var Frequencies = []float64{1.5, 3, 6, 12, 18}

// Measure is one of the numbers, as harm.
type Measure int

// The measures, in the order of tables.
const (
	Letters Measure = iota
	Contrast
	Scene
)

// Measures lists all.
var Measures = []Measure{Letters, Contrast, Scene}

// Unit is the unit of a change.
func (m Measure) Unit() string {
	return [...]string{"logMAR", "log CS", "points of the scene"}[m]
}

// Harm is the number counted so that more is worse.
func (n Numbers) Harm(m Measure) float64 {
	switch m {
	case Letters:
		return n.LogMAR
	case Contrast:
		return -n.LogCS
	}
	return n.LostPercent
}

// measure works out the numbers of a state from its optics, light is the light at the
// retina over that of the eye as it is, image that of the scene through the optics or nil.
func (g *engine) measure(s eye.State, o *optics, light float64, image *lost.Image) (Numbers, error) {
	loss := readingLoss(s)
	r, err := g.observer.LogMAR(o.transfer, acuity.Task{Scattered: 1 - s.Glare.Keep(), LossDB: loss})
	if err != nil {
		return Numbers{}, err
	}
	n := Numbers{LogMAR: r.LogMAR, LogCS: g.contrast(s, o, loss, light)}
	if g.stage == nil {
		return n, nil
	}
	view := render.View{Eye: s}
	if image == nil {
		image = g.stage.Image(view, o.p)
	}
	l, err := image.Look(view).Against(g.seen)
	n.LostPercent = 100 * l.Share
	return n, err
}

// roundFixation is how far from fixation, in degrees, a place to read with is
// looked for: eyes wander by some tenths of a degree, and people with a dense half
// hold letters on the half that sees (assumed). Acuity holds out in glaucoma until
// little of the centre is left.
const roundFixation = 0.5

// readingLoss is the field loss in dB where this eye reads: at the best of the
// places at fixation and on two rings about it.
func readingLoss(s eye.State) float64 {
	loss, _, _ := readingPlace(s)
	return loss
}

// readingPlace is that loss and its place, degrees from fixation.
func readingPlace(s eye.State) (loss, x, y float64) {
	at := s.Loss()
	if at == nil {
		return 0, 0, 0
	}
	const spokes = 8
	loss = at(0, 0)
	for _, r := range []float64{roundFixation / 2, roundFixation} {
		for k := range spokes {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / spokes)
			if l := at(r*cos, r*sin); l < loss {
				loss, x, y = l, r*cos, r*sin
			}
		}
	}
	return loss, x, y
}

// leastSensitivity is the sensitivity of an eye that sees no grating of full
// contrast; what lies below counts as it.
const leastSensitivity = 1

// contrast is the mean over the frequencies of
//
//	log10 max(1, MTF (1 - s) k / T)
func (g *engine) contrast(s eye.State, o *optics, loss, light float64) float64 {
	at := csf.Place{Trolands: g.trolands * light, LossDB: loss}
	var sum float64
	for k, f := range Frequencies {
		v := csf.Sensitivity(g.model, f, at, o.mtf[k]*s.Glare.Keep())
		sum += math.Log10(max(leastSensitivity, v))
	}
	return sum / float64(len(Frequencies))
}
