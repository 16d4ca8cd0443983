// Package explain tells the story of one eye in numbers: what the model expects
// it to read, what of its trouble the case does not explain, what would change if
// only one cause were put right, how much of the whole is which, what trials would
// leave, which quick test tells two causes apart, whether measured and predicted
// fit together, and how sure all of that is.
//
// Every number comes from the eye states that the pictures are made of. For a set S
// of causes the eye wears glasses that suit that set, and the error its own glasses
// leave over goes with the cause it belongs to:
//
//	P(S) = G(S) + [lens in S] L + [cylinder in S] E
//
// G(S) the error that suits the wavefront of S best, L the displaced lens's share
// of what the glasses leave over, E the rest of it. So P of no cause is the
// reference eye of a sheet, and P of all causes its panel of all together.
//
// Point values come from the whole simulation. Intervals come from a fast
// surrogate that is offset to them: the visual Strehl ratio of each state, turned
// into each number by a parabola through this eye's own simulated states, at
// two more values of each input.
//
// # Conventions
//
// Axes and origin: those of package eye. Index scheme and normalisation: cause i of
// a set is bit i, in the order of sheets. Sign: a change is what is wrong less
// what is left, so that above 0 is harm for every number: logMAR and points of the
// scene lost grow with harm, and log contrast sensitivity counts as lost. Eye
// side: one eye is explained at a time. Internal units: logMAR, log10 of contrast
// sensitivity, percent of a scene, mm, dB. Sampling and centring: the PSF of the
// pictures for point values, the coarse pupil of package quality for intervals.
package explain
