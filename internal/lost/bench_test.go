package lost_test

import (
	"testing"

	"simview/internal/lost"
	"simview/scenes"
)

// BenchmarkLook is one state of an eye on the quick grid, its spread at hand.
func BenchmarkLook(b *testing.B) {
	sc, err := scenes.Builtin("tide-table")
	if err != nil {
		b.Fatal(err)
	}
	st := stage(b, sc, lost.QuickStepDeg)
	v := view(3, -1)
	p := spread(b, v)
	reference := st.Look(v, p)
	for b.Loop() {
		against(b, st.Look(v, p), reference)
	}
}
