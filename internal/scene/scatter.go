package scene

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
)

// strewn is one copy of a scattered part.
type strewn struct {
	at, scale xy
	dim       float64
}

// scatter draws the copies from the top of the area to its bottom, so that the
// nearer ones of a meadow stand before the farther.
func (m *marker) scatter(s *scatterShape, f frame) {
	for _, k := range s.copies() {
		m.list(m.scene.parts[s.Part], f.placed(placing{Scale: k.scale, Dim: k.dim}, k.at))
	}
}

// copies returns where the copies lie; the same seed gives the same ones.
func (s *scatterShape) copies() []strewn {
	r := rand.New(rand.NewPCG(uint64(s.Seed), 0xbb67ae8584caa73b))
	out := make([]strewn, s.Count)
	for i := range out {
		u, v := s.place(r)
		k := between(s.Scales, r.Float64()) * s.near(v)
		mirror := float64(1 - 2*r.IntN(2))
		out[i] = strewn{xy{s.At[0] + u*s.Size[0], s.At[1] + v*s.Size[1]}, xy{k * mirror, k}, between(s.Dims, r.Float64())}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].at[1] > out[b].at[1] })
	return out
}

// place returns a place in the area, each coordinate from 0 to 1. Below a
// horizon places are even in distance, which goes with 1 / depression:
//
//	d = 1 / (1/d1 + t (1/d0 - 1/d1)),  d0 at the top, d1 at the bottom
func (s *scatterShape) place(r *rand.Rand) (u, v float64) {
	for {
		u, v = r.Float64(), r.Float64()
		if s.Round && math.Hypot(2*u-1, 2*v-1) > 1 {
			continue
		}
		if s.Horizon != nil {
			d1 := *s.Horizon - s.At[1]
			d0 := d1 - s.Size[1]
			d := 1 / (1/d1 + v*(1/d0-1/d1))
			v = (d1 - d) / s.Size[1]
		}
		return u, v
	}
}

// near is the size at a height, 1 at the bottom.
func (s *scatterShape) near(v float64) float64 {
	if s.Horizon == nil {
		return 1
	}
	return (*s.Horizon - s.At[1] - v*s.Size[1]) / (*s.Horizon - s.At[1])
}

// between goes from the first to the second number in equal ratios.
func between(ends xy, t float64) float64 {
	if ends == (xy{}) {
		return 1
	}
	return ends[0] * math.Pow(ends[1]/ends[0], t)
}

func (s *scatterShape) check(onPlane bool) error {
	if s.Count < 1 || s.Count > 50_000 {
		return fmt.Errorf("count: must lie in 1 to 50000 (got %d)", s.Count)
	}
	if err := positive("size", s.Size[0], s.Size[1]); err != nil {
		return err
	}
	for _, e := range []struct {
		key  string
		ends xy
	}{{"scales", s.Scales}, {"dims", s.Dims}} {
		if e.ends != (xy{}) && !(e.ends[0] > 0 && e.ends[0] <= e.ends[1] && e.ends[1] <= 100) {
			return fmt.Errorf("%s: must be the smaller and the larger of two numbers above 0, at most 100 (got %v)", e.key, e.ends)
		}
	}
	if s.Horizon != nil && (onPlane || *s.Horizon <= s.At[1]+s.Size[1]) {
		return fmt.Errorf("horizon: must lie above the area, which must not stand on a plane (got %g)", *s.Horizon)
	}
	return nil
}
