// Package casefile reads a case: the file in which a clinician writes down what
// is known about one person's eyes.
//
// [Load] reads a file, [Demo] the case that is built in, [Parse] bytes in hand.
// Each returns the checked case and notices, or an error that lists everything
// that is wrong, each with its line, what was expected and a hint. Nothing is
// guessed or clamped: a value that is missing stays missing (From is
// [unit.Missing]) and the rooms above decide what to assume, aloud.
//
// # Conventions
//
// Axes and origin: pupil places and directions are in the clinician's axes (x
// to the clinician's right, y up, looking at the patient, origin at the centre
// of the entrance pupil; degrees counter-clockwise from the clinician's right).
// "In" is towards the nose and "out" towards the temple, whichever eye it is.
// A field is written the way its x_is says and comes out as the patient sees it
// (FieldData.Field); Points keep what was written. Index scheme and
// normalisation: wavefront terms are orthonormal and come out as OSA (n, m),
// whatever scheme the file names. Sign: a wavefront term is positive where the
// wavefront leaving the eye is advanced; a loss in a total deviation is
// negative. Eye side: every eye and every field names its own. Internal units:
// mm, µm, nm, dioptres, degrees, dB; the unit is part of each key. Sampling and
// centring: none here.
package casefile
