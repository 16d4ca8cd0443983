// Package quality puts numbers on an eye state: the visual Strehl ratio, the
// best spectacle correction by it, and the wavefront's RMS.
//
// # Conventions
//
// Axes and origin: the pupil is sampled in the clinician's axes about its
// centre; numbers here do not depend on mirroring. Index scheme and
// normalisation: paths in µm, OTF(0) = 1. Sign: a power vector is the eye's
// error, negative M is myopia, and adds the path of package refraction. Eye
// side: none. Internal units: mm, µm, nm, dioptres, cycles per degree. Sampling
// and centring: the coarse pupil of 96 samples is for comparing corrections,
// never for a picture.
package quality
