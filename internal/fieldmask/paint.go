package fieldmask

import (
	"math"

	"simview/internal/light"
)

// Where painted ways show: nothing of them up to the first loss, all from the
// second, dB. An assumption: people notice a place from about a moderate loss on.
const (
	paintFromDB = 6.0
	paintFullDB = 12.0
)

// What is left of the light in a dark patch, and how thick the veil is.
const (
	darkLeaves = 0.02
	veilShare  = 0.85
)

// blurContrast is the contrast that Blurred takes all detail to have, so that its
// fineness alone decides; about that of a faint shadow.
const blurContrast = 0.1

// painted reports whether a way is painted over the picture.
func (a Appearance) painted() bool { return a == Missing || a == Dark || a == Veil }

// painting is what a painted way mixes into the picture.
type painting struct {
	to    [3]mapOf // the light it goes to, cd/m²
	share float32  // at full depth
}

// newPainting works out what is mixed into a picture.
func newPainting(in Light, loss Loss, opt Options) *painting {
	g := in.Retina.Grid
	if opt.Appearance == Dark {
		black := everywhere(0)
		return &painting{to: [3]mapOf{black, black, black}, share: 1 - darkLeaves}
	}
	soft, _ := cutLamps(in, typical(g, in.Retina.Luminance(nil)))
	if opt.Appearance == Veil {
		grey := everywhere(mean(blockMeans(g, soft.Luminance(nil)).v))
		return &painting{to: [3]mapOf{grey, grey, grey}, share: veilShare}
	}
	p := &painting{share: 1}
	blocks, _ := blockGrid(g)
	missing := depthMap(blocks, loss, opt)
	for c, plane := range soft.Planes() {
		p.to[c] = carryOn(blockMeans(g, plane), missing)
	}
	return p
}

// everywhere is a map of one value.
func everywhere(v float32) mapOf {
	return mapOf{light.Grid{W: 1, H: 1, StepDeg: 1}, []float32{v}}
}

// depthMap is the depth of the painting, 0 to 1, on a grid.
func depthMap(g light.Grid, loss Loss, opt Options) []float32 {
	out := make([]float32, g.Len())
	for q := range out {
		x, y := g.Centre(q%g.W, q/g.W)
		db := loss(x-float64(opt.Gaze.X), y-float64(opt.Gaze.Y))
		out[q] = float32(smoothStep((db - paintFromDB) / (paintFullDB - paintFromDB)))
	}
	return out
}

// over mixes the painting into a picture:
//
//	L' = L + share m (to - L)
func (p *painting) over(m *light.Image, loss Loss, opt Options) {
	depth := newMap(m.Grid, 0, func(_, _ float64) float64 { return 0 })
	depth.v = depthMap(depth.Grid, loss, opt)
	xs, ys := depth.cells(m.Grid)
	for c, plane := range m.Planes() {
		to := p.to[c]
		tx, ty := to.cells(m.Grid)
		for q, l := range plane {
			i, j := q%m.W, q/m.W
			if d := p.share * depth.at(xs[i], ys[j]); d > 0 {
				plane[q] = l + d*(to.at(tx[i], ty[j])-l)
			}
		}
	}
}

// The light of the surround is carried on in so many rounds, each going beyond the
// step that is due (successive over-relaxation).
const (
	carrySweeps = 300
	carryBeyond = 1.9
)

// carryOn fills what is missing with the light around it, as a stretched skin:
//
//	v = (1 - m) src + m mean of the four neighbours,  m missing
//
// with a trace of the mean of what is left, to which a picture without any
// surround goes.
func carryOn(src mapOf, missing []float32) mapOf {
	const towardsMean = 1e-4
	out := src.like(func(q int, _, _ float64) float64 { return float64(src.v[q]) })
	w, h := src.W, src.H
	level := kept(src.v, missing)
	for q, m := range missing {
		out.v[q] += m * (level - out.v[q])
	}
	for range carrySweeps {
		for q, m := range missing {
			if m == 0 {
				continue
			}
			i, j := q%w, q/w
			four := out.v[j*w+max(i-1, 0)] + out.v[j*w+min(i+1, w-1)] + out.v[max(j-1, 0)*w+i] + out.v[min(j+1, h-1)*w+i]
			due := (1-m)*src.v[q] + m*(four/4+towardsMean*(level-four/4))
			out.v[q] += carryBeyond * (due - out.v[q])
		}
	}
	return out
}

// kept is the mean of what is not missing, or of all where nothing is left.
func kept(v, missing []float32) float32 {
	sum, weight := 0.0, 0.0
	for q, a := range v {
		k := math.Max(1-float64(missing[q]), 1e-6)
		sum, weight = sum+k*float64(a), weight+k
	}
	return float32(sum / weight)
}

// mean is that of all.
func mean(v []float32) float32 { return kept(v, make([]float32, len(v))) }
