package render

import (
	"fmt"

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

	over    int        // computed samples per shown sample, each way
	fine    light.Grid // the computed grid with its apron
	forward *fft.Real2D
	back    *fft.Real2D
	spectra [3][]complex64
	veils   veilCache
}

const apronDeg = 1.4 // no PSF support used for surfaces is wider

// NewStage draws the scene for pictures on frame, computed at the frame's step
// over the factor `over`, with margin samples more on every side for what
// comes after the optics. The apron is drawn from the scene, so no border is
// dark and nothing wraps round.
func NewStage(s *scene.Scene, frame light.Grid, over, margin int) (*Stage, error) {
	st := &Stage{Scene: s, Frame: frame, Out: frame.Grow(margin), over: over}
	step := frame.StepDeg / float64(over)
	apron := int(apronDeg/frame.StepDeg) + 1
	w := over * fft.GoodSize(st.Out.W+2*apron)
	h := over * fft.GoodSize(st.Out.H+2*apron)
	if w*h > maxSamples {
		return nil, fmt.Errorf("picture: %d x %d samples are more than this program computes at once (%d); hint: use a coarser step or a smaller frame", w, h, maxSamples)
	}
	st.fine = light.Grid{
		W: w, H: h, StepDeg: step,
		LeftDeg: st.Out.LeftDeg - float64(apron)*frame.StepDeg,
		TopDeg:  st.Out.TopDeg + float64(apron)*frame.StepDeg,
	}
	return st, st.transform()
}

const maxSamples = 1 << 25 // 33 million: a spectrum of three planes is 400 MB

func (st *Stage) transform() (err error) {
	if st.forward, err = fft.NewReal2D(st.fine.W, st.fine.H); err != nil {
		return err
	}
	if st.back, err = fft.NewReal2D(st.fine.W/st.over, st.fine.H/st.over); err != nil {
		return err
	}
	img := st.Scene.Draw(st.fine)
	for c, plane := range img.Planes() {
		st.spectra[c] = st.forward.Forward(nil, plane)
	}
	return nil
}

// Core returns the scene's surfaces through the PSF, on st.Out, in cd/m²:
//
//	core = scene (*) PSF, averaged over each shown sample
//
// Nothing is taken out for scatter here. A nil PSF is perfect optics (OTF = 1).
func (st *Stage) Core(p *psf.PSF) *light.Image {
	var otf []complex64
	if p != nil {
		otf = p.OTF().OnGrid(st.fine.W, st.fine.H, st.fine.StepDeg)
	}
	out := light.NewImage(st.Out)
	w, h := st.fine.W/st.over, st.fine.H/st.over
	apron := int(apronDeg/st.Out.StepDeg) + 1
	plane := make([]float32, w*h)
	folded := make([]complex64, h*(w/2+1))
	for c, dst := range out.Planes() {
		st.fold(folded, st.spectra[c], otf)
		st.back.Inverse(plane, folded)
		for j := range st.Out.H {
			from := (j+apron)*w + apron
			copy(dst[j*st.Out.W:(j+1)*st.Out.W], plane[from:from+st.Out.W])
		}
	}
	return out
}
