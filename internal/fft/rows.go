package fft

// A lane takes its row of numbers from memory by the square, lanes by lanes
// numbers turned about the diagonal; what is left at the end goes one by one.

// place notes where the rows of the lanes begin: lane i has row lo + every i +
// which. Where there are not so many rows below hi, the last one stands in: what
// is then written twice is the same.
func (b *bank[T]) place(which, lo, hi, every, rowLength int) *[mostLanes]int {
	offsets := &b.offsets[which]
	for i := range b.lanes {
		row := min(lo+every*i+which, hi-1)
		offsets[i] = row * rowLength * b.size()
	}
	return offsets
}

// read puts numbers from <= x < to of the rows into registers, step numbers
// apart from dst on.
func (b *bank[T]) read(dst []T, step int, rows []T, offsets *[mostLanes]int, from, to int) {
	squares := (to - from) / b.lanes
	if squares > 0 {
		b.k.fromRows(first(dst), step*b.size(), first(rows[from:]), &offsets[0], squares)
	}
	for x := from + squares*b.lanes; x < to; x++ {
		reg := dst[(x-from)*step:]
		for i := range b.lanes {
			reg[i] = rows[offsets[i]/b.size()+x]
		}
	}
}

// write is the way back from read.
func (b *bank[T]) write(rows []T, offsets *[mostLanes]int, from, to int, src []T, step int) {
	squares := (to - from) / b.lanes
	if squares > 0 {
		b.k.toRows(first(rows[from:]), &offsets[0], first(src), step*b.size(), squares)
	}
	for x := from + squares*b.lanes; x < to; x++ {
		reg := src[(x-from)*step:]
		for i := range b.lanes {
			rows[offsets[i]/b.size()+x] = reg[i]
		}
	}
}
