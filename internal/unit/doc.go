// Package unit holds the quantities of simview as types, so that a millimetre
// cannot be passed where a degree is meant.
//
// # Conventions
//
// Axes and origin: a [PupilPoint] is in the clinician's axes (x to the
// clinician's right, y up, looking at the patient, origin at the centre of the
// entrance pupil); a [SightPoint] is in the patient's axes (right +, up +,
// degrees from straight ahead). Index scheme and normalisation: none here, see
// package zernike. Sign: a path in [UM] is positive where the wavefront leaving
// the eye is advanced. Eye side: [Right] is the patient's right eye. Internal
// units: pupil coordinates in mm, paths in µm, wavelengths in nm, angles in
// degrees, luminance in cd/m², illuminance at the eye in lux; conversion only
// where data enters or leaves. Sampling and centring: none here, see package
// light.
package unit
