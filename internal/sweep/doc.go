// Package sweep lays out the pictures of a grid of parameters: which there are, in
// what order, under what names, who makes which, and what is left to do. It makes
// no picture and touches no file.
//
// # Conventions
//
// Axes and origin: gazes are as the patient sees, right and up positive, from the
// scene's centre. Index scheme: pictures are numbered from 0 in the order of the
// grid, scenes outermost and gazes innermost; parts are numbered from 1.
// Normalisation: a strength of 1 is the cause as measured. Sign and eye side: as
// written in the grid. Internal units: pupil mm, angle degrees. Sampling and
// centring: none.
package sweep
