package studio

import "math"

// lattice is a number in -1 to 1 for a point of the lattice.
func lattice(x, y, z int64, seed uint64) float64 {
	h := seed*0x9e3779b97f4a7c15 + uint64(x)*0xbf58476d1ce4e5b9
	h = (h ^ h>>31) * 0x94d049bb133111eb
	h ^= uint64(y) * 0xff51afd7ed558ccd
	h = (h ^ h>>29) * 0xc4ceb9fe1a85ec53
	h ^= uint64(z) * 0xd1b54a32d192ed03
	h = (h ^ h>>32) * 0xbf58476d1ce4e5b9
	h ^= h >> 29
	return float64(int64(h)) / (1 << 63)
}

func ease(t float64) float64 { return t * t * (3 - 2*t) }

// Noise returns smooth noise with grains of size 1, in -1 to 1, mean 0.
func Noise(p V3, seed uint64) float64 {
	fx, fy, fz := math.Floor(p.X), math.Floor(p.Y), math.Floor(p.Z)
	x, y, z := int64(fx), int64(fy), int64(fz)
	u, v, w := ease(p.X-fx), ease(p.Y-fy), ease(p.Z-fz)
	row := func(y, z int64) float64 {
		a := lattice(x, y, z, seed)
		return a + u*(lattice(x+1, y, z, seed)-a)
	}
	sheet := func(z int64) float64 {
		a := row(y, z)
		return a + v*(row(y+1, z)-a)
	}
	a := sheet(z)
	return a + w*(sheet(z+1)-a)
}

// Fractal returns noise of several octaves, each half the grain of the one
// before and keep times its strength (1: amplitude falls as one over frequency),
// with a root mean square of about 0.3.
func Fractal(p V3, seed uint64, octaves int, keep float64) float64 {
	sum, k, e := 0.0, 1.0, 0.0
	for o := range octaves {
		sum += k * Noise(p, seed+uint64(o))
		e += k * k
		k *= keep
		p = V3{p.X*2 + 17.3, p.Y*2 - 5.1, p.Z*2 + 8.7}
	}
	return sum / math.Sqrt(e)
}

// Wood returns a factor of about 1 for boards along an axis (the direction in
// which the grain runs), rings of a size in m.
func Wood(p, along V3, ring float64, seed uint64) float64 {
	q := p.Sub(along.Mul(0.94 * p.Dot(along))) // stretched along the grain
	q = q.Mul(1 / ring)
	bend := 1.6 * Fractal(q.Mul(0.22), seed, 3, 0.6)
	rings := math.Sin(2*math.Pi*(q.X*0.5+q.Z*0.23+q.Y*0.41) + 4*bend)
	return 1 + 0.13*rings + 0.16*Fractal(q.Mul(1.7), seed+9, 5, 0.75)
}

// Weave returns a factor of about 1 for cloth with threads of a width in m that
// lies level, with a little unevenness of the threads.
func Weave(p V3, thread float64, seed uint64) float64 {
	a, b := math.Sin(math.Pi*p.X/thread), math.Sin(math.Pi*p.Z/thread)
	return 1 + 0.05*a*b + 0.05*Fractal(p.Mul(60), seed, 4, 0.9)
}
