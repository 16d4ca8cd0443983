// Package csf says how much contrast an eye needs: a published contrast
// sensitivity function for the fovea, the mean optics it was measured through,
// the neural threshold that is left when those optics are taken out, its rise
// away from the fovea, and how a loss in the visual field raises it.
//
// Everything here is a pure function of spatial frequency (cycles per degree),
// eccentricity (degrees), pupil (mm) and loss (perimetric dB). The threshold is
// the contrast of a patch of grating one octave wide that is just seen; it does
// not depend on the pupil of the scene.
//
// # Conventions
//
// Axes and origin: eccentricity is the distance from fixation in degrees,
// never negative; direction in the field plays no part. Index scheme and
// normalisation: contrast is the amplitude of a grating over its mean
// (Michelson), 0 to 1; sensitivity is one over it. Sign: a loss in dB is
// positive where the eye is worse. Eye side: none, both eyes alike. Internal
// units: cycles per degree, degrees, mm, perimetric dB (10 log10). Sampling and
// centring: none, all functions are continuous.
package csf
