// Package refraction turns sphere, cylinder and axis into power vectors and
// wavefronts and back.
//
//	M = S + C/2,  J0 = -(C/2) cos 2α,  J45 = -(C/2) sin 2α
//	C = -2 √(J0² + J45²),  S = M - C/2,  α = ½ atan2(J45, J0)
//	W(x, y) = -½ [M (x²+y²) + J0 (x²-y²) + 2 J45 x y]
//
// Sources: Thibos, Wheeler and Horner, Optom Vis Sci 1997;74:367 (power
// vectors, from memory); Thibos, Hong, Bradley and Applegate, J Vis 2004;4:329
// (power vectors from Zernike terms, from memory).
//
// # Conventions
//
// Axes and origin: clinician's axes, x to the clinician's right and y up,
// looking at the patient; origin at the centre of the pupil. A cylinder axis is
// counted from +x counter-clockwise, 0 to 180 degrees, the same in both eyes;
// it is written 1 to 180. Index scheme and normalisation: Zernike terms as in
// package zernike. Sign: a power is the refraction, the lens that would put the
// eye right, so a short-sighted eye has M < 0 and its wavefront leaving the eye
// is advanced at the edge of the pupil. Cylinders are read in plus or minus
// form and written in minus form. Eye side: none inside; [PowerVector.Mirror]
// goes from one eye to the other. Internal units: powers in dioptres (so that
// D mm² is µm), points in mm, vertex distance in mm, axes in degrees. Sampling
// and centring: none.
package refraction
