package web

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"

	"simview/internal/acuity"
	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/unit"
)

// Previews: a scene of 30 by 22 degrees has 360 by 264 samples.
const (
	previewStepDeg       = 5.0 / 60
	previewWindowStepDeg = 1.0 / 60
	previewWavelengths   = 3
)

// Bounds of what is kept. A full theatre takes some 250 MB, a spread up to 30.
const (
	keptTheatres  = 1
	keptPreviews  = 3
	keptTones     = 6
	keptSpreads   = 8
	keptStates    = 64
	keptObservers = 8
	keptBytes     = 64 << 20 // of encoded pictures
)

// studio makes pictures and keeps what the next one can use again. The exposure of
// every picture of a scene is that of the reference eye. Safe for concurrent use.
type studio struct {
	base      *cause.Eye // of the complaint: its reference view sets the exposure
	theatres  *kept[*render.Theatre]
	previews  *kept[*render.Theatre]
	tones     *kept[reference]
	states    *kept[eye.State]
	spreads   *kept[*psf.PSF]
	pictures  *kept[picture]
	observers *kept[*acuity.Observer]
}

func newStudio(base *cause.Eye) *studio {
	return &studio{
		base:     base,
		theatres: newKept(keptTheatres, one[*render.Theatre]), previews: newKept(keptPreviews, one[*render.Theatre]),
		tones: newKept(keptTones, one[reference]), states: newKept(keptStates, one[eye.State]), spreads: newKept(keptSpreads, one[*psf.PSF]),
		pictures:  newKept(keptBytes, func(p picture) int { return len(p.png) }),
		observers: newKept(keptObservers, one[*acuity.Observer]),
	}
}

// picture is a view on the display, encoded.
type picture struct {
	png     []byte
	visible bool // it differs visibly from the reference view
}

// spread is an eye state with the spread of its light.
type spread struct {
	state eye.State
	psf   *psf.PSF
}

// reference is the reference view of a scene: how it is exposed, and what others
// are held against.
type reference struct {
	tone         light.Tone
	wide, window *image.NRGBA
}

// spread makes the eye of a question and the spread of its light, which the next one
// has too where only scatter, field, gaze or scene differ.
func (st *studio) spread(a ask) (s spread, err error) {
	if s.state, err = st.states.get(a.optics(), a.state); err != nil {
		return s, err
	}
	s.psf, err = st.spreads.get(a.wavefront().optics(), func() (*psf.PSF, error) {
		if a.full {
			return render.PSF(s.state)
		}
		var lines []psf.Line
		for _, l := range light.White(previewWavelengths) {
			lines = append(lines, psf.Line{NM: l.NM, Weight: l.Weight})
		}
		return psf.Compute(s.state.Aperture(), lines, render.Optics())
	})
	return s, err
}

func (st *studio) theatre(s *scene.Scene, full bool) (*render.Theatre, error) {
	if full {
		return st.theatres.get(s.ID, func() (*render.Theatre, error) { return render.NewTheatre(s) })
	}
	return st.previews.get(s.ID, func() (t *render.Theatre, err error) {
		t = &render.Theatre{Scene: s}
		if t.Wide, err = render.NewStage(s, s.Grid(previewStepDeg), 1, 0); err != nil || s.Window.WidthDeg == 0 {
			return t, err
		}
		t.Window, err = render.NewStage(s, s.WindowGrid(previewWindowStepDeg), 1, int(1/previewWindowStepDeg))
		return t, err
	})
}

// look computes the part of a view that is asked for; the other is nil, but a window
// needs its wide picture. With both eyes open the fellow eye is as measured.
func (st *studio) look(a ask) (wide, window *light.Image, err error) {
	if wide, window, err = st.lookOne(a); err != nil || a.fellow == nil {
		return wide, window, err
	}
	a.eye, a.set, a.trial, a.glasses, a.fellow = a.fellow, a.fellow.All(), "", cause.Same, nil
	other, part, err := st.lookOne(a)
	if err != nil {
		return nil, nil, err
	}
	if wide, err = render.Together(wide, other, a.scene.AdaptCdM2); err != nil || window == nil {
		return wide, window, err
	}
	window, err = render.Together(window, part, a.scene.AdaptCdM2)
	return wide, window, err
}

func (st *studio) lookOne(a ask) (wide, window *light.Image, err error) {
	s, err := st.spread(a)
	if err != nil {
		return nil, nil, err
	}
	whole, err := st.theatre(a.scene, a.full)
	if err != nil {
		return nil, nil, err
	}
	t := *whole
	if !a.window {
		t.Window = nil
	}
	p, q, err := t.Look(render.View{Eye: s.state, Gaze: a.gaze}, s.psf)
	return p.Seen, q.Seen, err
}

// referenceAsk asks for the reference view of a question's scene, distance and pupil;
// with a full field it does not matter where the eye looks.
func (st *studio) referenceAsk(a ask) ask {
	a.eye, a.fellow, a.set, a.trial, a.glasses, a.gaze = st.base, nil, cause.Strengths{}, "", cause.Refracted, unit.SightPoint{}
	return a
}

// reference makes the reference view of a question.
func (st *studio) reference(a ask) (reference, error) {
	a = st.referenceAsk(a)
	return st.tones.get(a.name(), func() (r reference, err error) {
		wide, window, err := st.look(a)
		if err != nil {
			return r, err
		}
		if r.tone, err = light.ToneFor(wide, compare.Curve(compare.ByScene, a.scene), a.scene.AdaptCdM2); err != nil {
			return r, err
		}
		r.wide = r.tone.Encode(wide)
		if window != nil {
			r.window = r.tone.Encode(window)
		}
		return r, nil
	})
}

// picture makes the picture of a question, or finds it. It stops between its steps
// when ctx ends.
func (st *studio) picture(ctx context.Context, a ask) (picture, error) {
	return st.pictures.get(a.name(), func() (p picture, err error) {
		ref, err := st.reference(a)
		if err != nil {
			return p, fmt.Errorf("the reference view: %w", err)
		}
		if a.name() == st.referenceAsk(a).name() {
			return encoded(ref.pic(a.window), false)
		}
		if ctx.Err() != nil {
			return p, context.Cause(ctx)
		}
		if _, err = st.spread(a); err != nil {
			return p, err
		}
		if ctx.Err() != nil {
			return p, context.Cause(ctx)
		}
		wide, window, err := st.look(a)
		if err != nil {
			return p, err
		}
		if ctx.Err() != nil {
			return p, context.Cause(ctx)
		}
		return shown(ref, wide, window)
	})
}

// pic is the reference view on the display: its magnified part or the whole.
func (r reference) pic(window bool) *image.NRGBA {
	if window {
		return r.window
	}
	return r.wide
}

// shown takes a view to the display; the window if there is one.
func shown(ref reference, wide, window *light.Image) (picture, error) {
	seen := wide
	if window != nil {
		seen = window
	}
	pic := ref.tone.Encode(seen)
	return encoded(pic, render.Differ(ref.pic(window != nil), pic, seen.StepDeg))
}

func encoded(pic *image.NRGBA, visible bool) (picture, error) {
	var b bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, pic)
	return picture{b.Bytes(), visible}, err
}
