package raytrace

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// DisplacedLens says how an implant sits. The zero value is a lens in its place.
// It moves as a rigid body: turned about its own axis, tilted about its centre
// (on its axis, midway between the vertices), then shifted.
type DisplacedLens struct {
	// Decentration of the lens's centre from the eye's axis, mm.
	Decentration unit.PupilPoint
	// Tilt in degrees: the back of the lens (its posterior pole) moves towards
	// TiltToward, the front away from it.
	Tilt unit.Degrees
	// TiltToward is a direction counter-clockwise from the clinician's right
	// (90 = up); the axis turned about is square to it.
	TiltToward unit.Degrees
	// Rotation about the lens's own axis, degrees counter-clockwise as the
	// clinician sees it; it matters for a toric lens only.
	Rotation unit.Degrees
	// AxialMM is the shift towards the retina, mm.
	AxialMM unit.MM
}

// Times returns the displacement k times as strong, direction kept.
func (d DisplacedLens) Times(k float64) DisplacedLens {
	d.Decentration.X *= unit.MM(k)
	d.Decentration.Y *= unit.MM(k)
	d.Tilt *= unit.Degrees(k)
	d.Rotation *= unit.Degrees(k)
	d.AxialMM *= unit.MM(k)
	return d
}

// Mirrored returns the displacement seen in a mirror that swaps left and right.
func (d DisplacedLens) Mirrored() DisplacedLens {
	d.Decentration.X = -d.Decentration.X
	d.TiltToward = 180 - d.TiltToward
	d.Rotation = -d.Rotation
	return d
}

// largestTilt is the largest tilt that is traced, degrees: beyond it a lens has
// fallen over rather than tilted.
const largestTilt = 45

// check refuses displacements that are no numbers or no tilt.
func (d DisplacedLens) check() error {
	sum := float64(d.Decentration.X+d.Decentration.Y+d.AxialMM) + float64(d.Tilt+d.TiltToward+d.Rotation)
	if math.IsNaN(sum) || math.IsInf(sum, 0) {
		return fmt.Errorf("displaced lens: decentration, tilt, rotation and axial shift must be finite numbers")
	}
	if math.Abs(float64(d.Tilt)) > largestTilt {
		return fmt.Errorf("displaced lens: tilt must be within ±%d degrees (got %g)", largestTilt, float64(d.Tilt))
	}
	return nil
}

// Moved returns the system with the element that runs from surface first to
// surface last, and what lies between them, displaced as one body.
func (s System) Moved(first, last int, d DisplacedLens) (System, error) {
	if !(first >= 0 && first < last && last < len(s.Surfaces)) {
		return s, fmt.Errorf("%s: an element needs a first and a later last surface among %d (got %d and %d)", s.Name, len(s.Surfaces), first, last)
	}
	if err := d.check(); err != nil {
		return s, err
	}
	if err := s.roomFor(first, last, float64(d.AxialMM)); err != nil {
		return s, err
	}
	m := d.motion(s.Surfaces[first].At.O.Z, s.Surfaces[last].At.O.Z)
	s.Surfaces = append([]Surface(nil), s.Surfaces...)
	s.Media = append([]Medium(nil), s.Media...)
	for i := first; i <= last; i++ {
		s.Surfaces[i].At = s.Surfaces[i].At.moved(m)
		if i < last {
			s.Media[i+1] = s.Media[i+1].moved(m)
		}
	}
	return s, nil
}

// roomFor refuses an axial shift that takes the element past its neighbours.
func (s *System) roomFor(first, last int, axialMM float64) error {
	front, back := s.Surfaces[first].At.O.Z+axialMM, s.Surfaces[last].At.O.Z+axialMM
	if first > 0 && front <= s.Surfaces[first-1].At.O.Z || back >= s.RetinaZ {
		return fmt.Errorf("displaced lens: an axial shift of %g mm takes the lens, which belongs %.2f mm behind the front of the cornea, into the cornea or out of the eye", axialMM, s.Surfaces[first].At.O.Z)
	}
	return nil
}

// motion returns the displacement as a rigid motion about the element's centre.
func (d DisplacedLens) motion(frontZ, backZ float64) motion {
	return motion{
		pivot: Vec{0, 0, (frontZ + backZ) / 2},
		shift: Vec{float64(d.Decentration.X), float64(d.Decentration.Y), float64(d.AxialMM)},
		r:     tippedTowards(d.Tilt, d.TiltToward).times(turnedAboutZ(d.Rotation)),
	}
}
