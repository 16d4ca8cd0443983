package fft

import "testing"

// A processor is made up from its answers; each missing bit closes a door.
func TestThePathIsChosenByWhatProcessorAndSystemSay(t *testing.T) {
	type machine struct{ last, c1, b7, saved uint32 }
	full := machine{7, bitFMA | bitSystem | bitAVX, bitAVX2 | bitAVX512, savesAVX512}
	for name, c := range map[string]struct {
		change       func(*machine)
		avx2, avx512 bool
	}{
		"everything":              {func(*machine) {}, true, true},
		"no AVX-512":              {func(m *machine) { m.b7 = bitAVX2 }, true, false},
		"system without AVX-512":  {func(m *machine) { m.saved = savesAVX }, true, false},
		"system without AVX":      {func(m *machine) { m.saved = 2 }, false, false},
		"system tells nothing":    {func(m *machine) { m.c1 &^= bitSystem }, false, false},
		"no fused multiplication": {func(m *machine) { m.c1 &^= bitFMA }, false, false},
		"no AVX2":                 {func(m *machine) { m.b7 = bitAVX512 }, false, false},
		"old":                     {func(m *machine) { m.last = 6 }, false, false},
	} {
		m := full
		c.change(&m)
		avx2, avx512 := levels(func(leaf, _ uint32) (uint32, uint32, uint32, uint32) {
			return m.last * b2u(leaf == 0), m.b7 * b2u(leaf == 7), m.c1 * b2u(leaf == 1), 0
		}, func() uint32 { return m.saved })
		if avx2 != c.avx2 || avx512 != c.avx512 {
			t.Errorf("%s: %v, %v", name, avx2, avx512)
		}
	}
}

func b2u(b bool) uint32 {
	if b {
		return 1
	}
	return 0
}
