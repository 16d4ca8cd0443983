// Package cause works out, from a case, the causes of an eye's bad vision, once
// and together, and makes the eye state for any set of them at any strength.
// Trials (glasses, contact lenses, lens put straight and so on) are applied last, in
// the order of the planes that light meets.
//
// The three eyes: the reference eye has every cause at strength 0, the fellow
// eye is the case's other eye with its own causes; the ideal eye is for tests.
//
// # Conventions
//
// Axes and origin: pupil places in mm in the clinician's axes. Index scheme and
// normalisation: OSA/ANSI terms in µm. Sign: a refraction is what the eye
// needs, so negative M is myopia; the lens's share of it is taken out once, at
// strength 1. Eye side: causes know their side through the case. Internal
// units: mm, degrees, D, µm, dB. Strength: k in [0, 3] scales the clinical
// quantity and the model is run again. Sampling and centring: wavefront parts
// are functions of a place; nothing is sampled here but for refracting.
package cause
