package fft

// kernels are the assembly functions for one width of register and one type of
// number. Cells are those of a bank: a register of real parts, then one of
// imaginary parts. vector_amd64.go says what each function does; it is written,
// with vector_amd64.s, by the generator in the folder asm.
type kernels struct {
	lanes       int // numbers in a register
	pass        [9]func(dst, src *byte, stride, m int, turns *byte)
	fromRows    func(dst *byte, step int, src *byte, offsets *int, squares int)
	toRows      func(dst *byte, offsets *int, src *byte, step, squares int)
	fromColumns func(dst *byte, swap int, src *byte, step, rows int)
	toColumns   func(dst *byte, step int, src *byte, swap, rows int)
	split       func(a, b, z, mirror *byte, cells int)                // single only
	join        func(z, mirror, a, b *byte, scale float32, cells int) // single only
}

// vectors are the kernels for both types of number.
type vectors struct {
	name           string
	single, double *kernels
}

// best is the first of what this processor can do; nil stands for plain Go.
var best = func() *vectors {
	if list := available(); len(list) > 0 {
		return list[0]
	}
	return nil
}()

// largestRadix is 8 where there are registers enough for it.
func (k *kernels) largestRadix() int {
	if k.pass[8] != nil {
		return 8
	}
	return 4
}
