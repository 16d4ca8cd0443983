package render

import (
	"math"

	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/unit"
)

// addLamps adds the image of every lamp to dst, keep being the share of light
// the core keeps. A lamp that gives the eye E lux adds, to a sample of solid
// angle W sr that holds the share q of its PSF,
//
//	dL = keep E q / W
//
// and beyond the PSF's support its analytic tail, while that still shows.
func addLamps(dst *light.Image, lamps []light.Lamp, p *psf.PSF, keep, floorCdM2 float64) {
	support := float64(p.N) * p.StepDeg / 2
	for _, l := range lamps {
		d := drop{dst: dst, p: p, support: support, x: float64(l.At.X), y: float64(l.At.Y)}
		for c := range d.lux {
			d.lux[c] = keep * l.Lux[c]
		}
		d.draw(d.tailReach(floorCdM2), d.tail)
		for _, at := range discPoints(l.DiameterArcmin/60, dst.StepDeg) {
			e := d.share(at)
			e.draw(support, e.core)
		}
	}
}

// discPoints spreads a lamp of a visible size over its disc; a lamp smaller
// than half a sample is one point.
func discPoints(diameterDeg, stepDeg float64) []point {
	if diameterDeg < stepDeg/2 {
		return []point{{part: 1}}
	}
	const n = 37
	golden := math.Pi * (3 - math.Sqrt(5))
	pts := make([]point, n)
	for k := range pts {
		r := diameterDeg / 2 * math.Sqrt((float64(k)+0.5)/n)
		s, c := math.Sincos(float64(k) * golden)
		pts[k] = point{r * c, r * s, 1.0 / n}
	}
	return pts
}

type point struct{ x, y, part float64 }

type drop struct {
	dst     *light.Image
	p       *psf.PSF
	support float64 // degrees: half the width of the PSF's raster
	x, y    float64
	lux     [3]float64
	part    float64 // share of the lamp's light in this point of its disc
}

// share returns the drop of one of the points of a disc.
func (d drop) share(at point) drop {
	d.x, d.y, d.part = d.x+at.x, d.y+at.y, at.part
	return d
}

// draw adds density (sr^-1) times lux to every sample within reach.
func (d drop) draw(reach float64, density func(dx, dy, theta float64) float64) {
	g := d.dst.Grid
	i0, j0 := g.Pixel(d.x-reach, d.y+reach)
	i1, j1 := g.Pixel(d.x+reach, d.y-reach)
	left, right := max(0, int(i0)-1), min(g.W, int(i1)+2)
	top, bottom := max(0, int(j0)-1), min(g.H, int(j1)+2)
	if top >= bottom || left >= right {
		return
	}
	parallel(bottom-top, func(k int) { d.row(top+k, left, right, density) })
}

func (d drop) row(j, left, right int, density func(dx, dy, theta float64) float64) {
	for i := left; i < right; i++ {
		cx, cy := d.dst.Centre(i, j)
		v := density(cx-d.x, cy-d.y, math.Hypot(cx-d.x, cy-d.y))
		k := j*d.dst.W + i
		d.dst.R[k] += float32(d.lux[0] * v)
		d.dst.G[k] += float32(d.lux[1] * v)
		d.dst.B[k] += float32(d.lux[2] * v)
	}
}

// core is the transform's PSF averaged over a sample, fading out towards the
// edge of its support.
func (d drop) core(dx, dy, theta float64) float64 {
	fade := 1 - d.blend(theta)
	if fade == 0 {
		return 0
	}
	half := d.dst.StepDeg / 2
	omega := math.Pow(unit.Degrees(d.dst.StepDeg).Radians(), 2)
	return d.part * fade * d.p.Share(dx-half, dx+half, dy-half, dy+half) / omega
}

// tail is the analytic continuation, fading in where the core fades out.
func (d drop) tail(_, _, theta float64) float64 {
	t := d.blend(theta)
	if t == 0 {
		return 0
	}
	return t * d.p.Tail(theta)
}

// blend rises smoothly from 0 at 0.8 of the support to 1 at its edge.
func (d drop) blend(theta float64) float64 {
	const inner = 0.8
	t := (theta/d.support - inner) / (1 - inner)
	t = min(1, max(0, t))
	return t * t * (3 - 2*t)
}

// tailReach is how far the tail stays above the floor, at most 20 degrees.
func (d drop) tailReach(floorCdM2 float64) float64 {
	at := max(d.lux[0], d.lux[1], d.lux[2]) * d.p.Tail(d.support)
	if at <= floorCdM2 {
		return d.support
	}
	return min(20, d.support*math.Cbrt(at/floorCdM2))
}
