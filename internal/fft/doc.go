// Package fft gives two-dimensional discrete Fourier transforms of any size,
// real in single precision and complex in double, on all cores.
//
// The transform is, with indices x, k of a row and y, l of a column,
//
//	F[l][k] = sum over y, x of f[y][x] exp(-2 pi i (k x / w + l y / h))
//
// and every line is worked in float64. A plan may be used by several
// goroutines at once.
//
// Eight lines are worked side by side, columns as they stand and real rows two
// to a line. Lengths 2^a 3^b 5^c (see [GoodSize]) go through passes of radix 2,
// 3, 4 and 5; any other length is left to gonum, line by line, and takes several
// times as long. Work arrays of float32 were tried and were not faster.
//
// # Conventions
//
// Axes and origin: rows are stored one after the other, [y][x]; the package
// knows nothing of up or down, and the origin is element (0, 0). Index scheme
// and normalisation: frequency (k, l) of element [l][k], with l > h/2 meaning
// l - h; the forward transform is a plain sum, the inverse divides by w h. Sign:
// exp(-i) forward, exp(+i) back. Eye side: none. Internal units: none.
// Sampling and centring: a real image of w columns keeps columns 0..w/2 of its
// spectrum (the rest is their mirror image); nothing is shifted to the middle.
package fft
