package main

import (
	"fmt"
	"math"

	"github.com/mmcloughlin/avo/attr"
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// kind is a width of register and a type of number.
type kind struct {
	bytes  int
	double bool
}

// size is that of one number in bytes.
func (k kind) size() int {
	if k.double {
		return 8
	}
	return 4
}

// lanes is how many numbers a register holds.
func (k kind) lanes() int { return k.bytes / k.size() }

// cell is a register of real and one of imaginary parts, in bytes.
func (k kind) cell() int { return 2 * k.bytes }

func (k kind) wide() bool { return k.bytes == 64 }

// radices are the passes there are; eight needs more than 16 registers.
func (k kind) radices() []int {
	if k.wide() {
		return []int{2, 3, 4, 5, 8}
	}
	return []int{2, 3, 4, 5}
}

// function begins a function named for the kind: nameS8, nameD4, nameS16, nameD8.
func (k kind) function(name, signature, doc string) {
	letter := "S"
	if k.double {
		letter = "D"
	}
	full := fmt.Sprintf("%s%s%d", name, letter, k.lanes())
	TEXT(full, attr.NOSPLIT, signature)
	Pragma("noescape")
	Doc(full + " " + doc)
}

// vec is a new register.
func (k kind) vec() reg.VecVirtual {
	if k.wide() {
		return ZMM()
	}
	return YMM()
}

// emit picks the instruction for single or double numbers.
func (k kind) emit(single, double func(...Op), ops ...Op) {
	if k.double {
		double(ops...)
		return
	}
	single(ops...)
}

func (k kind) load(m Mem) reg.VecVirtual {
	v := k.vec()
	k.emit(VMOVUPS, VMOVUPD, m, v)
	return v
}

func (k kind) store(v reg.VecVirtual, m Mem) { k.emit(VMOVUPS, VMOVUPD, v, m) }

// every is a register full of the number at m.
func (k kind) every(m Mem) reg.VecVirtual {
	v := k.vec()
	k.emit(VBROADCASTSS, VBROADCASTSD, m, v)
	return v
}

// constant is a register full of x.
func (k kind) constant(name string, x float64) reg.VecVirtual {
	return k.every(k.number(name, x))
}

var numbers = map[string]Mem{}

// number is a constant in memory, made when first asked for.
func (k kind) number(name string, x float64) Mem {
	full := fmt.Sprintf("%s%d", name, k.size())
	if m, ok := numbers[full]; ok {
		return m
	}
	var c Constant = U32(math.Float32bits(float32(x)))
	if k.double {
		c = U64(math.Float64bits(x))
	}
	numbers[full] = ConstData(full, c)
	return numbers[full]
}

// add is a + b.
func (k kind) add(a, b reg.VecVirtual) reg.VecVirtual {
	v := k.vec()
	k.emit(VADDPS, VADDPD, a, b, v)
	return v
}

// sub is a - b.
func (k kind) sub(a, b reg.VecVirtual) reg.VecVirtual {
	v := k.vec()
	k.emit(VSUBPS, VSUBPD, b, a, v)
	return v
}

// mul is a b.
func (k kind) mul(a, b reg.VecVirtual) reg.VecVirtual {
	v := k.vec()
	k.emit(VMULPS, VMULPD, a, b, v)
	return v
}

// copy is another register with the same.
func (k kind) copy(a reg.VecVirtual) reg.VecVirtual {
	v := k.vec()
	k.emit(VMOVAPS, VMOVAPD, a, v)
	return v
}

// addTo adds a b to sum, which is changed and returned.
func (k kind) addTo(sum, a, b reg.VecVirtual) reg.VecVirtual {
	k.emit(VFMADD231PS, VFMADD231PD, a, b, sum)
	return sum
}

// takeFrom takes a b from sum, which is changed and returned.
func (k kind) takeFrom(sum, a, b reg.VecVirtual) reg.VecVirtual {
	k.emit(VFNMADD231PS, VFNMADD231PD, a, b, sum)
	return sum
}
