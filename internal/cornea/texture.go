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

// mound is one dot: a place, how far it reaches (one sigma) and its height.
type mound struct{ x, y, sigma, height float64 }

// Dots lie as they fall, none nearer to another than leastApart grains, so that
// none merge; they differ in size by nearly two.
const (
	leastApart             = 0.65
	leastSigma, mostSigma  = 0.12, 0.21 // of the grain
	dotThrows              = 200        // to a dot, before a place is given up
	leastHeight, topHeight = 0.4, 1.0
)

// dots throws mounds of random size and height over the square about the zone,
// one to every square of the grain.
func dots(r *rand.Rand, grainMM, zoneMM float64) texture {
	half := zoneMM + grainMM
	field := thrown{half: half, cell: leastApart * grainMM, at: map[[2]int][]mound{}}
	for range int(math.Round(4 * half * half / (grainMM * grainMM))) {
		for range dotThrows {
			d := mound{x: half * (2*r.Float64() - 1), y: half * (2*r.Float64() - 1)}
			if field.free(d) {
				d.sigma = grainMM * (leastSigma + (mostSigma-leastSigma)*r.Float64())
				d.height = leastHeight + (topHeight-leastHeight)*r.Float64()
				field.add(d)
				break
			}
		}
	}
	return func(dst []float64, x0, step, y float64) {
		clear(dst)
		for _, d := range field.all {
			d.addTo(dst, x0, step, y)
		}
	}
}

// thrown keeps mounds in square cells as wide as the least distance.
type thrown struct {
	half, cell float64
	all        []mound
	at         map[[2]int][]mound
}

func (t *thrown) key(d mound) [2]int {
	return [2]int{int(math.Floor(d.x / t.cell)), int(math.Floor(d.y / t.cell))}
}

// free reports whether no mound is nearer than a cell's width.
func (t *thrown) free(d mound) bool {
	k := t.key(d)
	for i := k[0] - 1; i <= k[0]+1; i++ {
		for j := k[1] - 1; j <= k[1]+1; j++ {
			for _, o := range t.at[[2]int{i, j}] {
				if math.Hypot(o.x-d.x, o.y-d.y) < t.cell {
					return false
				}
			}
		}
	}
	return true
}

func (t *thrown) add(d mound) {
	k := t.key(d)
	t.at[k] = append(t.at[k], d)
	t.all = append(t.all, d)
}

// addTo adds the mound, a Gaussian cut off at 5 sigma, to one row.
func (d mound) addTo(dst []float64, x0, step, y float64) {
	sigma := d.sigma
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

// fingerprint draws close lines at equal distances round a place in or beside the
// zone, bent by a slow random pattern v and in groups that come and go with
// another, g.
//
//	h = p(g) cos(2π (d + 0.07 R v) / grain),  p from 0.2 to 1
func fingerprint(r *rand.Rand, grainMM, zoneMM float64) texture {
	sin, cos := math.Sincos(2 * math.Pi * r.Float64())
	far := zoneMM * (0.4 + 0.9*r.Float64())
	cx, cy := far*cos, far*sin
	bend, group := waves(r, 1.6*zoneMM, 0, math.Pi), waves(r, 1.2*zoneMM, 0, math.Pi)
	return func(dst []float64, x0, step, y float64) {
		g := make([]float64, len(dst))
		bend(dst, x0, step, y)
		group(g, x0, step, y)
		for n, v := range dst {
			x := x0 + float64(n)*step
			d := math.Hypot(math.Hypot(x-cx, y-cy), grainMM) + 0.07*zoneMM*v
			p := 0.6 + 0.4*math.Tanh(1.5*g[n]+0.5)
			dst[n] = p * math.Cos(2*math.Pi*d/grainMM)
		}
	}
}
