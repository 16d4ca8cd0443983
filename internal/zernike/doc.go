// Package zernike describes a wavefront over a round pupil as a sum of
// orthonormal Zernike terms, and changes the pupil under it: smaller, turned,
// moved or mirrored, all exactly.
//
//	W(x, y) = Σ_j c_j Z_j(x/r, y/r)
//	Z_n^m   = N R_n^|m|(ρ) cos(mθ) for m >= 0, N R_n^|m|(ρ) sin(|m|θ) for m < 0
//	N       = √((2 - δ_m0)(n + 1))
//	j       = (n(n+2) + m) / 2
//
// Sources: ANSI Z80.28 and ISO 24157 (terms, index, axes); Thibos, Applegate,
// Schwiegerling and Webb, J Refract Surg 2002;18:S652.
//
// # Conventions
//
// Axes and origin: clinician's axes, x to the clinician's right and y up,
// looking at the patient, the same for both eyes; origin at the centre of the
// pupil; θ counter-clockwise from +x as the clinician sees it. Index scheme and
// normalisation: OSA/ANSI single index j from 0, orthonormal, so that the root
// mean square of the wavefront is √(Σ c²) without piston; Noll and Fringe
// coefficients are converted on entry. Sign: W > 0 where the wavefront leaving
// the eye is advanced, so c(2,0) > 0 is myopia and c(4,0) > 0 positive
// spherical aberration. Eye side: none inside; +x is nasal in a right eye and
// temporal in a left one, and [Terms.Mirror] takes one to the other. Internal
// units: coefficients and paths in µm, pupil radius and points in mm,
// wavelength in nm, angles in degrees. Sampling and centring: a wavefront is
// evaluated at single points; outside the pupil the same polynomial goes on,
// and it is for the caller to decide whether that is wanted.
package zernike
