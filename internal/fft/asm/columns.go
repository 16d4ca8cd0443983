package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// fromColumns parts a row's numbers into real and imaginary ones. The lanes of a
// cell are in an order of their own, which toColumns undoes.
func (k kind) fromColumns() {
	k.function("fromColumns", "func(dst *byte, swap int, src *byte, step, rows int)",
		"makes a cell of as many complex numbers as there are lanes from each row, step bytes apart; real parts go swap bytes into the cell.")
	to, swap, from := Load(Param("dst"), GP64()), Load(Param("swap"), GP64()), Load(Param("src"), GP64())
	step, rows := Load(Param("step"), GP64()), Load(Param("rows"), GP64())
	other := k.otherHalf(to, swap)
	Label("row")
	a, b := k.load(Mem{Base: from}), k.load(Mem{Base: from, Disp: k.bytes})
	re, im := k.vec(), k.vec()
	if k.double {
		VUNPCKLPD(b, a, re)
		VUNPCKHPD(b, a, im)
	} else {
		VSHUFPS(U8(0x88), b, a, re)
		VSHUFPS(U8(0xdd), b, a, im)
	}
	k.store(re, Mem{Base: to})
	k.store(im, Mem{Base: other})
	k.nextRow(to, other, from, step, rows)
}

// toColumns is the way back.
func (k kind) toColumns() {
	k.function("toColumns", "func(dst *byte, step int, src *byte, swap, rows int)",
		"is the way back from fromColumns.")
	to, swap, from := Load(Param("dst"), GP64()), Load(Param("swap"), GP64()), Load(Param("src"), GP64())
	step, rows := Load(Param("step"), GP64()), Load(Param("rows"), GP64())
	other := k.otherHalf(from, swap)
	Label("row")
	re, im := k.load(Mem{Base: from}), k.load(Mem{Base: other})
	low, high := VUNPCKLPS, VUNPCKHPS
	if k.double {
		low, high = VUNPCKLPD, VUNPCKHPD
	}
	k.store(k.pick(low, re, im), Mem{Base: to})
	k.store(k.pick(high, re, im), Mem{Base: to, Disp: k.bytes})
	k.nextRow(from, other, to, step, rows)
}

// otherHalf moves cell by swap, 0 or half a cell, and returns where its other
// half begins.
func (k kind) otherHalf(cell, swap reg.Register) reg.Register {
	other := GP64()
	LEAQ(Mem{Base: cell, Disp: k.bytes}, other)
	SUBQ(swap, other)
	ADDQ(swap, cell)
	return other
}

// nextRow ends the loop over rows.
func (k kind) nextRow(cell, other, row, step, rows reg.Register) {
	ADDQ(Imm(uint64(k.cell())), cell)
	ADDQ(Imm(uint64(k.cell())), other)
	ADDQ(step, row)
	DECQ(rows)
	JNZ(LabelRef("row"))
	VZEROUPPER()
	RET()
}

// split makes the transforms of two real lines from that of one complex line.
func (k kind) split() {
	k.function("split", "func(a, b, z, mirror *byte, cells int)",
		"makes cells of the half spectra a and b from z, going up, and its mirror, going down: see splitPairs.")
	a, b := Load(Param("a"), GP64()), Load(Param("b"), GP64())
	z, m := Load(Param("z"), GP64()), Load(Param("mirror"), GP64())
	cells := Load(Param("cells"), GP64())
	half := k.constant("half", 0.5)
	Label("cell")
	u, v := k.cellAt(z), k.cellAt(m)
	k.storeCell(a, k.mul(k.add(u.re, v.re), half), k.mul(k.sub(u.im, v.im), half))
	k.storeCell(b, k.mul(k.add(u.im, v.im), half), k.mul(k.sub(v.re, u.re), half))
	k.nextCell(cells, m, a, b, z)
}

// join makes the complex line of two half spectra.
func (k kind) join() {
	k.function("join", "func(z, mirror, a, b *byte, scale float32, cells int)",
		"makes cells of z, going up, and its mirror, going down, from the half spectra a and b, real and imaginary part exchanged, times scale: see joinPairs.")
	a, b := Load(Param("a"), GP64()), Load(Param("b"), GP64())
	z, m := Load(Param("z"), GP64()), Load(Param("mirror"), GP64())
	cells := Load(Param("cells"), GP64())
	scale := k.vec()
	by := Load(Param("scale"), XMM())
	VBROADCASTSS(by, scale)
	Label("cell")
	u, v := k.cellAt(a), k.cellAt(b)
	u = number{k.mul(u.re, scale), k.mul(u.im, scale)}
	v = number{k.mul(v.re, scale), k.mul(v.im, scale)}
	k.storeCell(z, k.add(u.im, v.re), k.sub(u.re, v.im))
	k.storeCell(m, k.sub(v.re, u.im), k.add(u.re, v.im))
	k.nextCell(cells, m, a, b, z)
}

func (k kind) cellAt(p reg.Register) number {
	return number{k.load(Mem{Base: p}), k.load(Mem{Base: p, Disp: k.bytes})}
}

func (k kind) storeCell(p reg.Register, re, im reg.VecVirtual) {
	k.store(re, Mem{Base: p})
	k.store(im, Mem{Base: p, Disp: k.bytes})
}

// nextCell ends the loop over cells: down goes back by one, the others on.
func (k kind) nextCell(cells, down reg.Register, up ...reg.Register) {
	SUBQ(Imm(uint64(k.cell())), down)
	for _, p := range up {
		ADDQ(Imm(uint64(k.cell())), p)
	}
	DECQ(cells)
	JNZ(LabelRef("cell"))
	VZEROUPPER()
	RET()
}
