// Package inspect lists the numbers of an eye state as the pictures use them:
// coefficients by cause and in all, RMS, power vectors, Strehl ratio, MTF and
// the field in words.
//
// # Conventions
//
// Axes and origin: coefficients in the clinician's axes, MTF directions in the
// patient's. Index scheme and normalisation: OSA/ANSI, orthonormal, µm. Sign:
// negative M is myopia. Eye side: named in every row. Internal units: mm, µm,
// nm, dioptres, cycles per degree. Sampling and centring: terms are fitted
// over the stated pupil; the PSF is that of the pictures.
package inspect
