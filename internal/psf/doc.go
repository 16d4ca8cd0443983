// Package psf works out how the light of one point spreads over the retina of
// an eye: from the aperture (path and amplitude at each point of the pupil) to
// the point spread function, its transfer function and what is read off them.
//
// With A the amplitude, W the path, x and u vectors in the pupil and in angle,
//
//	P(u) = | integral of A(x) exp(i 2 pi W(x) / lambda) exp(-i 2 pi u.x / lambda) dx |²
//
// summed over the wavelengths of the light, each with its own focus.
//
// # Conventions
//
// Axes and origin: an [Aperture] is in the clinician's axes (x to the
// clinician's right, y up, mm from the pupil's centre); a [PSF] and an [OTF] are
// in the patient's axes (right +, up +), as the patient sees the point of light,
// the origin straight ahead. The change from one to the other, left for right,
// is made once, here. Index scheme and normalisation: [y][x] with row 0 at the
// top; samples add to 1, so OTF(0, 0) = 1. Sign: W > 0 where the wavefront
// leaving the eye is advanced; light that enters at (x, y) is seen at
// (-dW/dx, +dW/dy); a pupil off to the clinician's right and up shows red to the
// patient's right and down. Eye side: none, both eyes alike. Internal units: pupil
// mm, path µm, wavelength nm, angles degrees, frequencies cycles per degree.
// Sampling and centring: one angular step for all wavelengths, at most lambda/(2 D)
// of the shortest; the origin is the centre of sample (N/2, N/2).
package psf
