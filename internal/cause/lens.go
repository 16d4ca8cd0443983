package cause

import (
	"math"
	"sync"

	"simview/internal/casefile"
	"simview/internal/eye"
	"simview/internal/raytrace"
	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// lensModel traces a displaced implant through an eye that has what was measured
// of this one and is usual in the rest, solved centred.
type lensModel struct {
	eye     raytrace.ImplantEye
	at      raytrace.DisplacedLens
	pupilMM float64
	centred zernike.Terms
	share   refraction.PowerVector // of the refraction, at strength 1
	taken   []raytrace.Taken       // what the eye rests on

	mu     sync.Mutex
	kept   *eye.Past // what passes beside the lens at keptAt; only read
	keptAt raytrace.DisplacedLens
}

// tracePupilMM is the pupil over which a displacement is traced when no wider
// one is asked for; terms are evaluated in mm at any smaller pupil.
const tracePupilMM = 6.0

// resolveLens builds the model of a displaced implant and its share of the
// refraction, which is measured through the bright pupil.
func (e *Eye) resolveLens() error {
	m := e.Data.Implant
	if !displaced(m) {
		return nil
	}
	at := raytrace.DisplacedLens{
		Decentration: m.Shift(), Tilt: m.TiltDeg.V, TiltToward: m.ForwardEdgeDeg(), Rotation: m.RotationDeg.V, AxialMM: m.AxialShiftMM.V,
	}
	var err error
	if e.lens, err = e.tracedEye(at, max(tracePupilMM, e.dimMM)); err != nil {
		return e.untraceable(err, 1)
	}
	e.note("displaced lens traced through: %s", takenWords(e.lens.taken))
	e.contradicted()
	e.add(Cause{ID: Lens, Label: "Displaced lens", Amount: displacement(m), From: displacedFrom(m)})
	return nil
}

// agreeMM is how far a measured length may lie from that which lens and refraction
// ask for, mm: some 2.7 D (common practice), more than any of the three is off by.
const agreeMM = 1.0

// contradicted notes a length, a power and a refraction of which one must be wrong.
func (e *Eye) contradicted() {
	b := e.Data.Biometry
	if b == nil || !b.AxialMM.Given() {
		return
	}
	if got, traced := float64(b.AxialMM.V), e.lens.eye.Centred.RetinaZ; math.Abs(got-traced) > agreeMM {
		e.note("length, power of the lens and refraction do not go together: the length is %.2f mm, the other two ask for %.2f mm; check all three", got, traced)
	}
}

// displacedFrom is the weakest origin among what is displaced.
func displacedFrom(m *casefile.Implant) unit.Origin {
	return max(m.DecentrationMM.From, m.TiltDeg.From, m.RotationDeg.From, m.AxialShiftMM.From)
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
	return eye.Part{By: string(Lens), Plane: eye.Lens, From: eye.Traced, PathUM: t.PathUM}, err
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
