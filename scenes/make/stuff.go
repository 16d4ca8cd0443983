package main

import (
	"math"

	"simview/internal/studio"
)

// matt is a surface without a coat.
func matt(c rgb) *material { return &material{Surface: surface{Albedo: c}} }

// glazed is a surface under a smooth coat.
func glazed(c rgb, rough float64) *material {
	return &material{Surface: surface{Albedo: c, F0: 0.04, Rough: rough}}
}

// shining is a source of a luminance in cd/m².
func shining(c rgb) *material { return &material{Surface: surface{Glow: c}} }

// plaster is a painted wall, a little uneven.
func plaster(c rgb, n uint64) *material {
	return &material{Surface: surface{Albedo: c}, Plain: true, Vary: func(p v3, s *surface) {
		s.Albedo = c.Mul(1 + 0.04*studio.Fractal(p.Mul(6), n, 7, 0.9))
		s.Tilt = relief(p, 60, n+20, 4, 0.05)
	}}
}

// wooden is varnished wood with its grain along a direction.
func wooden(c rgb, along v3, ring, rough float64, n uint64) *material {
	return &material{Surface: surface{Albedo: c, F0: 0.04, Rough: rough}, Plain: true, Vary: func(p v3, s *surface) {
		k := studio.Wood(p, along, ring, n)
		s.Albedo = hue(c.R*k, c.G*math.Pow(k, 1.25), c.B*math.Pow(k, 1.5))
	}}
}

// relief is a tilt of the normal by noise with so many grains a metre.
func relief(p v3, grains float64, n uint64, octaves int, strength float64) v3 {
	q := p.Mul(grains)
	one := func(shift v3, n uint64) float64 { return studio.Fractal(q.Add(shift), n, octaves, 0.8) }
	return v(one(v3{}, n), one(v(31, 0, 0), n+50), one(v(0, 17, 0), n+90)).Mul(strength)
}

// slab returns a block between two corners.
func slab(a, b v3, m *material) body {
	return body{Shape: studio.Block{Centre: a.Add(b).Mul(0.5), Half: v3{
		X: math.Abs(b.X-a.X) / 2, Y: math.Abs(b.Y-a.Y) / 2, Z: math.Abs(b.Z-a.Z) / 2,
	}}, Material: m}
}

// level returns a level quad at a height, between two corners x, z.
func level(y, x0, z0, x1, z1 float64, m *material) body {
	return body{Shape: studio.Quad{At: v3{X: x0, Y: y, Z: z0}, U: v3{X: x1 - x0}, V: v3{Z: z1 - z0}}, Material: m}
}

// across returns an upright quad that faces the eye, at a distance z.
func across(z, x0, y0, x1, y1 float64, m *material) body {
	return body{Shape: studio.Quad{At: v3{X: x0, Y: y0, Z: z}, U: v3{X: x1 - x0}, V: v3{Y: y1 - y0}}, Material: m}
}

// along returns an upright quad that runs ahead, at a place x.
func along(x, y0, z0, y1, z1 float64, m *material) body {
	return body{Shape: studio.Quad{At: v3{X: x, Y: y0, Z: z0}, U: v3{Y: y1 - y0}, V: v3{Z: z1 - z0}}, Material: m}
}

// field is a solid around a centre whose function takes places from there.
func field(centre, half v3, steep float64, m *material, dist func(v3) float64) body {
	return body{Shape: studio.Field{Centre: centre, Half: half, Steep: steep, Dist: func(p v3) float64 {
		return dist(p.Sub(centre))
	}}, Material: m}
}

// ease rises from 0 to 1 while d goes from 0 to w.
func ease(d, w float64) float64 {
	t := min(max(d/w, 0), 1)
	return t * t * (3 - 2*t)
}

func floor(v float64) float64 { return math.Floor(v) }

// wrap returns the remainder of v in 0 to size.
func wrap(v, size float64) float64 { return v - size*math.Floor(v/size) }
