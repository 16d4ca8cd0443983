package main

import (
	"math"

	"github.com/mmcloughlin/avo/reg"
)

// constants are what a butterfly multiplies by.
func (k kind) constants(radix int) []reg.VecVirtual {
	switch radix {
	case 3:
		return []reg.VecVirtual{k.constant("half", 0.5), k.constant("sin3", math.Sqrt(3)/2)}
	case 5:
		if !k.wide() {
			return nil // read where needed
		}
		return append(k.cosines(), k.sines()...)
	case 8:
		return []reg.VecVirtual{k.constant("root", math.Sqrt(0.5))}
	}
	return nil
}

// cosines are those of one and two fifths of a turn, and so are sines.
func (k kind) cosines() []reg.VecVirtual {
	return []reg.VecVirtual{k.constant("cos51", math.Cos(2*math.Pi/5)), k.constant("cos52", math.Cos(4*math.Pi/5))}
}

func (k kind) sines() []reg.VecVirtual {
	return []reg.VecVirtual{k.constant("sin51", math.Sin(2*math.Pi/5)), k.constant("sin52", math.Sin(4*math.Pi/5))}
}

func (k kind) plus(a, b number) number  { return number{k.add(a.re, b.re), k.add(a.im, b.im)} }
func (k kind) minus(a, b number) number { return number{k.sub(a.re, b.re), k.sub(a.im, b.im)} }

// plusI is a + i b, minusI is a - i b.
func (k kind) plusI(a, b number) number  { return number{k.sub(a.re, b.im), k.add(a.im, b.re)} }
func (k kind) minusI(a, b number) number { return number{k.add(a.re, b.im), k.sub(a.im, b.re)} }

// butterfly is one of a radix; the formulas stand beside the plain kernels.
func (k kind) butterfly(e ends, radix int, c []reg.VecVirtual, t *turn) {
	switch radix {
	case 2:
		a, b := e.load(0), e.load(1)
		e.put(0, k.plus(a, b), t)
		e.put(1, k.minus(a, b), t)
	case 3:
		k.three(e, c, t)
	case 4:
		for j, y := range k.four(e.load(0), e.load(1), e.load(2), e.load(3)) {
			e.put(j, y, t)
		}
	case 5:
		k.five(e, c, t)
	case 8:
		k.eight(e, c[0], t)
	}
}

func (k kind) three(e ends, c []reg.VecVirtual, t *turn) {
	half, h := c[0], c[1]
	a, b, d := e.load(0), e.load(1), e.load(2)
	s, u := k.plus(b, d), k.minus(b, d)
	e.put(0, k.plus(a, s), t)
	v := number{k.takeFrom(a.re, s.re, half), k.takeFrom(a.im, s.im, half)}
	u = number{k.mul(u.re, h), k.mul(u.im, h)}
	e.put(1, k.minusI(v, u), t)
	e.put(2, k.plusI(v, u), t)
}

func (k kind) four(a, b, c, d number) [4]number {
	e, f, g, u := k.plus(a, c), k.minus(a, c), k.plus(b, d), k.minus(b, d)
	return [4]number{k.plus(e, g), k.minusI(f, u), k.minus(e, g), k.plusI(f, u)}
}

func (k kind) five(e ends, c []reg.VecVirtual, t *turn) {
	a, b, f := e.load(0), e.load(1), e.load(4)
	t1, u1 := k.plus(b, f), k.minus(b, f)
	p, q := e.load(2), e.load(3)
	t2, u2 := k.plus(p, q), k.minus(p, q)
	e.put(0, k.plus(k.plus(a, t1), t2), t)
	if c == nil {
		c = k.cosines()
	}
	c1, c2 := c[0], c[1]
	sums := func(x, y reg.VecVirtual) number {
		re, im := k.addTo(k.copy(a.re), t1.re, x), k.addTo(k.copy(a.im), t1.im, x)
		return number{k.addTo(re, t2.re, y), k.addTo(im, t2.im, y)}
	}
	v1, v2 := sums(c1, c2), sums(c2, c1)
	if len(c) == 2 {
		c = append(c, k.sines()...)
	}
	s1, s2 := c[2], c[3]
	g1 := number{k.addTo(k.mul(u1.re, s1), u2.re, s2), k.addTo(k.mul(u1.im, s1), u2.im, s2)}
	g2 := number{k.takeFrom(k.mul(u1.re, s2), u2.re, s1), k.takeFrom(k.mul(u1.im, s2), u2.im, s1)}
	e.put(1, k.minusI(v1, g1), t)
	e.put(4, k.plusI(v1, g1), t)
	e.put(2, k.minusI(v2, g2), t)
	e.put(3, k.plusI(v2, g2), t)
}

// eight joins the fours of even and odd inputs: with w = exp(-i pi/4),
// yk, y(k+4) = Ek +- w^k Ok.
func (k kind) eight(e ends, root reg.VecVirtual, t *turn) {
	even := k.four(e.load(0), e.load(2), e.load(4), e.load(6))
	odd := k.four(e.load(1), e.load(3), e.load(5), e.load(7))
	e.put(0, k.plus(even[0], odd[0]), t)
	e.put(4, k.minus(even[0], odd[0]), t)
	e.put(2, k.minusI(even[2], odd[2]), t)
	e.put(6, k.plusI(even[2], odd[2]), t)
	for j, o := range []number{odd[1], odd[3]} {
		j = 2*j + 1
		// root times o is w^j O but for the quarter turns of j = 3.
		s, d := k.add(o.re, o.im), k.sub(o.im, o.re)
		x := number{s, d}
		if j == 3 {
			x = number{d, s} // imaginary part with the other sign
		}
		hi, lo := number{k.copy(even[j].re), k.copy(even[j].im)}, even[j]
		k.addTo(hi.re, x.re, root)
		k.takeFrom(lo.re, x.re, root)
		if j == 3 {
			hi.im, lo.im = k.takeFrom(hi.im, x.im, root), k.addTo(lo.im, x.im, root)
		} else {
			hi.im, lo.im = k.addTo(hi.im, x.im, root), k.takeFrom(lo.im, x.im, root)
		}
		e.put(j, hi, t)
		e.put(j+4, lo, t)
	}
}
