package main

import (
	"github.com/mmcloughlin/avo/attr"
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// askProcessor writes the two instructions that tell what the processor and the
// system can do.
func askProcessor() {
	TEXT("cpuid", attr.NOSPLIT, "func(leaf, sub uint32) (a, b, c, d uint32)")
	Doc("cpuid returns what the processor says of itself.")
	Load(Param("leaf"), reg.EAX)
	Load(Param("sub"), reg.ECX)
	CPUID()
	for i, r := range []reg.Register{reg.EAX, reg.EBX, reg.ECX, reg.EDX} {
		Store(r, ReturnIndex(i))
	}
	RET()

	TEXT("xgetbv", attr.NOSPLIT, "func() uint32")
	Doc("xgetbv returns which registers the system saves.")
	MOVL(U32(0), reg.ECX)
	XGETBV()
	Store(reg.EAX, ReturnIndex(0))
	RET()
}
