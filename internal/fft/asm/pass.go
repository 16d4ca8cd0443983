package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

const passSignature = "func(dst, src *byte, stride, m int, turns *byte)"

// ends are the places one butterfly reads and writes.
type ends struct {
	k        kind
	from, to reg.Register
	in, out  places
}

// places are cells a fixed distance apart; the distance is in registers.
type places struct{ one, three, four reg.Register }

// spread makes the places from the distance in one; four holds base + 4 one.
func spread(one reg.GPVirtual, radix int) places {
	p := places{one: one}
	if radix > 3 {
		three := GP64()
		LEAQ(Mem{Base: one, Index: one, Scale: 2}, three)
		p.three = three
	}
	return p
}

// at is the memory of cell j, disp bytes into it.
func (p places) at(base reg.Register, j, disp int) Mem {
	if j >= 4 && p.four != nil {
		return p.at0(p.four, j-4, disp)
	}
	return p.at0(base, j, disp)
}

func (p places) at0(base reg.Register, j, disp int) Mem {
	switch j {
	case 0:
		return Mem{Base: base, Disp: disp}
	case 3:
		return Mem{Base: base, Index: p.three, Scale: 1, Disp: disp}
	default:
		return Mem{Base: base, Index: p.one, Scale: uint8(j), Disp: disp}
	}
}

// number is a complex one in each lane.
type number struct{ re, im reg.VecVirtual }

func (e ends) load(j int) number {
	return number{e.k.load(e.in.at(e.from, j, 0)), e.k.load(e.in.at(e.from, j, e.k.bytes))}
}

func (e ends) store(j int, z number) {
	e.k.store(z.re, e.out.at(e.to, j, 0))
	e.k.store(z.im, e.out.at(e.to, j, e.k.bytes))
}

// pass writes one pass: for each p < m the butterflies of stride cells, which
// for p = 0 turn nothing.
func (k kind) pass(radix int) {
	k.function(fmt.Sprintf("pass%d", radix), passSignature, fmt.Sprintf("does a pass of radix %d: see step.", radix))
	to, from := Load(Param("dst"), GP64()), Load(Param("src"), GP64())
	stride, m := Load(Param("stride"), GP64()), Load(Param("m"), GP64())
	turns := Load(Param("turns"), GP64())
	apart, across := GP64(), GP64()
	MOVQ(stride, across)
	SHLQ(U8(log2(k.cell())), across)
	MOVQ(across, apart)
	IMULQ(m, apart)
	e := ends{k: k, from: from, to: to, in: spread(apart, radix), out: spread(across, radix)}
	consts := k.constants(radix)

	k.along(&e, radix, stride, "first", func() { k.butterfly(e, radix, consts, nil) })
	Label("more")
	DECQ(m)
	JZ(LabelRef("done"))
	ADDQ(Imm(uint64(2*k.size()*(radix-1))), turns)
	skip(to, across, radix-1)
	t := k.turns(turns, radix)
	k.along(&e, radix, stride, "next", func() { k.butterfly(e, radix, consts, t) })
	JMP(LabelRef("more"))
	Label("done")
	VZEROUPPER()
	RET()
}

// along repeats body for stride cells and moves both ends by as much.
func (k kind) along(e *ends, radix int, stride reg.Register, label string, body func()) {
	if radix == 8 {
		e.in.four, e.out.four = farther(e.from, e.in.one), farther(e.to, e.out.one)
	}
	left := GP64()
	MOVQ(stride, left)
	Label(label)
	body()
	for _, r := range []reg.Register{e.from, e.to, e.in.four, e.out.four} {
		if r != nil {
			ADDQ(Imm(uint64(k.cell())), r)
		}
	}
	DECQ(left)
	JNZ(LabelRef(label))
}

// farther is base + 4 one.
func farther(base, one reg.Register) reg.Register {
	r := GP64()
	LEAQ(Mem{Base: base, Index: one, Scale: 4}, r)
	return r
}

// skip moves a pointer by times one.
func skip(p, one reg.Register, times int) {
	for ; times >= 4; times -= 4 {
		LEAQ(Mem{Base: p, Index: one, Scale: 4}, p)
	}
	for ; times >= 2; times -= 2 {
		LEAQ(Mem{Base: p, Index: one, Scale: 2}, p)
	}
	if times == 1 {
		ADDQ(one, p)
	}
}

func log2(n int) (bits uint64) {
	for n > 1 {
		n, bits = n/2, bits+1
	}
	return bits
}

// turn is where the factors of one pass stand: in registers or in memory.
type turn struct {
	at   reg.Register
	held []number // nil: read at each use
}

// turns holds the factors of the next p in registers if there is room.
func (k kind) turns(at reg.Register, radix int) *turn {
	t := &turn{at: at}
	if radix == 8 || !k.wide() && radix > 3 {
		return t
	}
	for j := 1; j < radix; j++ {
		t.held = append(t.held, k.factor(at, j))
	}
	return t
}

// factor reads the factor of output j.
func (k kind) factor(at reg.Register, j int) number {
	disp := 2 * k.size() * (j - 1)
	return number{k.every(Mem{Base: at, Disp: disp}), k.every(Mem{Base: at, Disp: disp + k.size()})}
}

// put stores output j, turned.
func (e ends) put(j int, z number, t *turn) {
	if t == nil || j == 0 {
		e.store(j, z)
		return
	}
	k := e.k
	if t.held == nil && k.wide() {
		e.store(j, k.turnFrom(z, Mem{Base: t.at, Disp: 2 * k.size() * (j - 1)}))
		return
	}
	var w number
	if t.held != nil {
		w = t.held[j-1]
	} else {
		w = k.factor(t.at, j)
	}
	re, im := k.mul(z.im, w.im), k.mul(z.re, w.im)
	k.emit(VFMSUB231PS, VFMSUB231PD, z.re, w.re, re)
	k.addTo(im, z.im, w.re)
	e.store(j, number{re, im})
}

// turnFrom is z times the factor at m, which is read by each instruction.
func (k kind) turnFrom(z number, m Mem) number {
	im := m.Offset(k.size())
	r, i := k.vec(), k.vec()
	k.emit(VMULPS_BCST, VMULPD_BCST, im, z.im, r)
	k.emit(VMULPS_BCST, VMULPD_BCST, im, z.re, i)
	k.emit(VFMSUB231PS_BCST, VFMSUB231PD_BCST, m, z.re, r)
	k.emit(VFMADD231PS_BCST, VFMADD231PD_BCST, m, z.im, i)
	return number{r, i}
}
