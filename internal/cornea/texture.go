package cornea

import (
	"math"
	"math/rand/v2"
)

// texture writes one row of a pattern, of any mean and strength, at the points
// (x0 + i step, y), in mm about the centre of the zone.
type texture func(dst []float64, x0, step, y float64)

// seedStream keeps the surface's random numbers apart from those of other
// rooms that may be given the same seed.
const seedStream = 0x636f726e6561

func textureOf(q Irregularity) texture {
	r := rand.New(rand.NewPCG(q.Seed, seedStream))
	switch q.Kind {
	case Ridges:
		return ridges(r, q.GrainMM)
	case Dots:
		return dots(r, q.GrainMM, q.ZoneRadiusMM)
	case Fingerprint:
		return fingerprint(r, q.GrainMM, q.ZoneRadiusMM)
	}
	return waves(r, q.GrainMM, 0, math.Pi)
}

// waveCount is how many plane waves make up a random pattern; from about fifty
// on the sum is close to a Gaussian field.
const waveCount = 64

// waves returns a sum of plane waves of unit variance with periods within a
// factor 1.4 of the given one and directions within spread of the given one.
func waves(r *rand.Rand, periodMM, direction, spread float64) texture {
	var kx, ky, phase [waveCount]float64
	for i := range waveCount {
		k := 2 * math.Pi / (periodMM * math.Pow(1.4, 2*r.Float64()-1))
		sin, cos := math.Sincos(direction + spread*(2*r.Float64()-1))
		kx[i], ky[i], phase[i] = k*cos, k*sin, 2*math.Pi*r.Float64()
	}
	return func(dst []float64, x0, step, y float64) {
		clear(dst)
		for i := range waveCount {
			addWave(dst, kx[i]*x0+ky[i]*y+phase[i], kx[i]*step)
		}
	}
}

// addWave adds √(2/waveCount) cos(phase + n turn) to dst[n].
func addWave(dst []float64, phase, turn float64) {
	s, c := math.Sincos(phase)
	sin, cos := math.Sincos(turn)
	amplitude := math.Sqrt(2.0 / waveCount)
	for n := range dst {
		dst[n] += amplitude * c
		c, s = c*cos-s*sin, s*cos+c*sin
	}
}

// ridges raises the lines along which a pattern of waves crosses zero: two per
// period, hence the doubled period.
func ridges(r *rand.Rand, grainMM float64) texture {
	base := waves(r, 2*grainMM, math.Pi*r.Float64(), 0.4)
	return func(dst []float64, x0, step, y float64) {
		base(dst, x0, step, y)
		for n, v := range dst {
			dst[n] = math.Exp(-v * v / 0.64)
		}
	}
}

// mound is one dot.
type mound struct{ x, y, height float64 }

// dots sets a mound of random height into each cell of a square mesh, up to a
// fifth of the grain off its middle both ways, so that no two mounds merge.
func dots(r *rand.Rand, grainMM, zoneMM float64) texture {
	var all []mound
	cells := int(math.Ceil(zoneMM/grainMM)) + 1
	for i := -cells; i <= cells; i++ {
		for j := -cells; j <= cells; j++ {
			all = append(all, mound{
				grainMM * (float64(i) + 0.4*(r.Float64()-0.5)),
				grainMM * (float64(j) + 0.4*(r.Float64()-0.5)),
				0.4 + 0.6*r.Float64(),
			})
		}
	}
	sigma := grainMM / 5
	return func(dst []float64, x0, step, y float64) {
		clear(dst)
		for _, d := range all {
			d.addTo(dst, x0, step, y, sigma)
		}
	}
}

// addTo adds the mound, a Gaussian cut off at 5 sigma, to one row.
func (d mound) addTo(dst []float64, x0, step, y, sigma float64) {
	dy := (y - d.y) / sigma
	if math.Abs(dy) > 5 {
		return
	}
	first := max(0, int(math.Ceil((d.x-5*sigma-x0)/step)))
	last := min(len(dst)-1, int(math.Floor((d.x+5*sigma-x0)/step)))
	for n := first; n <= last; n++ {
		dx := (x0 + float64(n)*step - d.x) / sigma
		dst[n] += d.height * math.Exp(-(dx*dx+dy*dy)/2)
	}
}

// fingerprint draws lines at equal distances round a whorl near the edge of the
// zone, bent by a slow random pattern.
func fingerprint(r *rand.Rand, grainMM, zoneMM float64) texture {
	sin, cos := math.Sincos(2 * math.Pi * r.Float64())
	cx, cy := 0.7*zoneMM*cos, 0.7*zoneMM*sin
	bend := waves(r, 2*zoneMM, 0, math.Pi)
	return func(dst []float64, x0, step, y float64) {
		bend(dst, x0, step, y)
		for n, v := range dst {
			x := x0 + float64(n)*step
			d := math.Sqrt((x-cx)*(x-cx) + (y-cy)*(y-cy) + grainMM*grainMM)
			dst[n] = math.Cos(2*math.Pi*d/grainMM + 1.5*v)
		}
	}
}
