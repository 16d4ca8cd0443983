// Package fft gives two-dimensional discrete Fourier transforms of any size,
// real in single precision and complex in single or double, on all cores.
//
// The transform is, with indices x, k of a row and y, l of a column,
//
//	F[l][k] = sum over y, x of f[y][x] exp(-2 pi i (k x / w + l y / h))
//
// A plan may be used by several goroutines at once, and what comes out does not
// depend on their number.
//
// Lines are worked side by side, columns as they stand and real rows two to a
// line: index k of all lines, their real parts and then their imaginary parts,
// lies together, so that every inner loop runs along neighbours. Lengths
// 2^a 3^b 5^c (see [GoodSize]) go through passes of radix 2, 3, 4, 5 and 8; any
// other length is left to gonum, line by line, and takes many times as long.
//
// # Two paths
//
// On amd64 with AVX2 and FMA, or AVX-512, the work is done by assembly, as many
// lines at once as a register has numbers, in the precision of the samples
// throughout. Elsewhere plain Go works eight lines at
// once, all in float64. Single precision costs 1e-7 to 2e-7 of the root of the
// mean square of the image, so the paths agree to that, not to the bit; one
// machine always gives the same bits. For lines in plain Go, float32 was tried
// and was not faster.
//
// The assembly, vector_amd64.s with its declarations in vector_amd64.go, is
// written by the module in the folder asm (its first lines say how), so that a
// build needs nothing but Go. It is reached through the kernels of door.go alone,
// and knows nothing of images: passes over cells, squares turned about, columns
// parted into real and imaginary. Its loops bound nothing; the Go code that calls
// it does. The tests run on each path that the machine has and compare it with
// gonum and with the definition.
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
