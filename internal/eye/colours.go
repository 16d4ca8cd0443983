package eye

import "simview/internal/unit"

// Colours is what an eye does with light of different wavelengths besides its
// focus. It is asked for only by pictures that show colour.
type Colours struct {
	// PupilOff is where the centre of the pupil lies from the axis of the cornea, mm,
	// clinician's axes.
	PupilOff unit.PupilPoint
	// Lens returns how far from its place, in degrees as the patient sees, light of a
	// wavelength in nm is seen because the lens is displaced; nil: nowhere else.
	Lens func(nm unit.NM) (unit.SightPoint, error)
	// Natural says that the eye has the lens it was born with.
	Natural bool
}
