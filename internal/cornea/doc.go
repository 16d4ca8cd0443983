// Package cornea makes the front surface of an irregular cornea: a seeded map
// of heights with a stated strength and grain, the wavefront it causes, what of
// it a Zernike fit takes up, and what a rigid lens leaves of it. It also reads
// measured maps ([ReadMap]): a conic is fitted and traced exactly, what it
// leaves is turned into path by W, terms are taken out of that, and the rest
// stays a map, which starts at the map's own centre. The back of the cornea and
// a tear film that changes after a blink ([Film]) are surfaces of the same kind
// between other media.
//
//	W(x, y) = -(n_behind - n_before) h(x, y)
//
// Source: geometrical optics of one surface; indices as in the textbooks (from
// memory), see the constants.
//
// # Conventions
//
// Axes and origin: clinician's axes in mm, x to the clinician's right and y up,
// looking at the patient, origin at the centre of the entrance pupil. Index
// scheme and normalisation: Zernike terms as in package zernike; the root mean
// square of a map is taken over its zone, about the zone's mean, before any
// fit. Sign: a height is positive towards the observer (tissue added); it
// delays the light that leaves the eye, so its path is negative (on the back of
// the cornea positive, since the denser medium lies before it), and a steeper
// cornea, which falls away towards its edge, is short-sighted. Eye side: none
// inside; which x is the nose side is for the caller to say. Internal units:
// places and grains in mm, heights and paths in µm. Sampling and centring: the
// map is a stored square grid of at least 16 samples per grain, with a sample
// exactly at the centre of the zone, read by bicubic interpolation; outside the
// zone it is 0. The same seed gives the same map.
package cornea
