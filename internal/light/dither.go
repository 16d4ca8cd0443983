package light

import (
	"math"
	"math/rand/v2"
	"sync"
)

const (
	ditherSize  = 64  // side of the tile, pixels
	ditherSigma = 1.6 // reach of one point's repulsion, pixels
	ditherSeed  = 20  // any fixed number; it breaks ties between equal places
)

// ditherTile returns the 64 x 64 thresholds, each (k + 0.5)/4096 once, in an
// order that keeps points of equal threshold apart (blue noise): every next
// point goes where those before it lie farthest. Whole numbers only, so that
// every machine makes the same tile.
var ditherTile = sync.OnceValue(func() []float32 {
	const n = ditherSize * ditherSize
	push := repulsion()
	rng := rand.New(rand.NewPCG(ditherSeed, ditherSeed))
	energy := make([]int64, n)
	for i := range energy {
		energy[i] = rng.Int64N(1 << 16)
	}
	tile := make([]float32, n)
	for k := range n {
		at := lowest(energy)
		tile[at] = (float32(k) + 0.5) / n
		spread(energy, push, at)
		energy[at] = math.MaxInt64 / 2
	}
	return tile
})

// repulsion returns the Gaussian around a point on the tile's torus.
func repulsion() []int64 {
	p := make([]int64, ditherSize*ditherSize)
	for i := range p {
		x, y := wrapped(i%ditherSize), wrapped(i/ditherSize)
		p[i] = int64(math.Round(1e9 * math.Exp(-float64(x*x+y*y)/(2*ditherSigma*ditherSigma))))
	}
	return p
}

// wrapped returns the distance to zero on the torus.
func wrapped(x int) int { return min(x, ditherSize-x) }

func lowest(energy []int64) int {
	best := 0
	for i, e := range energy {
		if e < energy[best] {
			best = i
		}
	}
	return best
}

func spread(energy, push []int64, at int) {
	x0, y0 := at%ditherSize, at/ditherSize
	for y := range ditherSize {
		row := push[(y-y0+ditherSize)%ditherSize*ditherSize:]
		for x := range ditherSize {
			energy[y*ditherSize+x] += row[(x-x0+ditherSize)%ditherSize]
		}
	}
}
