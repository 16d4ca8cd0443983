package fft

// available lists what processor and system can do, the fastest first.
func available() []*vectors {
	var list []*vectors
	avx2, avx512 := levels(cpuid, xgetbv)
	if avx512 {
		list = append(list, &vectors{"AVX-512", &singles16, &doubles8})
	}
	if avx2 {
		list = append(list, &vectors{"AVX2", &singles8, &doubles4})
	}
	return list
}

// Bits of the answers of cpuid and xgetbv, from the processor makers' manuals
// (from memory).
const (
	bitFMA, bitSystem, bitAVX = 1 << 12, 1 << 27, 1 << 28 // leaf 1, c
	bitAVX2, bitAVX512        = 1 << 5, 1 << 16           // leaf 7, b
	savesAVX, savesAVX512     = 0x06, 0xe6                // registers the system keeps
)

// levels asks for AVX2 with FMA, and for the foundation of AVX-512.
func levels(cpuid func(leaf, sub uint32) (a, b, c, d uint32), xgetbv func() uint32) (avx2, avx512 bool) {
	const all = bitFMA | bitSystem | bitAVX
	last, _, _, _ := cpuid(0, 0)
	if _, _, c, _ := cpuid(1, 0); last < 7 || c&all != all {
		return false, false
	}
	saved := xgetbv()
	_, b, _, _ := cpuid(7, 0)
	avx2 = b&bitAVX2 != 0 && saved&savesAVX == savesAVX
	return avx2, avx2 && b&bitAVX512 != 0 && saved&savesAVX512 == savesAVX512
}

var singles8 = kernels{
	lanes: 8, fromRows: fromRowsS8, toRows: toRowsS8, fromColumns: fromColumnsS8, toColumns: toColumnsS8,
	split: splitS8, join: joinS8,
	pass: [9]func(dst, src *byte, stride, m int, turns *byte){2: pass2S8, 3: pass3S8, 4: pass4S8, 5: pass5S8},
}

var doubles4 = kernels{
	lanes: 4, fromRows: fromRowsD4, toRows: toRowsD4, fromColumns: fromColumnsD4, toColumns: toColumnsD4,
	pass: [9]func(dst, src *byte, stride, m int, turns *byte){2: pass2D4, 3: pass3D4, 4: pass4D4, 5: pass5D4},
}

var singles16 = kernels{
	lanes: 16, fromRows: fromRowsS16, toRows: toRowsS16, fromColumns: fromColumnsS16, toColumns: toColumnsS16,
	split: splitS16, join: joinS16,
	pass: [9]func(dst, src *byte, stride, m int, turns *byte){2: pass2S16, 3: pass3S16, 4: pass4S16, 5: pass5S16, 8: pass8S16},
}

var doubles8 = kernels{
	lanes: 8, fromRows: fromRowsD8, toRows: toRowsD8, fromColumns: fromColumnsD8, toColumns: toColumnsD8,
	pass: [9]func(dst, src *byte, stride, m int, turns *byte){2: pass2D8, 3: pass3D8, 4: pass4D8, 5: pass5D8, 8: pass8D8},
}
