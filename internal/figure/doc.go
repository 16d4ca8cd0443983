// Package figure draws the numbers of a story: values with two intervals each, and
// curves. It knows nothing of an eye.
//
// # Conventions
//
// Axes and origin: values run to the right from a line at zero, rows run down in
// the order given; curves have x to the right and y up. Index scheme and
// normalisation: none, values are drawn in their own unit. Sign: below zero is
// drawn to the left of the line. Eye side: none. Internal units: pixels of the
// picture at 96 to an inch. Sampling and centring: none.
package figure
