package fieldmask

import (
	"slices"

	"simview/internal/csf"
	"simview/internal/light"
	"simview/internal/unit"
)

// Light is what falls on the retina, before the nerve.
type Light struct {
	Retina *light.Image // with veil and lamps, cd/m²
	Adapt  []float32    // adaptation luminance of each pixel, cd/m² > 0, see [Adaptation]
	Pupil  float64      // trolands for each cd/m² of Retina: area of the pupil, mm²; 0: [UsualPupilMM2]
}

// UsualPupilMM2 is the area of a pupil of 4 mm, mm².
const UsualPupilMM2 = 12.57

// Loss gives the field loss in dB >= 0 at a direction relative to the gaze, as
// the patient sees it, degrees. It is called once for each node of a map of an
// eighth of a degree.
type Loss func(xDeg, yDeg float64) (dB float64)

// NoLoss is the full field.
func NoLoss(_, _ float64) float64 { return 0 }

// DefaultC is the c of the receptors' compression r = L / (1 + L / (c A)).
const DefaultC = 200.0

// Options choose how the stage works.
type Options struct {
	Gaze            unit.SightPoint // where in the scene the eye looks
	Model           csf.Model       // nil: [csf.WatsonAhumada]
	NormalPeriphery bool            // also take away what a healthy eye does not resolve away from fixation
	Appearance      Appearance      // how a damaged place is drawn
	C               float64         // 0: [DefaultC]; sensible from 100 to 300
}

// withDefaults fills in what was left out.
func (o Options) withDefaults() Options {
	if o.Model == nil {
		o.Model = csf.WatsonAhumada{}
	}
	if o.C == 0 {
		o.C = DefaultC
	}
	return o
}

// Low is what the wide picture lends to a magnified window of the same scene:
// the change of its bands with centres below 4 cycles per degree, what it took
// for lamps and how much of them these bands show, the range of
// its surroundings and its correction of the mean. The wide picture's step must
// be under 0.09 degrees, so that it holds these bands whole.
type Low struct {
	change [3]lattice
	adapt  mapOf
	usual  mapOf // typical luminance, by which lamps are told from surfaces
	lamps  mapOf // gains of the lamps by the bands below the window's own
	ranges [3]localRange
	given  [3]mapOf
	grey   bool // the three primaries are alike
	none   bool // nothing was changed
	paint  *painting
}

// windowFrom is the centre frequency, cycles per degree, from which a magnified
// window works out its own bands. Coarser bands reach more than a degree beyond
// the window, and the wide picture holds them as well as the window would.
const windowFrom = 4.0

// See returns the picture that the nerve passes on, and what a magnified window
// of the same scene needs of it. Detail that the damaged place cannot detect is
// taken away, band by band; the mean light is kept. For every band
//
//	G  = g(a k) / g(a),  g(a) = a³ / (1 + a³),  a >= 3,  k = 10^(-s(f) loss / 10)
//	r  = L / (1 + L / K),  K = c A
//	d  = Σ (G - 1) × band of r
//	L' = L + d (1 + L/K)² / (1 - d (1 + L/K) / K)
//
// with a the local contrast of the luminance over the normal threshold, and L'
// limited to the range of the scene within 2 degrees. Where the loss is 0
// everywhere (and NormalPeriphery is off) the picture is returned as it was. The
// other ways of [Appearance] are Blurred, which takes a to be that of one
// contrast for all detail; Unaltered, which has no loss; and those that are painted.
// It panics when in.Adapt has another length than the picture.
func See(in Light, loss Loss, opt Options) (*light.Image, *Low) {
	if opt.Appearance.painted() {
		out, low := see(in, NoLoss, opt)
		low.paint = newPainting(in, loss, opt)
		low.paint.over(out, loss, opt)
		return out, low
	}
	return see(in, opt.drawn(loss), opt)
}

// drawn is the loss that the bands know of.
func (o Options) drawn(loss Loss) Loss {
	if o.Appearance == Unaltered || o.Appearance.painted() {
		return NoLoss
	}
	return loss
}

// see is See for what is not painted.
func see(in Light, loss Loss, opt Options) (*light.Image, *Low) {
	st := newStage(in, loss, opt.withDefaults(), lowestBand, typical(in.Retina.Grid, in.Retina.Luminance(nil)))
	if st.unchanged() {
		return clone(in.Retina), &Low{none: true}
	}
	low := st.run(0, windowFrom)
	lent := st.lend(low)
	high := st.run(windowFrom, 0)
	return st.apply(st.sum(low, high), nil, lent), lent
}

// SeeWindow is [See] for a magnified window: a finer grid over a small part of
// the scene, with an apron of a degree on every side that is cut off afterwards.
// Bands from 4 cycles per degree up are worked out here and those below come from
// the wide picture's Low. With in.Adapt nil the adaptation is the wide picture's;
// with low nil every band is worked out here. Where the wide picture lost
// nothing, the window is returned as it was.
func SeeWindow(in Light, loss Loss, opt Options, low *Low) *light.Image {
	if low == nil {
		out, _ := See(in, loss, opt)
		return out
	}
	out := clone(in.Retina)
	if !low.none {
		out = seeWindow(in, opt.drawn(loss), opt, low)
	}
	if low.paint != nil {
		low.paint.over(out, loss, opt)
	}
	return out
}

// seeWindow is SeeWindow for what is not painted.
func seeWindow(in Light, loss Loss, opt Options, low *Low) *light.Image {
	if in.Adapt == nil {
		in.Adapt = low.adapt.spread(in.Retina.Grid)
	}
	st := newStage(in, loss, opt.withDefaults(), windowFrom, low.usual)
	st.startFrom(low.lamps)
	return st.apply(st.run(windowFrom, 0), low, nil)
}

// clone returns a copy of a picture.
func clone(m *light.Image) *light.Image {
	return &light.Image{Grid: m.Grid, R: slices.Clone(m.R), G: slices.Clone(m.G), B: slices.Clone(m.B)}
}
