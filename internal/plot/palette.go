package plot

import (
	"image/color"
	"math"
	"sort"
	"sync"

	"github.com/lucasb-eyer/go-colorful"
)

// Palette is a row of colours in which equal steps look equally large: a curve
// in CIE Lab, run through at an even pace of CIEDE2000. It is read-only.
type Palette struct {
	knots []lab     // the curve, smooth through every knot
	pace  []float64 // CIEDE2000 from the start to each of the fine stations
}

// lab is a colour in CIE Lab (D65), L from 0 to 100.
type lab struct{ l, a, b float64 }

// stations is into how many pieces the curve is cut to measure its pace: far
// finer than any step that is looked at.
const stations = 2048

// Diverging is the palette of paths: cold and dark below zero, without colour
// and light in the middle, warm and dark above. Both halves darken alike, so the
// sign is told by hue and the size by lightness.
func Diverging() *Palette { return diverging() }

var diverging = sync.OnceValue(func() *Palette {
	cold := newPalette(lab{97, 0, 0}, lab{80, -11, -17}, lab{58, -10, -33}, lab{33, 5, -39})
	warm := newPalette(lab{97, 0, 0}, lab{80, 10, 20}, lab{58, 28, 33}, lab{34, 33, 26})
	return joined(cold, warm)
})

// Glow is the palette of light: from near black over deep blue-green and amber to
// near white, lightness rising all the way.
func Glow() *Palette { return glow() }

var glow = sync.OnceValue(func() *Palette {
	return newPalette(lab{4, 0, -4}, lab{26, 4, -24}, lab{50, 16, -8}, lab{74, 16, 26}, lab{96, 0, 11})
})

func newPalette(knots ...lab) *Palette {
	p := &Palette{knots: knots, pace: make([]float64, stations+1)}
	before := p.along(0)
	for i := 1; i <= stations; i++ {
		here := p.along(float64(i) / stations)
		p.pace[i] = p.pace[i-1] + before.DistanceCIEDE2000(here)
		before = here
	}
	return p
}

// joined runs from the far end of one palette to the common start and on to the
// far end of the other. The longer half is cut where the other ends, so that the
// pace is the same on both sides.
func joined(down, up *Palette) *Palette {
	reach := math.Min(down.pace[stations], up.pace[stations])
	const pieces = 64
	var knots []lab
	for i := pieces; i > 0; i-- {
		knots = append(knots, down.reached(reach*float64(i)/pieces))
	}
	for i := range pieces + 1 {
		knots = append(knots, up.reached(reach*float64(i)/pieces))
	}
	return newPalette(knots...)
}

// along returns the colour a share t of the way, counted in knots.
func (p *Palette) along(t float64) colorful.Color { return p.knot(t).colour() }

func (p *Palette) knot(t float64) lab {
	u := t * float64(len(p.knots)-1)
	i := int(math.Min(u, float64(len(p.knots)-2)))
	f := u - float64(i)
	a, b := p.knots[i], p.knots[i+1]
	before, after := p.knots[max(i-1, 0)], p.knots[min(i+2, len(p.knots)-1)]
	return lab{
		smooth(before.l, a.l, b.l, after.l, f), smooth(before.a, a.a, b.a, after.a, f), smooth(before.b, a.b, b.b, after.b, f),
	}
}

// smooth is the Catmull-Rom cubic from b (f = 0) to c (f = 1).
//
//	b + ½ f ((c - a) + f ((2a - 5b + 4c - d) + f (3b - 3c + d - a)))
func smooth(a, b, c, d, f float64) float64 {
	return b + f/2*((c-a)+f*((2*a-5*b+4*c-d)+f*(3*b-3*c+d-a)))
}

// reached returns the colour at a distance (CIEDE2000) from the start.
func (p *Palette) reached(d float64) lab {
	i := sort.SearchFloat64s(p.pace, d)
	if i == 0 {
		return p.knots[0]
	}
	if i > stations {
		return p.knots[len(p.knots)-1]
	}
	f := (d - p.pace[i-1]) / (p.pace[i] - p.pace[i-1])
	return p.knot((float64(i-1) + f) / stations)
}

func (c lab) colour() colorful.Color { return colorful.Lab(c.l/100, c.a/100, c.b/100) }

// At returns the colour at t from 0 to 1; outside it is that of the nearer end.
func (p *Palette) At(t float64) color.NRGBA {
	r, g, b := p.exact(t).Clamped().RGB255()
	return color.NRGBA{R: r, G: g, B: b, A: 255}
}

func (p *Palette) exact(t float64) colorful.Color {
	return p.reached(math.Max(0, math.Min(1, t)) * p.pace[stations]).colour()
}
