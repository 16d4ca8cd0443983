package studio

import (
	"runtime"
	"testing"

	"simview/internal/light"
)

func TestTheSameSeedGivesTheSameFilmOnAnyNumberOfCores(t *testing.T) {
	w := NewWorld(room(&Material{Surface: Surface{Albedo: Grey(0.5), Glow: Grey(1), F0: 0.04, Rough: 0.2}}), nil, nil)
	g := light.GridAround(0, 0, 12, 12, 2)
	film := func(cores int, seed uint64) *light.Image {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		f := Take(w, Camera{}, g, 2, seed)
		f.Clean()
		return f.Picture()
	}
	a, b, c := film(1, 7), film(4, 7), film(4, 8)
	differ := 0
	for i := range a.R {
		if a.R[i] != b.R[i] {
			t.Fatalf("sample %d: %g and %g", i, a.R[i], b.R[i])
		}
		if a.R[i] != c.R[i] {
			differ++
		}
	}
	if differ == 0 {
		t.Error("another seed gave the same film")
	}
}

// room returns six quads around the origin, 2 m wide, of one material.
func room(m *Material) []Body {
	var out []Body
	for _, s := range []float64{-1, 1} {
		out = append(
			out,
			Body{Quad{V3{s, -1, -1}, V3{0, 2, 0}, V3{0, 0, 2}}, m},
			Body{Quad{V3{-1, s, -1}, V3{2, 0, 0}, V3{0, 0, 2}}, m},
			Body{Quad{V3{-1, -1, s}, V3{2, 0, 0}, V3{0, 2, 0}}, m},
		)
	}
	return out
}
