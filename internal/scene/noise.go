package scene

import (
	"math"

	"simview/internal/light"
)

// splineSum is the integral of the quadratic B-spline from -infinity to u:
//
//	I(u) = (u + 3/2)^3 / 6          -3/2 <= u <= -1/2
//	I(u) = 1/2 + 3u/4 - u^3/3       -1/2 <= u <=  1/2
//	I(u) = 1 - (3/2 - u)^3 / 6       1/2 <= u <=  3/2
func splineSum(u float64) float64 {
	switch {
	case u <= -1.5:
		return 0
	case u < -0.5:
		return cube(u+1.5) / 6
	case u <= 0.5:
		return 0.5 + 0.75*u - cube(u)/3
	case u < 1.5:
		return 1 - cube(1.5-u)/6
	}
	return 1
}

func cube(v float64) float64 { return v * v * v }

// octaveRMS is the rms of one octave: nodes spread evenly over -1..1 (1/3)
// through a quadratic spline in each direction (66/120 of the variance each).
var octaveRMS = math.Sqrt(1.0/3) * 66 / 120

// mostGrains is the number of grains in a pixel beyond which an octave is left
// out: the mean over them is then a tenth of its amplitude.
const mostGrains = 100

// node is the noise at a lattice point, -1 to 1.
func node(seed int64, octave, i, j int) float64 {
	h := uint64(seed)*0x9e3779b97f4a7c15 + uint64(octave)*0xd1b54a32d192ed03
	h ^= uint64(int64(i)) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>31) * 0x94d049bb133111eb
	h ^= uint64(int64(j)) * 0xff51afd7ed558ccd
	h = (h ^ h>>29) * 0xc4ceb9fe1a85ec53
	h ^= h >> 32
	return float64(int64(h)) / (1 << 63)
}

// noiseRow is the working memory of one row of texture.
type noiseRow struct{ nodes, sums, weights []float64 }

// fill sets dst[i] to the mean of 1 + noise over pixel (ia+i, j), never
// negative.
func (n *noiseRow) fill(dst []float32, t *texture, g light.Grid, j, ia int) {
	for i := range dst {
		dst[i] = 1
	}
	amp := t.Amplitude / octaveRMS / math.Sqrt(float64(t.Octaves))
	top := g.TopDeg - float64(j)*g.StepDeg
	left := g.LeftDeg + float64(ia)*g.StepDeg
	for o := range int(t.Octaves) {
		k := math.Ldexp(1, o)
		u, du, v0, v1, ok := t.lattice(left, g.StepDeg, top, k)
		if !ok || max(du, 1)*max(v1-v0, 1) > mostGrains {
			continue
		}
		n.octave(dst, int64(t.Seed), o, amp, u, du, v0, v1)
	}
	for i := range dst {
		dst[i] = max(dst[i], 0)
	}
}

// lattice gives a row's place in cells: left border, width of a pixel, and the
// row's extent. On level ground a direction y below the horizon meets the
// ground h / tan(-y) ahead.
func (t *texture) lattice(left, step, top, k float64) (u, du, v0, v1 float64, ok bool) {
	cx, cy := t.Cell[0]/k, t.Cell[1]/k
	if t.GroundM == 0 {
		return left / cx, step / cx, (top - step) / cy, top / cy, true
	}
	const rad = math.Pi / 180
	if top > -step {
		return 0, 0, 0, 0, false
	}
	near, far := t.GroundM/math.Tan((step-top)*rad), t.GroundM/math.Tan(-top*rad)
	z := t.GroundM / math.Tan((step/2-top)*rad)
	return left * rad * z / cx, step * rad * z / cx, near / cy, far / cy, true
}

// octave adds one octave of noise: the rows of nodes are averaged over the
// row's extent, then integrated along it.
func (n *noiseRow) octave(dst []float32, seed int64, o int, amp, u, du, v0, v1 float64) {
	j0, j1 := int(math.Floor(v0-1.5)), int(math.Ceil(v1+1.5))
	i0 := int(math.Floor(u - 2.5))
	i1 := int(math.Ceil(u+du*float64(len(dst)+1))) + 3
	n.size(i1-i0+1, j1-j0+1)
	for j := j0; j <= j1; j++ {
		n.weights[j-j0] = (splineSum(v1-float64(j)) - splineSum(v0-float64(j))) / (v1 - v0)
	}
	sum := 0.0
	for i := i0; i <= i1; i++ {
		v := 0.0
		for j, w := range n.weights {
			if w != 0 {
				v += w * node(seed, o, i, j0+j)
			}
		}
		n.nodes[i-i0], n.sums[i-i0] = v, sum
		sum += v
	}
	last := n.integral(u - float64(i0))
	for i := range dst {
		next := n.integral(u - float64(i0) + float64(i+1)*du)
		dst[i] += float32(amp * (next - last) / du)
		last = next
	}
}

// integral is the sum of nodes[k] I(u - k) over all k.
func (n *noiseRow) integral(u float64) float64 {
	k := int(math.Ceil(u - 1.5))
	f := u - float64(k) // 0.5 < f <= 1.5 is the first spline not yet full
	v := n.nodes[k : k+3]
	return n.sums[k] + v[0]*(1-cube(1.5-f)/6) + v[1]*splineSum(f-1) + v[2]*splineSum(f-2)
}

func (n *noiseRow) size(across, down int) {
	if cap(n.nodes) < across {
		n.nodes, n.sums = make([]float64, across), make([]float64, across)
	}
	if cap(n.weights) < down {
		n.weights = make([]float64, down)
	}
	n.nodes, n.sums, n.weights = n.nodes[:across], n.sums[:across], n.weights[:down]
}
