// Package eye holds the state of one eye in one view: everything a picture or
// a number needs and nothing else. Optics and field do not know each other;
// they meet here.
//
// # Conventions
//
// Axes and origin: wavefront parts are in the clinician's axes, origin at the
// centre of the entrance pupil; the field is in the patient's axes. Index
// scheme and normalisation: as package zernike. Sign: W > 0 is advanced leaving
// the eye, so a myopic eye has a path that grows to the pupil's edge. Eye side:
// one state is one side; mirroring happens once, in package psf. Internal
// units: mm in the pupil, µm of path, dioptres, degrees. Sampling and
// centring: parts are functions of a place in mm and are summed only when the
// pupil is sampled.
package eye
