package scene

import (
	"math"

	"simview/internal/light"
)

// pointSamples is the least diameter at which a lamp is drawn, in samples of the
// picture, so that it is found again in a thumbnail.
const pointSamples = 3

// discChords is how much nearer than its radius the chords of a disc stay to it:
// its light is then right to 4/3 of that.
const discChords = 1e4

// Light adds the lamps to a picture that Draw made, for looking at a scene alone,
// without an eye: each is a disc of its own size, or of three samples where that
// is more, that gives its light at the eye, but no primary more than mostCdM2:
//
//	L = E / Omega
//
// in cd/m², E in lux and Omega in steradian. Without that limit a display would
// show every lamp white.
func (s *Scene) Light(img *light.Image, mostCdM2 float64) {
	marks := make([]mark, len(s.Lamps))
	for i, l := range s.Lamps {
		marks[i] = disc(l, img.StepDeg, mostCdM2)
	}
	inBands(img.H, func(p *painter, j0, j1 int) {
		for i := range marks {
			p.paintMark(img, &marks[i], j0, j1)
		}
	})
}

// disc is a lamp as a mark that adds light.
func disc(l light.Lamp, stepDeg, most float64) mark {
	d := max(l.DiameterArcmin, pointSamples*stepDeg*60)
	c, r := pt{float64(l.At.X), float64(l.At.Y)}, d/120
	k := &ink{alpha: 1, add: true}
	dim := min(1/solidAngle(d), most/max(l.Lux[0], l.Lux[1], l.Lux[2]))
	for i, e := range l.Lux {
		k.rgb[i] = float32(e * dim)
	}
	return mark{
		outlines: [][]pt{arc(nil, c, r, r, 0, 2*math.Pi, r/discChords)},
		x0:       c.x - r, y0: c.y - r, x1: c.x + r, y1: c.y + r,
		ink: k,
	}
}

// factSamples is the number of samples across the frame that Range looks at.
const factSamples = 600

// Range returns the luminance of the darkest and of the brightest surface of
// the frame in cd/m², lamps left out, each the mean over a 600th of the width.
func (s *Scene) Range() (lo, hi float64) {
	lo = math.Inf(1)
	for _, v := range s.Draw(s.Grid(s.WidthDeg / factSamples)).Luminance(nil) {
		lo, hi = min(lo, float64(v)), max(hi, float64(v))
	}
	return lo, hi
}
