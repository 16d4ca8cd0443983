// Package plot draws the optics of an eye: a section with its displaced lens and
// the rays through it, the wavefront over the pupil as a map, the light of one
// point as it spreads, and a page that holds them; diagrams; and maps of a visual
// field ([FieldPage]), which are as the patient sees it.
//
// # Conventions
//
// Axes and origin: a [Section] lies in a meridian of the eye, h mm along it and
// z mm from the vertex of the cornea; on paper light comes from the left, z runs
// to the right and h up. The meridian is an angle counter-clockwise from the
// clinician's right, in (0, 180], so that up on paper is up, and in a level
// section it is the patient's right: an eye seen from above. A map is as the
// clinician sees the pupil (x to the right, y up, origin at the centre of the
// entrance pupil), a spread and its spots as the patient sees them (right +, up +, straight ahead
// in the middle). Index scheme and normalisation: none of its own; a map has its
// mean over the pupil taken out, a spread is drawn relative to its own brightest
// sample. Sign: path > 0 is advanced leaving the eye and is drawn warm, < 0 cold,
// 0 without colour. Eye side: the temple of a right eye lies at -x, of a left eye
// at +x; it decides the words at the rim and nothing else. Internal units: mm,
// µm of path, minutes of arc, degrees; pixels inside functions only. Sampling and
// centring: a pixel stands for its centre; pictures are made at the size they are
// shown.
//
// # Limits
//
// The section is that of the traced eye, usual in what was not measured. A lens displaced out of the
// plane, and its rays, are laid onto the plane. The coat of the eye and the iris
// are drawn for orientation and are not traced.
package plot
