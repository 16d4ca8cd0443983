// Package lost says how much of what the reference eye sees in a scene is lost to
// another state of the eye: contrast that is visible to the one and not to the
// other, by octave band and place, as one share and as a map.
//
// How visible the contrast of a band at a place is goes smoothly from 0 to 1 about
// the threshold of a healthy eye there. With A the local amplitude of the
// surfaces' luminance on the retina in the bands of package fieldmask, L the luminance
// adapted to (surfaces and veil), T the threshold at that place of the field and k
// what a field loss leaves,
//
//	a    = k A / (L T),  g(a) = a³ / (1 + a³)
//	lost = Σ max(0, g_ref - g) / Σ g_ref
//
// over all bands and places; every band of an octave and every square degree
// counts alike. What the eye sees beyond the reference eye is not set off. Blur that
// doubles or turns round a pattern leaves contrast that counts as seen. Lamps count
// through the veil they lay over the rest and not by themselves. Retinal images are
// those of package render, computed on a coarser grid of luminance alone, so that a
// state takes a fraction of a second.
//
// # Conventions
//
// Axes and origin: the patient's axes, right + and up +, degrees from the scene's
// centre; rows run down. Index scheme and normalisation: bands are told by their
// centre in cycles per degree; visibility and shares go from 0 to 1. Sign: a loss is
// positive. Eye side: none, the view brings its eye. Internal units: degrees, cd/m²,
// cycles per degree, trolands. Sampling and centring: pixel centres as in package
// light; a band finer than three quarters of the sampling's limit is not judged, and the
// finest one holds all that is finer.
package lost
