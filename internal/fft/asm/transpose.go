package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// transpose turns a square of lanes x lanes numbers: first within quarters of 16
// bytes, then the quarters.
func (k kind) transpose(rows []reg.VecVirtual) []reg.VecVirtual {
	per := 16 / k.size() // numbers in a quarter
	inner := make([][]reg.VecVirtual, per)
	for g := 0; g < len(rows); g += per {
		for j, v := range k.withinQuarters(rows[g : g+per]) {
			inner[j] = append(inner[j], v)
		}
	}
	out := make([]reg.VecVirtual, len(rows))
	for j, group := range inner {
		for l, v := range k.quarters(group) {
			out[per*l+j] = v
		}
	}
	return out
}

// withinQuarters turns each quarter of 2 (double) or 4 (single) rows.
func (k kind) withinQuarters(r []reg.VecVirtual) []reg.VecVirtual {
	if k.double {
		return []reg.VecVirtual{k.pick(VUNPCKLPD, r[0], r[1]), k.pick(VUNPCKHPD, r[0], r[1])}
	}
	a, b := k.pick(VUNPCKLPS, r[0], r[1]), k.pick(VUNPCKHPS, r[0], r[1])
	c, d := k.pick(VUNPCKLPS, r[2], r[3]), k.pick(VUNPCKHPS, r[2], r[3])
	return []reg.VecVirtual{
		k.pick(VUNPCKLPD, a, c), k.pick(VUNPCKHPD, a, c),
		k.pick(VUNPCKLPD, b, d), k.pick(VUNPCKHPD, b, d),
	}
}

// pick is an instruction that takes from a and b in turn.
func (k kind) pick(f func(...Op), a, b reg.VecVirtual) reg.VecVirtual {
	v := k.vec()
	f(b, a, v)
	return v
}

// quarters turns a square of whole quarters, 2 x 2 or 4 x 4.
func (k kind) quarters(u []reg.VecVirtual) []reg.VecVirtual {
	shuffle := func(how uint8, a, b reg.VecVirtual) reg.VecVirtual {
		v := k.vec()
		if k.wide() {
			VSHUFF32X4(U8(how), b, a, v)
		} else {
			VPERM2F128(U8(how), b, a, v)
		}
		return v
	}
	if !k.wide() {
		return []reg.VecVirtual{shuffle(0x20, u[0], u[1]), shuffle(0x31, u[0], u[1])}
	}
	const even, odd = 0x88, 0xdd
	x0, x1 := shuffle(even, u[0], u[1]), shuffle(odd, u[0], u[1])
	y0, y1 := shuffle(even, u[2], u[3]), shuffle(odd, u[2], u[3])
	return []reg.VecVirtual{shuffle(even, x0, y0), shuffle(even, x1, y1), shuffle(odd, x0, y0), shuffle(odd, x1, y1)}
}

// row is the memory of lane i: the cursor plus the offset of that row.
func (k kind) row(cursor, offsets reg.Register, i int) Mem {
	off := GP64()
	MOVQ(Mem{Base: offsets, Disp: 8 * i}, off)
	return Mem{Base: off, Index: cursor, Scale: 1}
}

// fromRows writes the square after square of rows as registers step bytes apart.
func (k kind) fromRows() {
	k.function("fromRows", "func(dst *byte, step int, src *byte, offsets *int, squares int)",
		"turns squares of the rows that begin offsets[i] bytes after src into lanes, step bytes apart.")
	to, step, cursor := Load(Param("dst"), GP64()), Load(Param("step"), GP64()), Load(Param("src"), GP64())
	offsets, squares := Load(Param("offsets"), GP64()), Load(Param("squares"), GP64())
	Label("square")
	var rows []reg.VecVirtual
	for i := range k.lanes() {
		rows = append(rows, k.load(k.row(cursor, offsets, i)))
	}
	for _, v := range k.transpose(rows) {
		k.store(v, Mem{Base: to})
		ADDQ(step, to)
	}
	k.nextSquare(cursor, squares)
}

// toRows is the way back from fromRows, lanes lying one after the other.
func (k kind) toRows() {
	k.function("toRows", "func(dst *byte, offsets *int, src *byte, step, squares int)",
		"turns lanes that lie step bytes apart into squares of the rows that begin offsets[i] bytes after dst.")
	cursor, step, from := Load(Param("dst"), GP64()), Load(Param("step"), GP64()), Load(Param("src"), GP64())
	offsets, squares := Load(Param("offsets"), GP64()), Load(Param("squares"), GP64())
	Label("square")
	var rows []reg.VecVirtual
	for range k.lanes() {
		rows = append(rows, k.load(Mem{Base: from}))
		ADDQ(step, from)
	}
	for i, v := range k.transpose(rows) {
		k.store(v, k.row(cursor, offsets, i))
	}
	k.nextSquare(cursor, squares)
}

// nextSquare ends the loop over squares.
func (k kind) nextSquare(cursor, squares reg.Register) {
	ADDQ(Imm(uint64(k.bytes)), cursor)
	DECQ(squares)
	JNZ(LabelRef("square"))
	VZEROUPPER()
	RET()
}
