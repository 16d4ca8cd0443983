package raytrace

import (
	"math"

	"simview/internal/unit"
	"simview/internal/zernike"
)

// Covered reports whether light from straight ahead that enters the pupil at the
// point (mm from the centre of the entrance pupil) meets the displaced optic
// within its edge. Where no optic diameter is stated it is always true.
func (e ImplantEye) Covered(d DisplacedLens, p unit.PupilPoint) (bool, error) {
	s, err := e.At(d)
	if err != nil {
		return false, err
	}
	return e.covered(&s, p), nil
}

// covered traces one ray to the plane of the optic's edge, taken through the
// lens's centre and turned with it.
func (e *ImplantEye) covered(s *System, p unit.PupilPoint) bool {
	edge := e.Spec.Lens.OpticMM / 2
	if edge == 0 {
		return true
	}
	z, _ := s.entrancePupil()
	start := Vec{float64(s.PupilCentre.X + p.X), float64(s.PupilCentre.Y + p.Y), z}
	r := Ray{P: start, D: Vec{0, 0, 1}}.ToPlane(-startMM, 1)
	r, err := s.run(r, 0, e.lensFirst, 1, nil)
	if err != nil {
		return false
	}
	at := s.Surfaces[e.lensFirst].At
	q, dir := at.in(r.P), at.r.undo(r.D)
	t := (e.Spec.Lens.ThicknessMM/2 - q.Z) / dir.Z
	return math.Hypot(q.X+t*dir.X, q.Y+t*dir.Y) <= edge
}

// UncoveredShare returns the share of the pupil's area (0 to 1) through which
// light passes beside the displaced optic: above 0 is worth a warning, and that
// light has the wavefront of [ImplantEye.WavefrontPastLens].
func (e ImplantEye) UncoveredShare(d DisplacedLens, pupilMM float64) (float64, error) {
	s, err := e.At(d)
	if err != nil {
		return 0, err
	}
	if err := checkPupil(pupilMM); err != nil {
		return 0, err
	}
	const rings, spokes = 40, 120 // equal areas: the share is good to about 0.002
	bare := 0
	for i := range rings {
		rho := pupilMM / 2 * math.Sqrt((float64(i)+.5)/rings)
		for k := range spokes {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + .5) / spokes)
			if !e.covered(&s, unit.PupilPoint{X: unit.MM(rho * cos), Y: unit.MM(rho * sin)}) {
				bare++
			}
		}
	}
	return float64(bare) / (rings * spokes), nil
}

// WavefrontPastLens returns the terms (µm) of light that passes beside the optic:
// the eye without a lens, the retina where it is.
func (e ImplantEye) WavefrontPastLens(pupilMM float64) (zernike.Terms, error) {
	s := e.cornea()
	s.RetinaZ = e.Centred.RetinaZ
	return s.Wavefront(s.OnAxis(), pupilMM)
}
