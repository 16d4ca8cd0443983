package render

import (
	"fmt"
	"slices"

	"simview/internal/fft"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/scene"
)

// Stage is one scene on one grid, with its spectrum kept: node 1. It is built
// once and used by every view of a sheet. Safe for concurrent use once built.
type Stage struct {
	Scene *scene.Scene
	Out   light.Grid // what a picture shows, plus Margin samples on every side
	Frame light.Grid // what a picture shows

	over    int // computed samples per shown sample, each way
	apron   int // shown samples drawn round Out
	draw    func(light.Grid) *light.Image
	fine    light.Grid // the computed grid with its apron
	forward *fft.Real2D
	back    *fft.Real2D
	spectra [3][]complex64
	veils   veilCache
	besides besideCache
}

// apronDeg is drawn round every picture: half the usual PSF. An eye far out of
// focus, whose PSF is wider, gets a picture drawn again with a wider apron.
const apronDeg = 1.1

// NewStage draws the scene for pictures on frame, computed at the frame's step
// over the factor `over`, with margin samples more on every side for what
// comes after the optics. The apron is drawn from the scene, so no border is
// dark and nothing wraps round.
func NewStage(s *scene.Scene, frame light.Grid, over, margin int) (*Stage, error) {
	return newStage(s, s.Draw, frame, over, margin)
}

// newStage is NewStage with another way to draw the surfaces.
func newStage(s *scene.Scene, draw func(light.Grid) *light.Image, frame light.Grid, over, margin int) (*Stage, error) {
	st := &Stage{Scene: s, Frame: frame, Out: frame.Grow(margin), over: over, draw: draw}
	return st, st.setUp(apronDeg)
}

// setUp draws the scene with an apron and transforms it.
func (st *Stage) setUp(apronDeg float64) error {
	st.apron = int(apronDeg/st.Out.StepDeg) + 1
	w := st.over * fft.GoodSize(st.Out.W+2*st.apron)
	h := st.over * fft.GoodSize(st.Out.H+2*st.apron)
	if w*h > maxSamples {
		return fmt.Errorf("picture: %d x %d samples are more than this program computes at once (%d); hint: use a coarser step or a smaller frame", w, h, maxSamples)
	}
	st.fine = light.Grid{
		W: w, H: h, StepDeg: st.Out.StepDeg / float64(st.over),
		LeftDeg: st.Out.LeftDeg - float64(st.apron)*st.Out.StepDeg,
		TopDeg:  st.Out.TopDeg + float64(st.apron)*st.Out.StepDeg,
	}
	return st.transform()
}

// reaching returns a stage whose apron holds half the PSF's support: this one,
// or, for an eye far out of focus, another drawn for it.
func (st *Stage) reaching(p *psf.PSF) (*Stage, error) {
	need := float64(p.N) * p.StepDeg / 2
	if need <= float64(st.apron)*st.Out.StepDeg {
		return st, nil
	}
	wide := &Stage{Scene: st.Scene, Frame: st.Frame, Out: st.Out, over: st.over, draw: st.draw}
	return wide, wide.setUp(need)
}

const maxSamples = 1 << 25 // 33 million: a spectrum of three planes is 400 MB

func (st *Stage) transform() (err error) {
	if st.forward, err = fft.NewReal2D(st.fine.W, st.fine.H); err != nil {
		return err
	}
	if st.back, err = fft.NewReal2D(st.fine.W/st.over, st.fine.H/st.over); err != nil {
		return err
	}
	st.spectra = spectra(st.forward, st.draw(st.fine))
	return nil
}

// spectra transforms the planes of a picture; a grey one has one spectrum.
func spectra(plan *fft.Real2D, m *light.Image) (all [3][]complex64) {
	planes := m.Planes()
	for c, plane := range planes {
		if c > 0 && slices.Equal(plane, planes[0]) {
			all[c] = all[0]
			continue
		}
		all[c] = plan.Forward(nil, plane)
	}
	return all
}

// same says that two spectra are one, as those of grey are.
func same(a, b []complex64) bool { return &a[0] == &b[0] }

// Core returns the scene's surfaces through the PSF, on st.Out, in cd/m²:
//
//	core = scene (*) PSF, averaged over each shown sample
//
// of the light through the lens, as if it were all: what passes beside a displaced
// one is a layer of its own. Nothing is taken out for scatter here. A nil PSF is perfect optics (OTF = 1).
// It is an error when an eye is so far out of focus that the picture with its
// apron would be too large to compute.
func (st *Stage) Core(p *psf.PSF) (*light.Image, error) {
	if p == nil {
		perfect := st.weights(nil)
		return st.through([3][]complex64{perfect, perfect, perfect}), nil
	}
	return st.coreOf(OneSpread(p))
}

// coreOf is [Stage.Core] with a spread for each primary.
func (st *Stage) coreOf(s Spread) (*light.Image, error) {
	wide := st
	for _, p := range s.primaries() {
		var err error
		if wide, err = wide.reaching(p); err != nil {
			return nil, err
		}
	}
	var otf [3][]complex64
	for c, p := range s.primaries() {
		if c > 0 && s.shared() {
			otf[c] = otf[0]
			continue
		}
		otf[c] = wide.weights(p.ThroughOTF().OnGrid(wide.fine.W, wide.fine.H, wide.fine.StepDeg))
	}
	return wide.through(otf), nil
}

// through multiplies the spectra by the weights of each primary and cuts the apron
// off.
func (st *Stage) through(weights [3][]complex64) *light.Image {
	out := light.NewImage(st.Out)
	w, h := st.fine.W/st.over, st.fine.H/st.over
	plane := make([]float32, w*h)
	folded := make([]complex64, h*(w/2+1))
	planes := out.Planes()
	for c, dst := range planes {
		if c > 0 && same(st.spectra[c], st.spectra[0]) && same(weights[c], weights[0]) {
			copy(dst, planes[0])
			continue
		}
		st.fold(folded, st.spectra[c], weights[c])
		st.back.Inverse(plane, folded)
		fft.InBlocks(st.Out.H, func(lo, hi int) {
			for j := lo; j < hi; j++ {
				line := dst[j*st.Out.W : (j+1)*st.Out.W]
				for i, v := range plane[(j+st.apron)*w+st.apron:][:len(line)] {
					line[i] = max(v, 0) // light is never negative; what is left is the transform's rounding
				}
			}
		})
	}
	return out
}
