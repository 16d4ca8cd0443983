// Package light holds light as simview computes with it: pictures in linear
// light on a grid of angles, the wide-angle straylight of the eye, the spectra
// of the display primaries, the pupil, and the last step to display values.
//
// # Conventions
//
// Axes and origin: as the patient sees, x to the right and y up, degrees from
// the centre of the scene; the rows of a [Grid] run down. A direction (x, y)
// lies hypot(x, y) degrees of arc from the centre (azimuthal equidistant), and
// angles between a lamp and a pixel are great-circle angles.
//
// Index scheme and normalisation: planes are row-major [y][x], row 0 at the
// top. A [Kernel] is in 1/sr and is not normalised to one: its integral over
// the hemisphere is the share of light that it takes out of the core.
//
// Sign: light is never negative; a share is between 0 and 1.
//
// Eye side: none; a glare kernel is round and the same in both eyes.
//
// Internal units: cd/m² of linear sRGB primaries (grey of luminance L has
// R = G = B = L), lux at the eye for lamps, degrees, mm, nm, trolands.
//
// Sampling and centring: a pixel stands for the mean over its square, its
// centre half a step inside the edge; resampling is Catmull-Rom in angle.
package light
