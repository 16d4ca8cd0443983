// Package render turns an eye state and a scene into pictures, and pictures
// into a sheet.
//
// The nodes, each computed from the ones before it and kept where a knob leaves
// it alone: spectrum of the scene (Stage), OTF (package psf), core image with
// lamps, unit veils, retinal image, seen image, display picture.
//
// # Conventions
//
// Axes and origin: pictures are as the patient sees, right + and up +, degrees
// from the scene's centre; image rows run down. Index scheme and normalisation:
// light is linear, in cd/m² of the scene, until the tone curve. Sign: a lamp's
// tail points where package psf puts it, mirrored once there and never here; a pupil
// off towards the temple shows red on the side of the nose.
// Eye side: only in captions. Internal units: degrees, cd/m², lux. Sampling and
// centring: a wide picture is computed at half its step and averaged, so that
// it agrees with its magnified window; frequencies are in cycles per degree.
package render
