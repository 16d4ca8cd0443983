// Package scene holds pieces of world in physical units: what is drawn in them,
// how bright it is, how far it is away, and which lamps burn in it.
//
// A scene is a YAML file of shapes, not a raster: it can be drawn at any size,
// on any [light.Grid], also beyond the frame of its picture. Every pixel is the
// mean over its area, taken in linear light. A user's own photograph becomes a
// scene of the same type through [FromPhoto].
//
// What is simplified: shapes outside a plane group (a page, a chart) are drawn
// straight in angle, as on a sphere about the eye; texture on level ground
// leaves out the curvature of the picture (2 % at 15 degrees) and grain too fine
// for a pixel; where two edges cross inside one pixel their shares are taken as
// independent; a lamp shines through whatever stands before it, so a scene's
// author places it where it can be seen.
//
// # Conventions
//
// Axes and origin: degrees as the patient sees, right +, up +, origin at the
// scene's centre. Pictures are equidistant in angle about that centre: a point
// at angle theta from straight ahead lies theta degrees from the centre, in its
// own direction. Inside a plane group, coordinates are metres on that plane; the
// plane itself is placed in metres from the eye (right, up, ahead). Index scheme
// and normalisation: a grey surface of luminance L has R = G = B = L; a tint
// is scaled so that its luminance is the stated one. Sign: heights and the y of
// text run up; rows of a picture run down. Eye side: none, a scene knows no eye.
// Internal units: degrees, cd/m², lux at the eye, metres; letter sizes in logMAR
// (height 5 x 10^logMAR minutes of arc). Sampling and centring: a pixel holds the
// mean light over its square, so averaging a fine drawing gives the coarse one.
// Lamps are never part of the raster.
package scene
