// Package raytrace follows light through the surfaces of an eye, exactly:
// conic and even-asphere surfaces with their own place and tilt, gradient-index
// lenses, and generic lens implants that sit where they should not, in an eye
// built from what was measured of it ([NewPersonalEye]).
//
// Light starts at a point of the retina and leaves the eye (the ANSI sense);
// its wavefront is read in the plane of the entrance pupil, by optical path
// ([System.Wavefront]) or by adding up ray directions
// ([System.WavefrontByDirections]), and given as Zernike terms.
//
// # Conventions
//
// Axes and origin: x to the clinician's right and y up, looking at the
// patient, as in package unit; z runs from the vertex of the cornea into the
// eye, so the three axes are left-handed. Angles in the pupil run counter-
// clockwise from +x as the clinician sees it. A pupil point is measured from
// the centre of the entrance pupil. Index scheme and normalisation: OSA/ANSI
// index, orthonormal, see package zernike; orders 0 to 6 are given, order 8 is
// fitted. Sign: W > 0 where the wavefront leaving the eye is advanced, so
// c(2,0) > 0 is myopia and c(4,0) > 0 means that outer rays focus in front; a
// radius is positive when its centre lies on the side of the retina. A
// positive tilt moves the back of the lens (its posterior pole) towards the
// stated direction. Eye side: none inside; the temple of a right eye lies at
// -x, of a left eye at +x. Internal units: mm, index at one wavelength in nm,
// powers in dioptres, path in µm, angles in degrees (radians and direction
// cosines inside functions). Sampling and centring: 8 circles of 20 rays about
// the centre of the entrance pupil, in its plane, square to the axis (off
// axis: square to the chief ray).
//
// # Limits
//
// The pupil is a circle in the plane of the paraxial entrance pupil, not the
// exact image of the iris. An implant's surfaces are continued beyond its edge;
// [ImplantEye.UncoveredShare] says how much of the pupil looks past it. Diffraction, scatter and reflections are no part of
// this package. Each schematic eye names its source; what the source does not
// give (dispersion, retina) is refused or marked assumed.
package raytrace
