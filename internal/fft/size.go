package fft

import (
	"fmt"
	"runtime"
)

// GoodSize returns the smallest even number 2^a 3^b 5^c, a >= 1, that is not
// below n; for n <= 2 it is 2. Lines of such a length transform fast.
func GoodSize(n int) int {
	m := max(n, 2)
	if m%2 == 1 {
		m++
	}
	for !smooth(m) {
		m += 2
	}
	return m
}

// smooth reports whether n has no prime factor above 5.
func smooth(n int) bool {
	for _, p := range [...]int{2, 3, 5} {
		for n%p == 0 {
			n /= p
		}
	}
	return n == 1
}

// realBytes is what a real transform needs for each sample: image, half spectrum
// and a spare one of it. A complex one needs the image.
const realBytes = 4 + 4 + 4

// mostBytes is the memory one transform may take, images and work arrays.
const mostBytes = 4 << 30

// checkSize refuses sizes without samples, and those too large for the memory,
// before any of it is taken; bytes are those for each sample.
func checkSize(w, h, bytes int) error {
	if w < 1 || h < 1 {
		return fmt.Errorf("fft: a transform needs at least 1 x 1 samples (got %d x %d)", w, h)
	}
	if need := needs(w, h, bytes); need > mostBytes {
		return fmt.Errorf("fft: a transform of %d x %d samples would take %.1f GiB, at most %d are taken; hint: fewer or coarser samples",
			w, h, need/(1<<30), mostBytes>>30)
	}
	return nil
}

// needs is the memory in bytes, as a float64 since it may pass the largest int:
// for each processor the work arrays hold two times eight or sixteen lines of
// rows and of columns, 128 bytes for each of their elements.
func needs(w, h, bytes int) float64 {
	lines := 2 * 128 * (float64(w) + float64(h)) * float64(runtime.GOMAXPROCS(0))
	return float64(bytes)*float64(w)*float64(h) + lines
}
