package fft

import "unsafe"

// In these, C is the complex type with parts of type T.

// tile is the bank's second buffer as rows of a complex number for each lane.
func tile[C complexOf, T scalar](b *bank[T]) []C {
	return unsafe.Slice((*C)(unsafe.Pointer(unsafe.SliceData(b.out))), len(b.out)/2)
}

// loadColumns fills the lanes with columns lo <= x < hi of the first rows of an
// image w wide, the rest of the column being zero. Too few columns for the lanes
// go by way of a tile.
func loadColumns[C complexOf, T scalar](b *bank[T], src []C, w, lo, hi, rows, swap int) {
	clear(b.in[2*b.lanes*rows:])
	if rows == 0 {
		return
	}
	if hi-lo == b.lanes {
		b.k.fromColumns(first(b.in), swap, first(src[lo:]), 2*b.size()*w, rows)
		return
	}
	t := tile[C](b)
	clear(t)
	for y := range rows {
		copy(t[y*b.lanes:], src[y*w+lo:y*w+hi])
	}
	b.k.fromColumns(first(b.in), swap, first(t), 2*b.register(), rows)
}

// storeColumns is the way back from loadColumns, whole columns.
func storeColumns[C complexOf, T scalar](b *bank[T], dst []C, w, lo, hi, swap int) {
	if hi-lo == b.lanes {
		b.k.toColumns(first(dst[lo:]), 2*b.size()*w, first(b.in), swap, b.n)
		return
	}
	t := storeTile[C](b, swap)
	for y := range b.n {
		copy(dst[y*w+lo:y*w+hi], t[y*b.lanes:])
	}
}

// storeTile writes the columns as a tile of their own.
func storeTile[C complexOf, T scalar](b *bank[T], swap int) []C {
	t := tile[C](b)
	b.k.toColumns(first(t), 2*b.register(), first(b.in), swap, b.n)
	return t
}
