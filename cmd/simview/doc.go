// Command simview shows what each cause of an eye's bad vision would make the
// world look like, from the eye's own measurements. It works offline, on
// files, and is an illustration for discussion, not a diagnosis.
//
// # Conventions
//
// Axes and origin: directions on the command line are as the patient sees,
// right and up positive, in degrees from the centre of the scene; pictures and
// the rows of an .npy file run down from the top. Index scheme and
// normalisation, sign: those of the case file, see package casefile; a point
// spread function is written with sum 1. Eye side: --eye right or left, the
// patient's own. Internal units: none; every flag carries its unit in its name.
// Sampling and centring: see package light; an .npy file has its origin at
// sample (N/2, N/2).
package main
