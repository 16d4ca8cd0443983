// Package quality puts numbers on an eye state: the visual Strehl ratio in space
// and in frequency, the best spectacle correction by it, the wavefront's RMS by order,
// and of a spread and its transfer function the circle of half the light, the area
// under the transfer above the nerve's threshold, and the area under the log of
// contrast sensitivity.
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
