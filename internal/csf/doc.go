// Package csf says how much contrast an eye needs: published models of contrast
// sensitivity ([Models]), the optics that one of them was measured through, the
// neural threshold that is left when optics are taken out, its rise away from the
// fovea, and how a loss in the visual field raises it.
//
// Everything here is a pure function of spatial frequency (cycles per degree),
// eccentricity (degrees), retinal illuminance (trolands) and loss (perimetric
// dB). The threshold is the contrast of a patch of grating one octave wide that is
// just seen. The pupil of the scene plays a part through the trolands only, and
// only in [Barten]; [WatsonAhumada] knows one light.
//
// # Conventions
//
// Axes and origin: eccentricity is the distance from fixation in degrees,
// never negative; direction in the field plays no part. Index scheme and
// normalisation: contrast is the amplitude of a grating over its mean
// (Michelson), 0 to 1; sensitivity is one over it. Sign: a loss in dB is
// positive where the eye is worse. Eye side: none, both eyes alike. Internal
// units: cycles per degree, degrees, mm, trolands, perimetric dB (10 log10). Sampling and
// centring: none, all functions are continuous.
package csf
