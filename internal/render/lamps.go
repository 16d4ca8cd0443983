package render

import (
	"math"
	"slices"

	"simview/internal/fft"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/unit"
)

// lights draws lamps through the spread of each primary.
type lights struct {
	spread Spread
	glows  []*glow // one, or one a primary
}

func newLights(s Spread) lights {
	if s.shared() {
		return lights{s, []*glow{newGlow(s.G)}}
	}
	return lights{s, []*glow{newGlow(s.R), newGlow(s.G), newGlow(s.B)}}
}

// add adds the image of every lamp, see [glow.add].
func (l lights) add(dst *light.Image, lamps []light.Lamp, keep, floorCdM2 float64) {
	if len(l.glows) == 1 {
		l.glows[0].add(dst, lamps, keep, floorCdM2)
		return
	}
	for c, g := range l.glows {
		g.add(dst, inPrimary(lamps, c), keep, floorCdM2)
	}
}

// inPrimary returns the lamps as one primary shows them.
func inPrimary(lamps []light.Lamp, c int) []light.Lamp {
	only := slices.Clone(lamps)
	for k := range only {
		only[k].Lux = [3]float64{}
		only[k].Lux[c] = lamps[k].Lux[c]
	}
	return only
}

// glow draws lamps through one PSF.
type glow struct {
	p       *psf.PSF
	support float64 // degrees: half the width of the PSF's raster
	sums    sums    // of the PSF, from the first lamp on
}

func newGlow(p *psf.PSF) *glow {
	return &glow{p: p, support: float64(p.N) * p.StepDeg / 2}
}

// add adds the image of every lamp to dst, keep being the share of light the
// core keeps. A lamp that gives the eye E lux adds, to a sample of solid angle
// W sr that holds the share q of its PSF,
//
//	dL = keep E q / W
//
// and towards the edge of the PSF's support its analytic tail takes over, while
// that still shows above floorCdM2.
func (g *glow) add(dst *light.Image, lamps []light.Lamp, keep, floorCdM2 float64) {
	if g.sums.n == 0 && len(lamps) > 0 {
		g.sums = newSums(g.p.Pix, g.p.N)
	}
	for _, l := range lamps {
		d := drop{glow: g, dst: dst, x: float64(l.At.X), y: float64(l.At.Y)}
		for c := range d.lux {
			d.lux[c] = keep * l.Lux[c]
		}
		disc := chords(l.DiameterArcmin/60, dst.StepDeg)
		d.draw(d.tailReach(floorCdM2), d.tailRow)
		d.draw(g.support, func(j, left, right int) { d.coreRow(j, left, right, disc) })
	}
}

// chord is a level line of light: how far above the lamp's centre it lies, half
// its length, and its part of the lamp's light.
type chord struct{ up, half, part float64 }

// chords cuts a disc into level lines at most half a sample apart, so that none
// is seen by itself; a lamp smaller than half a sample is one point.
func chords(diameterDeg, stepDeg float64) []chord {
	if diameterDeg < stepDeg/2 {
		return []chord{{part: 1}}
	}
	n := int(math.Ceil(diameterDeg/(stepDeg/2))) + 1
	all := make([]chord, n)
	r, sum := diameterDeg/2, 0.0
	for k := range all {
		up := r * (2*(float64(k)+0.5)/float64(n) - 1)
		all[k] = chord{up: up, half: math.Sqrt(r*r - up*up)}
		sum += all[k].half
	}
	for k := range all {
		all[k].part = all[k].half / sum
	}
	return all
}

// drop is one lamp being drawn.
type drop struct {
	*glow
	dst  *light.Image
	x, y float64
	lux  [3]float64
}

// draw calls paint for every row within reach, with the columns within reach.
func (d drop) draw(reach float64, paint func(j, left, right int)) {
	g := d.dst.Grid
	i0, j0 := g.Pixel(d.x-reach, d.y+reach)
	i1, j1 := g.Pixel(d.x+reach, d.y-reach)
	left, right := max(0, int(i0)-1), min(g.W, int(i1)+2)
	top, bottom := max(0, int(j0)-1), min(g.H, int(j1)+2)
	if top >= bottom || left >= right {
		return
	}
	fft.InBlocks(bottom-top, func(lo, hi int) {
		for j := top + lo; j < top+hi; j++ {
			paint(j, left, right)
		}
	})
}

// coreRow adds the transform's PSF averaged over each sample, fading out
// towards the edge of its support.
func (d drop) coreRow(j, left, right int, disc []chord) {
	step := d.p.StepDeg
	omega := math.Pow(unit.Degrees(d.dst.StepDeg).Radians(), 2)
	half, mid := d.dst.StepDeg/2, float64(d.p.N)/2+0.5
	x0, y := d.dst.Centre(left, j)
	first, wide := mid+(x0-d.x-half)/step, d.dst.StepDeg/step // left edge and width of a sample, in those of the PSF
	share := make([]float64, right-left)
	for _, c := range disc {
		dy := y - d.y - c.up
		light := d.sums.between(mid-(dy+half)/step, mid-(dy-half)/step)
		was := light.before(first, c.half/step)
		for i := range share {
			now := light.before(first+float64(i+1)*wide, c.half/step)
			share[i] += c.part * max(0, now-was)
			was = now
		}
	}
	for i, v := range share {
		x, _ := d.dst.Centre(left+i, j)
		if fade := 1 - d.blend(x-d.x, y-d.y); fade > 0 {
			d.put(j*d.dst.W+left+i, fade*v/omega)
		}
	}
}

// tailRow adds the analytic continuation, fading in where the core fades out.
func (d drop) tailRow(j, left, right int) {
	_, y := d.dst.Centre(0, j)
	for i := left; i < right; i++ {
		x, _ := d.dst.Centre(i, j)
		in := d.blend(x-d.x, y-d.y)
		if in == 0 {
			continue
		}
		theta := math.Hypot(x-d.x, y-d.y)
		if t := in * TailShare(theta, d.support); t > 0 {
			d.put(j*d.dst.W+i, t*d.p.Tail(theta))
		}
	}
}

// put adds a density in sr^-1 times the lamp's light to sample k.
func (d drop) put(k int, density float64) {
	d.dst.R[k] += float32(d.lux[0] * density)
	d.dst.G[k] += float32(d.lux[1] * density)
	d.dst.B[k] += float32(d.lux[2] * density)
}

// tailEndDeg is where the tail of a PSF ends. What the rim of a usual pupil diffracts
// is in the CIE function that built the veil, which holds whole eyes: its 10/θ³ falls
// off as the tail does. From there on the veil alone is that function.
const tailEndDeg = 2

// TailShare is how much of a PSF's analytic tail is drawn at theta, both in degrees:
// all of it on the support, which ends at supportDeg, then less and less,
//
//	1 - t² (3 - 2 t),  t = log(θ/support) / log(end/support)
//
// and none from the end on, where the veil stands for the whole eye: 2 degrees, or
// one and a half times a support that is wider, as of an eye far out of focus.
func TailShare(thetaDeg, supportDeg float64) float64 {
	t := math.Log(thetaDeg/supportDeg) / math.Log(tailEnd(supportDeg)/supportDeg)
	t = min(1, max(0, t))
	return 1 - t*t*(3-2*t)
}

func tailEnd(supportDeg float64) float64 { return max(tailEndDeg, 1.5*supportDeg) }

// blend rises smoothly from 0 at 0.8 of the support to 1 at its edge.
func (g *glow) blend(x, y float64) float64 {
	const inner = 0.8
	r2, from := x*x+y*y, inner*g.support
	switch {
	case r2 <= from*from:
		return 0
	case r2 >= g.support*g.support:
		return 1
	}
	t := (math.Sqrt(r2)/g.support - inner) / (1 - inner)
	return t * t * (3 - 2*t)
}

// tailReach is how far the tail stays above the floor.
func (d drop) tailReach(floorCdM2 float64) float64 {
	at := max(d.lux[0], d.lux[1], d.lux[2]) * d.p.Tail(d.support)
	if at <= floorCdM2 {
		return d.support
	}
	return min(tailEnd(d.support), d.support*math.Cbrt(at/floorCdM2))
}
