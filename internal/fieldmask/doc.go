// Package fieldmask reads visual field tests, draws the loss between the tested
// places, and takes away from a picture what the damaged nerve no longer
// detects.
//
// The loss at a place is what all measurements together make likely
// ([Surface]): a normal distribution over the field, its covariance learned from
// real fields at the places of 24-2 and continued between them, given the
// measurements with their retest noise. It has a spread ([Surface.SD],
// [Surface.Interval], [Surface.Draw]), can be carried on in time
// ([Surface.After]) and combined for two eyes ([Both]).
//
// What is taken away is contrast, octave band by octave band; the mean light is
// kept, so nothing turns black. Few people with glaucoma describe black; most say
// blurred, faded, missing, or notice nothing. The gains are decided from local
// contrast in linear light against the adaptation luminance, and applied to
// bands of light compressed as the receptors compress it. Everything holds for
// one direction of gaze: look elsewhere and other detail is lost.
//
// What is more than two and a half times brighter than is typical around is a lamp:
// the part above is kept or dimmed as a whole, by the band that shows it best,
// and never spread, since bands would draw rings round it. The mean light over
// some degrees is kept in damaged places, and nothing leaves the range of the
// scene within two degrees. Detail above 16 cycles per degree is judged with
// that band.
//
// Assumptions that stand behind every picture: a loss of 1 dB multiplies the
// contrast threshold by 10^(1/10) from 0.75 cycles per degree up, and half as
// many dB act at 0.125; what was never tested is taken as unharmed beyond 3 to 6
// degrees of the tested area; the age norm is that of [NormalSource]; the depth
// of a loss below [UncertainDB] of sensitivity is at least what is drawn. Of
// the models of contrast sensitivity only csf.Barten knows dim light. Ways to
// draw a loss other than the usual ([Appearance]) carry their evidence.
//
// # Conventions
//
// Axes and origin: the patient's view, right +, up +, degrees; fields are
// relative to fixation, pictures to straight ahead, and a place of the field
// lies in the picture at gaze + place. Index scheme and normalisation: rows run
// down, row 0 at the top; bands are indexed by their centre in cycles per
// degree, never by pixels. Sign: loss is positive dB, total deviation negative
// where the field is worse. Eye side: temporal is +x for a right eye and -x for
// a left one; a file names its eye and its way of writing x. Internal units:
// degrees, cd/m², perimetric dB (10 log10). Sampling and centring: pixel centres
// as in package light; the surface has a node at fixation and every 0.25
// degrees.
package fieldmask
