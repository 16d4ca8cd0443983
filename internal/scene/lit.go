package scene

import (
	"math"

	"simview/internal/light"
)

// pointArcmin is the diameter at which a lamp without a size is drawn, in
// minutes of arc; a good eye makes no less of it.
const pointArcmin = 1

// DrawLit returns what Draw returns with the lamps lit, for a picture of the
// scene alone, without an eye: each lamp is a disc of its own size, or of one
// minute of arc where it is smaller, that gives its light at the eye:
//
//	L = E / Omega
//
// in cd/m², E in lux and Omega in steradian.
func (s *Scene) DrawLit(g light.Grid) *light.Image {
	img := s.Draw(g)
	marks := make([]mark, len(s.Lamps))
	for i, l := range s.Lamps {
		marks[i] = disc(l, g.StepDeg/chordsPerStep)
	}
	inBands(g.H, func(p *painter, j0, j1 int) {
		for i := range marks {
			p.paintMark(img, &marks[i], j0, j1)
		}
	})
	return img
}

// disc is a lamp as a mark that adds light.
func disc(l light.Lamp, tol float64) mark {
	d := max(l.DiameterArcmin, pointArcmin)
	c, r := pt{float64(l.At.X), float64(l.At.Y)}, d/120
	k := &ink{alpha: 1, add: true}
	for i, e := range l.Lux {
		k.rgb[i] = float32(e / solidAngle(d))
	}
	return mark{
		outlines: [][]pt{arc(nil, c, r, r, 0, 2*math.Pi, tol)},
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
