package cause

import (
	"fmt"

	"simview/internal/eye"
	"simview/internal/raytrace"
	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// lensModel traces a displaced implant through an eye whose cornea is the usual
// one and whose lens has the case's spherical aberration, solved centred.
type lensModel struct {
	eye     raytrace.ImplantEye
	at      raytrace.DisplacedLens
	pupilMM float64
	centred zernike.Terms
	share   refraction.PowerVector // of the refraction, at strength 1
}

// tracePupilMM is the pupil over which a displacement is traced when no wider
// one is asked for; terms are evaluated in mm at any smaller pupil.
const tracePupilMM = 6.0

// resolveLens builds the model of a displaced implant and its share of the
// refraction, which is measured through the bright pupil.
func (e *Eye) resolveLens() error {
	m := e.Data.Implant
	if m == nil || (m.DecentrationMM.V == 0 && m.TiltDeg.V == 0) {
		return nil
	}
	lens := &lensModel{pupilMM: max(tracePupilMM, e.dimMM), at: raytrace.DisplacedLens{
		Decentration: m.Shift(), Tilt: m.TiltDeg.V, TiltToward: m.ForwardEdgeDeg(), Rotation: m.RotationDeg.V,
	}}
	sa := raytrace.SphericalAberration{Kind: raytrace.SACancels, AmountUM: -float64(m.SphericalAberrationUM.V)}
	var err error
	if lens.eye, err = raytrace.NewImplantEye(raytrace.BenchSpec(sa)); err != nil {
		return fmt.Errorf("implant: %w", err)
	}
	if lens.centred, err = lens.eye.Wavefront(raytrace.DisplacedLens{}, lens.pupilMM); err != nil {
		return fmt.Errorf("implant: %w", err)
	}
	if lens.share, err = lens.shareAt(e.brightMM); err != nil {
		return fmt.Errorf("implant: %w", err)
	}
	e.lens = lens
	e.note("displaced lens traced in an eye with a cornea of 7.575 mm and a lens of 22 D (typical, not this eye's)")
	e.add(Cause{ID: Lens, Label: "Displaced lens", Amount: displacement(m.DecentrationMM.V, m.Direction, m.DirectionDeg.V, m.TiltDeg.V), From: m.DecentrationMM.From})
	return nil
}

func displacement(mm unit.MM, words string, direction, tilt unit.Degrees) string {
	if words == "" {
		words = fmt.Sprintf("towards %.0f degrees", float64(direction))
	}
	return fmt.Sprintf("implant %.1f mm %s, tilted %.0f degrees", float64(mm), words, float64(tilt))
}

// terms traces k times the displacement and returns what it adds to the centred
// eye: orders 2 and up, µm, over the traced pupil.
func (l *lensModel) terms(k float64) (zernike.Terms, error) {
	w, err := l.eye.Wavefront(l.at.Times(k), l.pupilMM)
	if err != nil {
		return w, err
	}
	d, err := w.Sub(l.centred)
	if err != nil {
		return d, err
	}
	return d.Keep(2, d.Order()), nil
}

func (l *lensModel) part(k float64) (eye.Part, error) {
	t, err := l.terms(k)
	return eye.Part{By: string(Lens), Plane: eye.Lens, PathUM: t.PathUM}, err
}

// shareAt is the part of the refraction that the displacement makes at strength
// 1 over a pupil, by RMS fit.
func (l *lensModel) shareAt(pupilMM float64) (refraction.PowerVector, error) {
	t, err := l.terms(1)
	if err != nil {
		return refraction.PowerVector{}, err
	}
	if t, err = t.Scale(pupilMM / 2); err != nil {
		return refraction.PowerVector{}, err
	}
	return refraction.FromTermsRMS(t)
}
