// Package lettering writes lines of text into pictures, with the two embedded
// faces of the house (Go Regular and Go Bold).
//
// # Conventions
//
// Axes and origin: pixels of the picture, x right and y down; a line starts at x
// on its baseline y. Index scheme and normalisation: none. Sign: none. Eye side:
// none. Internal units: pixels; a size is that of the em square. Sampling and
// centring: whole pixels; widths are rounded up.
package lettering
