package raytrace

import (
	"fmt"
	"math"

	"simview/internal/unit"
	"simview/internal/zernike"
)

// widestField is the largest field angle that is traced, degrees.
const widestField = 70

// OffAxis is the refraction of the eye for an object off the axis, referred to
// the entrance pupil.
type OffAxis struct {
	// TangentialD is the refraction in the plane that holds the axis, SagittalD
	// square to it (D, myopia < 0). ObliqueD is the part of the astigmatism at 45
	// degrees to both, 0 in a centred eye: M = (t+s)/2, J0 = (t-s)/2, J45.
	TangentialD, SagittalD, ObliqueD float64
	// Retina is where the chief ray meets the retina.
	Retina Vec
}

// OffAxis returns the refraction at a field angle along x (object side, from
// the axis at the entrance pupil; positive: an object at the clinician's
// right). The chief ray goes through the centre of the stop. It needs a
// prescription with a retina; pictures stay isoplanatic.
//
//	Rx_t = dl/dx,  Rx_s = dm/dy,  J45 = (dl/dy + dm/dx) / 2
//
// with directions and places in the plane square to the chief ray.
func (s *System) OffAxis(field unit.Degrees) (OffAxis, error) {
	b, err := s.offAxisBeam(field)
	if err != nil {
		return OffAxis{}, err
	}
	const stepMM = 0.01 // narrow bundle: its curvature changes by 1e-5 D over it
	var h [4]hit
	for i, p := range [4][2]float64{{-stepMM, 0}, {stepMM, 0}, {0, -stepMM}, {0, stepMM}} {
		if h[i], err = b.aim(p[0], p[1], 1e-11); err != nil {
			return OffAxis{}, err
		}
	}
	dx, dy := h[1].x-h[0].x, h[3].y-h[2].y
	return OffAxis{
		TangentialD: 1000 * (h[1].l - h[0].l) / dx,
		SagittalD:   1000 * (h[3].m - h[2].m) / dy,
		ObliqueD:    500 * ((h[3].l-h[2].l)/dy + (h[1].m-h[0].m)/dx),
		Retina:      b.from,
	}, nil
}

// UsualRetinaMM is the radius of the retina that is assumed where none is known:
// Escudero-Sanz and Navarro 1999.
const UsualRetinaMM = 12

// OffAxis is [System.OffAxis] of the eye with its lens displaced, on a retina of
// [UsualRetinaMM].
func (e ImplantEye) OffAxis(d DisplacedLens, field unit.Degrees) (OffAxis, error) {
	s, err := e.At(d)
	if err != nil {
		return OffAxis{}, err
	}
	s.RetinaRadiusMM = -UsualRetinaMM
	return s.OffAxis(field)
}

// WavefrontOffAxis returns the terms for an object at a field angle along x, over
// a round pupil of the diameter square to the chief ray (line of sight).
func (s *System) WavefrontOffAxis(field unit.Degrees, pupilMM float64) (zernike.Terms, error) {
	if err := checkPupil(pupilMM); err != nil {
		return zernike.Terms{}, err
	}
	b, err := s.offAxisBeam(field)
	if err != nil {
		return zernike.Terms{}, err
	}
	return b.terms(pupilMM / 2)
}

// offAxisBeam returns the light that leaves along the field angle.
func (s *System) offAxisBeam(field unit.Degrees) (*beam, error) {
	if !(math.Abs(float64(field)) <= widestField) {
		return nil, fmt.Errorf("%s: field angle must be within ±%d degrees (got %g)", s.Name, widestField, float64(field))
	}
	if s.RetinaRadiusMM == 0 {
		return nil, fmt.Errorf("%s: the prescription gives no retina, so off-axis focus is undefined; set RetinaRadiusMM", s.Name)
	}
	out, err := s.chiefOutside(field)
	if err != nil {
		return nil, err
	}
	inside, err := s.TraceIn(Ray{P: out.ToPlane(-startMM, 1).P, D: out.D.Mul(-1)})
	if err != nil {
		return nil, err
	}
	at, err := s.onRetina(inside)
	if err != nil {
		return nil, err
	}
	z, _ := s.entrancePupil()
	b := &beam{sys: s, from: at, plane: Frame{out.ToPlane(z, 1).P, facing(out.D)}}
	b.chief = [2]float64{-inside.D.X / inside.D.Z, -inside.D.Y / inside.D.Z}
	return b, b.settle()
}

// chiefOutside finds the ray from the centre of the stop that leaves at the
// field angle, with the part of the system in front of the stop.
func (s *System) chiefOutside(field unit.Degrees) (Ray, error) {
	front := System{Name: s.Name, Surfaces: s.Surfaces[:s.StopAfter], Media: s.Media[:s.StopAfter+1]}
	centre := Vec{float64(s.PupilCentre.X), float64(s.PupilCentre.Y), 0}
	_, perStop := s.entrancePupil()
	start := centre.Mul(1 / perStop).Add(Vec{0, 0, s.StopZ})
	var out Ray
	leaves := func(inside float64) (float64, error) {
		sin, cos := math.Sincos(inside)
		var err error
		out, err = front.TraceOut(Ray{P: start, D: Vec{sin, 0, -cos}})
		return math.Atan2(out.D.X, -out.D.Z) - field.Radians(), err
	}
	guess := field.Radians() * .85
	_, err := secant(guess, guess+.01, 1e-12, leaves)
	return out, err
}

// onRetina carries a ray in the vitreous to the retina.
func (s *System) onRetina(r Ray) (Vec, error) {
	retina := Surface{Name: s.Name + ": retina", At: frameAt(s.RetinaZ), RadiusMM: s.RetinaRadiusMM}
	t, _, err := retina.meet(retina.At.in(r.P), r.D)
	return r.P.Add(r.D.Mul(t)), err
}

// facing returns axes whose -z is the direction d of a ray that leaves the eye
// in the x-z plane or near it, and whose x stays as near to x as it can.
func facing(d Vec) mat3 {
	z := d.Mul(-1)
	x := Vec{1, 0, 0}
	x = x.Sub(z.Mul(x.Dot(z))).Unit()
	// z × x: y itself when nothing is turned.
	y := Vec{z.Y*x.Z - z.Z*x.Y, z.Z*x.X - z.X*x.Z, z.X*x.Y - z.Y*x.X}
	return mat3{x, y, z}
}
