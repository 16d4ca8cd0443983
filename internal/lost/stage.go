package lost

import (
	"fmt"
	"math"
	"sync"

	"simview/internal/csf"
	"simview/internal/fft"
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/render"
	"simview/internal/scene"
)

// Steps of the grid, degrees.
const (
	// FineStepDeg is that of the wide pictures; bands from 0.25 to 16 cycles per
	// degree.
	FineStepDeg = render.WideStepDeg
	// QuickStepDeg is for many states of an eye: bands up to 8 cycles per degree.
	QuickStepDeg = 2.0 / 60

	apronDeg = 1.0 // drawn round the picture
	nodeDeg  = 0.5 // between the nodes of what changes slowly over the field
)

// Stage is one scene, drawn and transformed once for any number of eyes. Safe for
// concurrent use.
type Stage struct {
	scene    *scene.Scene
	model    csf.Model
	raster   light.Grid // the picture and its apron
	frame    light.Grid // the picture
	bands    *fieldmask.Bands
	spectrum []complex64 // of the surfaces' luminance
	nodes    light.Grid
	surfaces []float32 // adapting luminance of the surfaces alone, at the nodes
	mu       sync.Mutex
	veils    map[float64][2][]float32 // by pigment: fixed and aged, at the nodes
}

// New draws a scene with samples stepDeg degrees apart; a nil model is
// [csf.WatsonAhumada]. A step at which no band can be judged is an error.
func New(s *scene.Scene, stepDeg float64, m csf.Model) (*Stage, error) {
	if !(stepDeg > 0) || math.IsInf(stepDeg, 0) {
		return nil, fmt.Errorf("lost: the step must be above 0 degrees (got %g)", stepDeg)
	}
	if m == nil {
		m = csf.WatsonAhumada{}
	}
	st := &Stage{scene: s, model: m, frame: s.Grid(stepDeg), veils: map[float64][2][]float32{}}
	apron := int(math.Ceil(apronDeg / stepDeg))
	st.raster = st.frame.Grow(apron)
	st.raster.W, st.raster.H = fft.GoodSize(st.raster.W), fft.GoodSize(st.raster.H)
	var err error
	if st.bands, err = fieldmask.NewBands(st.raster.W, st.raster.H, stepDeg); err != nil {
		return nil, err
	}
	img := s.Draw(st.raster)
	st.spectrum = st.bands.Spectrum(img.Luminance(nil))
	w, h := int(math.Ceil(s.WidthDeg/nodeDeg))+2, int(math.Ceil(s.HeightDeg/nodeDeg))+2
	st.nodes = light.GridAround(0, 0, w, h, nodeDeg)
	st.surfaces = st.atNodes(st.raster, fieldmask.Adaptation(img))
	return st, nil
}

// atNodes reads a smooth plane of a grid at the nodes, from its nearest sample.
func (st *Stage) atNodes(g light.Grid, v []float32) []float32 {
	out := make([]float32, st.nodes.Len())
	for q := range out {
		i, j := g.Pixel(st.nodes.Centre(q%st.nodes.W, q/st.nodes.W))
		x, y := min(max(int(math.Round(i)), 0), g.W-1), min(max(int(math.Round(j)), 0), g.H-1)
		out[q] = v[y*g.W+x]
	}
	return out
}

// unitVeils are those of [render.UnitVeils] at the nodes, smoothed as the adaptation
// is.
func (st *Stage) unitVeils(pigment float64) [2][]float32 {
	st.mu.Lock()
	defer st.mu.Unlock()
	v, ok := st.veils[pigment]
	if !ok {
		fixed, aged := render.UnitVeils(st.scene, st.nodes, pigment)
		v = [2][]float32{fixed.Luminance(nil), aged.Luminance(nil)}
		st.veils[pigment] = v
	}
	return v
}

// adaptation is the luminance adapted to at the nodes, cd/m² of the scene, as in
// [light.Retina], and the share of the light that the image of detail keeps.
// Light beside a displaced lens falls somewhere near and adapts as before.
//
//	A = Keep surfaces + VeilFactor (fixed + Scale aged)
func (st *Stage) adaptation(g light.Glare) (a []float32, keep float64) {
	if st.scene.GlareOff {
		return st.surfaces, 1
	}
	veil := st.unitVeils(g.Pigment)
	keep = g.Keep()
	a = make([]float32, len(st.surfaces))
	core, fixed, aged := float32(keep), float32(g.VeilFactor()), float32(g.VeilFactor()*g.Scale)
	for q, v := range st.surfaces {
		a[q] = core*v + fixed*veil[0][q] + aged*veil[1][q]
	}
	return a, keep
}

// through is the spectrum of the retinal image of the surfaces, nothing scattered and
// without the light beside the lens; nil optics are perfect.
func (st *Stage) through(p *psf.PSF) []complex64 {
	if p == nil || p.N == 0 {
		return st.spectrum
	}
	out := p.ThroughOTF().OnGrid(st.raster.W, st.raster.H, st.raster.StepDeg)
	k := float32(1)
	if p.Beside != nil {
		k -= float32(p.Beside.Share)
	}
	for i, v := range out {
		v *= st.spectrum[i]
		out[i] = complex(k*real(v), k*imag(v))
	}
	return out
}
