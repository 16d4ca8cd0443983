//go:build !amd64

package fft

// available is empty: there is assembly for amd64 only.
func available() []*vectors { return nil }
