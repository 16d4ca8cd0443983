//go:build !race

package studio

import (
	"math"
	"testing"
)

// The same solids as exact shapes and as fields: two ways to the same place.
func TestFieldsMeetRaysWhereExactShapesDo(t *testing.T) {
	half := V3{0.5, 0.3, 0.2}
	a, b := V3{-0.3, -0.1, 0}, V3{0.3, 0.2, 0.1}
	pairs := []struct {
		name  string
		exact Shape
		dist  func(V3) float64
	}{
		{"ball", Ball{V3{}, 0.4}, func(p V3) float64 { return Ellipsoid(p, V3{0.4, 0.4, 0.4}) }},
		{"block", Block{Half: half}, func(p V3) float64 { return RoundBlock(p, half, 1e-6) }},
		{"rod", Rod{a, b, 0.15}, func(p V3) float64 { return Capsule(p, a, b, 0.15, 0.15) }},
		{"turned block", Block{Half: half, TurnDeg: 35}, func(p V3) float64 { return RoundBlock(p.RotY(-35), half, 1e-6) }},
	}
	const off = 1e-3 // where a ray grazes, steps of 1e-5 m end early by this much
	for _, c := range pairs {
		f := Field{Dist: c.dist, Half: V3{1, 1, 1}}
		hits := 0
		for i := range 400 {
			s := newSampler(1, i, 0, 4)
			target := V3{s.one() - 0.5, s.one() - 0.5, s.one() - 0.5}
			r := ray{V3{0.2, 0.4, -3}, target.Sub(V3{0.2, 0.4, -3}).Unit()}
			t1, n1, ok1 := c.exact.hit(r, 100)
			t2, n2, ok2 := f.hit(r, 100)
			if ok1 && -n1.Dot(r.d) < 0.1 { // grazing
				continue
			}
			if ok1 != ok2 && ok1 {
				t.Errorf("%s: ray %d meets one of them only", c.name, i)
			}
			if !ok1 || !ok2 {
				continue
			}
			hits++
			if math.Abs(t1-t2) > off {
				t.Errorf("%s: ray %d: %g m and %g m", c.name, i, t1, t2)
			}
			if c.name == "ball" && n1.Dot(n2) < 0.999 {
				t.Errorf("%s: ray %d: normals %v and %v", c.name, i, n1, n2)
			}
		}
		if hits < 50 {
			t.Errorf("%s: only %d rays met it", c.name, hits)
		}
	}
}

func TestTheTreeFindsWhatASearchOfAllFinds(t *testing.T) {
	var bodies []Body
	for i := range 60 {
		s := newSampler(3, i, 0, 4)
		bodies = append(bodies, Body{Ball{V3{4*s.one() - 2, 4*s.one() - 2, 4 * s.one()}, 0.3}, &Material{}})
	}
	w := NewWorld(bodies, nil, nil)
	for i := range 500 {
		s := newSampler(4, i, 0, 4)
		r := ray{V3{0, 0, -5}, V3{s.one() - 0.5, s.one() - 0.5, 1}.Unit()}
		want, near := -1, math.MaxFloat64
		for k, b := range bodies {
			if d, _, ok := b.Shape.hit(r, near); ok {
				want, near = k, d
			}
		}
		if got, at, _ := w.tree.nearest(bodies, r, math.MaxFloat64, false); got != want || at != near {
			t.Fatalf("ray %d: body %d at %g, want %d at %g", i, got, at, want, near)
		}
	}
}

func TestNoiseHasNoMeanAndItsOctavesTheirStrength(t *testing.T) {
	var one, many tally
	for i := range 20000 {
		s := newSampler(5, i, 0, 4)
		p := V3{100 * s.one(), 100 * s.one(), 100 * s.one()}
		one.add(Noise(p, 1))
		many.add(Fractal(p, 2, 5, 1))
	}
	n := 20000.0
	for _, c := range []tally{one, many} {
		rms := math.Sqrt(c.squares / n)
		// Uniform nodes have 1/sqrt(3); easing keeps (26/35)^3 of the variance.
		want := math.Sqrt(1.0 / 3 * math.Pow(26.0/35, 3))
		if math.Abs(c.sum/n) > 0.01 || math.Abs(rms/want-1) > 0.05 {
			t.Errorf("mean %g, rms %g, want 0 and %g", c.sum/n, rms, want)
		}
	}
}
