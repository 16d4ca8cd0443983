package fieldmask

import (
	"math"

	"simview/internal/light"
	"simview/internal/unit"
)

// The field test's spot and its background.
const (
	SpotDiameterDeg = 0.43 // size III: 4 mm² at 30 cm
	BackgroundCdM2  = 10.0 // 31.5 asb, rounded
	spotRasterDeg   = 12.0 // side of the raster the test is simulated on
	spotStepDeg     = 0.05
)

// SpotThreshold returns the least luminance, in cd/m² above the background of 10
// cd/m², at which the simulated eye sees the field test's spot (size III, 0.43
// degrees) at a direction from fixation: at which in any band, anywhere near,
// a k >= 1. Bands, thresholds and loss are those of [See]; the spot is left out
// of the adaptation luminance, as a lamp is.
func SpotThreshold(loss Loss, at unit.SightPoint, opt Options) unit.CdM2 {
	n := int(spotRasterDeg / spotStepDeg)
	g := light.GridAround(float64(at.X), float64(at.Y), n, n, spotStepDeg)
	opt.Gaze = unit.SightPoint{}
	in := Light{Retina: spotImage(g, at), Adapt: make([]float32, g.Len())}
	for i := range in.Adapt {
		in.Adapt[i] = BackgroundCdM2
	}
	st := newStage(in, loss, opt.withDefaults(), lowestBand, typical(g, in.Retina.Luminance(nil)))
	st.transform()
	best := 0.0
	for _, b := range st.bands {
		best = math.Max(best, st.visibility(b))
	}
	return unit.CdM2(1 / best)
}

// visibility returns the greatest a k in a band, of the whole light.
func (st *stage) visibility(b band) float64 {
	fr, lum := st.frame.small(b), st.lum
	if st.allLum != nil {
		lum = st.allLum
	}
	r := st.readBand(lum, fr, b)
	xs, ys := st.cells(fr)
	c := st.criteria(b)
	best := float32(0)
	for q := range r.near {
		a, k := r.at(q, c.at(xs[q%fr.w], ys[q/fr.w]), false)
		best = max(best, a*k)
	}
	return float64(best)
}

// spotImage is a disc of 1 cd/m² on black, its edge smoothed by area over a
// sample; the even background holds no band and can be left out.
func spotImage(g light.Grid, at unit.SightPoint) *light.Image {
	m := light.NewImage(g)
	for q := range m.R {
		x, y := g.Centre(q%g.W, q/g.W)
		d := SpotDiameterDeg/2 - math.Hypot(x-float64(at.X), y-float64(at.Y))
		v := float32(math.Min(math.Max(d/g.StepDeg+0.5, 0), 1))
		m.R[q], m.G[q], m.B[q] = v, v, v
	}
	return m
}

// TakeTest lets the simulated eye take its own field test at the given places
// and returns the loss that comes back at each, in dB: 10 log10 of its
// threshold over that of a full field.
func TakeTest(loss Loss, places []unit.SightPoint, opt Options) []unit.PerimetricDB {
	out := make([]unit.PerimetricDB, len(places))
	for i, at := range places {
		ratio := float64(SpotThreshold(loss, at, opt)) / float64(SpotThreshold(NoLoss, at, opt))
		out[i] = unit.PerimetricDB(10 * math.Log10(ratio))
	}
	return out
}
