// Package compare does the main job: from a case to a sheet of comparable
// pictures and the record that is enough to make them again.
//
// # Conventions
//
// Axes and origin: gaze and scenes in the patient's axes, degrees from the
// scene's centre. Index scheme and normalisation: none here. Sign: none here.
// Eye side: the eye of the complaint comes first, its fellow last. Internal
// units: those of package unit. Sampling and centring: those of package render.
package compare
