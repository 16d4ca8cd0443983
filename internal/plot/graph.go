package plot

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"
)

// Curve is a line of a [Graph]. Places that are not finite, or below zero on a
// logarithmic axis, interrupt it.
type Curve struct {
	X, Y []float64
	Ink  int     // 0 to 7: the same number is the same colour on a whole page
	Dash float64 // pixels on and off; 0 = unbroken. Published functions are broken
}

// Tick is a mark on an axis: its words, and a power of ten behind them.
type Tick struct {
	At    float64
	Words string
	Power string // small and raised, after Words
}

// Axis is a quantity with its unit.
type Axis struct {
	Label    string
	From, To float64 // From < To, both above 0 on a logarithmic axis
	Log      bool
	Ticks    []Tick
}

// Graph is one diagram.
type Graph struct {
	Title  string
	X, Y   Axis
	Curves []Curve
}

// inks are the colours of curves; the first is that of what all others are
// compared with. Neighbours differ in lightness as well as in hue.
var inks = [...]color.NRGBA{
	{110, 120, 128, 255},
	{24, 92, 136, 255},
	{214, 134, 22, 255},
	{52, 128, 96, 255},
	{176, 44, 92, 255},
	{116, 84, 168, 255},
	{122, 96, 74, 255},
	{32, 44, 56, 255},
}

// check refuses an axis that runs backwards and curves that are none.
func (g *Graph) check() error {
	for _, a := range []Axis{g.X, g.Y} {
		if !(a.From < a.To) || a.Log && !(a.From > 0) || math.IsInf(a.To-a.From, 0) {
			return fmt.Errorf("graph %q: the axis %q runs from %g to %g", g.Title, a.Label, a.From, a.To)
		}
	}
	for i, k := range g.Curves {
		if len(k.X) != len(k.Y) || k.Ink < 0 || k.Ink >= len(inks) {
			return fmt.Errorf("graph %q: curve %d has %d places and %d values in colour %d", g.Title, i, len(k.X), len(k.Y), k.Ink)
		}
	}
	return nil
}

// share returns where a value lies along an axis, 0 to 1 inside.
func (a Axis) share(v float64) float64 {
	if a.Log {
		return math.Log(v/a.From) / math.Log(a.To/a.From)
	}
	return (v - a.From) / (a.To - a.From)
}

// Decades returns the powers of ten within an axis, every nth, as ticks.
func Decades(from, to float64, every int) []Tick {
	var out []Tick
	for k := int(math.Ceil(math.Log10(from) - 1e-9)); float64(k) <= math.Log10(to)+1e-9; k++ {
		if k%every == 0 {
			out = append(out, Tick{At: math.Pow(10, float64(k)), Words: "10", Power: minus(k)})
		}
	}
	return out
}

// minus writes a whole number with a true minus sign.
func minus(k int) string {
	if k < 0 {
		return "−" + strconv.Itoa(-k)
	}
	return strconv.Itoa(k)
}

// Room round the field of a graph, pixels.
const (
	graphLeft   = 84
	graphTop    = 72
	graphBottom = 74
	graphRight  = 16
)

// draw puts the graph into a box.
func (g *Graph) draw(c *canvas, r image.Rectangle) {
	c.write(title, ink, r.Min.X+graphLeft, r.Min.Y+22, g.Title)
	f := image.Rect(r.Min.X+graphLeft, r.Min.Y+graphTop, r.Max.X-graphRight, r.Max.Y-graphBottom)
	c.write(small, soft, f.Min.X, f.Min.Y-12, g.Y.Label)
	c.middle(small, soft, (f.Min.X+f.Max.X)/2, f.Max.Y+54, g.X.Label)
	at := func(x, y float64) pixel {
		return pixel{float64(f.Min.X) + g.X.share(x)*float64(f.Dx()), float64(f.Max.Y) - g.Y.share(y)*float64(f.Dy())}
	}
	c.fill(panel, corners(f))
	for _, t := range g.X.Ticks {
		p := at(t.At, g.Y.From)
		c.stroke(frame, 1, []pixel{p, {p.x, float64(f.Min.Y)}})
		c.tick(t, int(p.x)-t.width()/2, f.Max.Y+24)
	}
	for _, t := range g.Y.Ticks {
		p := at(g.X.From, t.At)
		c.stroke(frame, 1, []pixel{p, {float64(f.Max.X), p.y}})
		c.tick(t, f.Min.X-10-t.width(), int(p.y)+6)
	}
	c.stroke(frame, 1.5, closed(corners(f)))
	in := c.in(f)
	for _, k := range g.Curves {
		k.draw(in, at)
	}
}

// tiny is the size of a raised power.
var tiny = style{PX: 12}

func (t Tick) width() int { return small.Width(t.Words) + tiny.Width(t.Power) }

func (c *canvas) tick(t Tick, x, y int) {
	c.write(small, ink, x, y, t.Words)
	if t.Power != "" {
		c.write(tiny, ink, x+small.Width(t.Words), y-7, t.Power)
	}
}

// draw strokes the pieces between interruptions.
func (k Curve) draw(c *canvas, at func(x, y float64) pixel) {
	var piece []pixel
	flush := func() {
		if k.Dash > 0 {
			c.dash(inks[k.Ink], 2, k.Dash, k.Dash, piece)
		} else {
			c.stroke(inks[k.Ink], 2.5, piece)
		}
		piece = nil
	}
	for i := range k.X {
		p := at(k.X[i], k.Y[i])
		const far = 1e5 // pixels: off any page
		if !(math.Abs(p.x) < far && math.Abs(p.y) < far) {
			flush()
			continue
		}
		piece = append(piece, p)
	}
	flush()
}
