// Command asm writes the assembly of package fft and its Go declarations:
//
//	cd internal/fft/asm
//	go run . -out ../vector_amd64.s -stubs ../vector_amd64.go -pkg fft
//
// The tests of package fft then run every function the machine can run. What it
// cannot, or can only by a wider path, an emulator shows:
//
//	go test -c -o fft.test . && qemu-x86_64 -cpu Haswell ./fft.test -test.short
//
// with Haswell for AVX2 without AVX-512 and Nehalem for plain Go.
//
// It is a module of its own, so that what it needs is not needed to build the
// program. Every function is written once, for a kind: registers of 32 bytes
// (AVX2 with FMA) or 64 (AVX-512F), of single or double numbers.
package main

import . "github.com/mmcloughlin/avo/build"

func main() {
	ConstraintExpr("amd64")
	askProcessor()
	for _, k := range []kind{{32, false}, {32, true}, {64, false}, {64, true}} {
		for _, r := range k.radices() {
			k.pass(r)
		}
		k.fromRows()
		k.toRows()
		k.fromColumns()
		k.toColumns()
		if !k.double {
			k.split()
			k.join()
		}
	}
	Generate()
}
