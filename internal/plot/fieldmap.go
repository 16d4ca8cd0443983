package plot

import (
	"fmt"
	"image"
	"image/color"
	"math"
)

// FieldMap is a map of one quantity over a visual field, as the patient sees it,
// degrees from fixation.
type FieldMap struct {
	Title   string
	HalfDeg float64                          // half the side that is drawn
	Value   func(xDeg, yDeg float64) float64 // dB >= 0; NaN where nothing is known
	Doubt   bool                             // the quantity is how unsure the loss is: cold colours
	EndDB   float64                          // value of the strongest colour
	EveryDB float64                          // a line wherever the value passes a multiple of this
	Deeper  func(xDeg, yDeg float64) bool    // hatched: the loss may be deeper; nil: nowhere
	Blind   func(xDeg, yDeg float64) bool    // the blind spot; nil: none
	Tested  func(xDeg, yDeg float64) bool    // a broken line round it; nil: none
	Marks   []FieldMark                      // what was measured
	Left    string                           // words at the rims
	Right   string
}

// FieldMark is a number at a tested place.
type FieldMark struct {
	XDeg, YDeg float64
	Words      string
}

// check refuses a map that cannot be drawn.
func (m *FieldMap) check() error {
	for _, v := range []float64{m.HalfDeg, m.EndDB, m.EveryDB} {
		if !(v > 0) || math.IsInf(v, 1) {
			return fmt.Errorf("field map %q: half side, end of the colours and distance of the lines must be above 0 (got %g, %g, %g)", m.Title, m.HalfDeg, m.EndDB, m.EveryDB)
		}
	}
	if m.Value == nil {
		return fmt.Errorf("field map %q: has no values", m.Title)
	}
	return nil
}

// The inks of a field map: nothing of it is black, since nobody sees black there.
var (
	unknownInk  = color.NRGBA{233, 232, 226, 255}
	unknownLine = color.NRGBA{214, 212, 204, 255}
	deeperInk   = color.NRGBA{255, 255, 255, 150}
	blindInk    = color.NRGBA{70, 110, 104, 255}
	gridInk     = color.NRGBA{32, 44, 56, 70}
)

// ink returns the colour of a value: one half of the diverging palette, warm for a
// loss, cold for a doubt.
func (m *FieldMap) ink(p *Palette, v float64) color.NRGBA {
	t := math.Min(v/m.EndDB, 1) / 2
	if m.Doubt {
		return p.At(.5 - t)
	}
	return p.At(.5 + t)
}

// frameOf is how a map lies on paper.
type frameOf struct {
	box  image.Rectangle
	half float64
}

func (f frameOf) at(x, y float64) pixel {
	s := float64(f.box.Dx()) / (2 * f.half)
	return pixel{float64(f.box.Min.X) + (x+f.half)*s, float64(f.box.Min.Y) + (f.half-y)*s}
}

// place is the direction of the middle of a pixel, counted in the box.
func (f frameOf) place(i, j int) (x, y float64) {
	s := 2 * f.half / float64(f.box.Dx())
	return (float64(i)+.5)*s - f.half, f.half - (float64(j)+.5)*s
}

// draw fills the square box.
func (m *FieldMap) draw(c *canvas, box image.Rectangle) {
	f := frameOf{box, m.HalfDeg}
	c = c.in(box)
	m.colours(c, f)
	m.rings(c, f)
	if m.Tested != nil {
		m.border(c, f, m.Tested, soft, true)
	}
	if m.Blind != nil {
		m.border(c, f, m.Blind, blindInk, false)
	}
	for _, k := range m.Marks {
		m.mark(c, f, k)
	}
	c.stroke(frame, 2, closed(corners(box.Inset(1))))
}

// colours paints values, lines, hatching and what is unknown, pixel by pixel.
func (m *FieldMap) colours(c *canvas, f frameOf) {
	p := Diverging()
	n := f.box.Dx()
	above := make([]float64, n) // the row above
	for i := range above {
		above[i] = math.NaN()
	}
	for j := range f.box.Dy() {
		before := math.NaN()
		for i := range n {
			x, y := f.place(i, j)
			v := m.Value(x, y)
			c.img.SetNRGBA(f.box.Min.X+i, f.box.Min.Y+j, m.pixel(p, v, before, above[i], i, j, x, y))
			before, above[i] = v, v
		}
	}
}

const hatchPX = 11 // pixels between the strokes of the hatching

func (m *FieldMap) pixel(p *Palette, v, before, above float64, i, j int, x, y float64) color.NRGBA {
	if math.IsNaN(v) {
		if (i-j+4096)%hatchPX == 0 {
			return unknownLine
		}
		return unknownInk
	}
	out := m.ink(p, v)
	if m.Deeper != nil && (i+j)%hatchPX < 2 && m.Deeper(x, y) {
		out = mixed(out, deeperInk)
	}
	if crosses(before, v, m.EveryDB) || crosses(above, v, m.EveryDB) {
		out = shaded(shaded(out))
	}
	return out
}

// mixed lays a colour over another.
func mixed(a, over color.NRGBA) color.NRGBA {
	t := float64(over.A) / 255
	mix := func(p, q uint8) uint8 { return uint8(math.Round(float64(p)*(1-t) + float64(q)*t)) }
	return color.NRGBA{mix(a.R, over.R), mix(a.G, over.G), mix(a.B, over.B), 255}
}

// rings draws fixation and circles every ten degrees.
func (m *FieldMap) rings(c *canvas, f frameOf) {
	mid, scale := f.at(0, 0), f.at(1, 0).x-f.at(0, 0).x
	step := 10.0
	if m.HalfDeg <= 15 {
		step = 5
	}
	for r := step; r < m.HalfDeg; r += step {
		c.stroke(gridInk, 1.2, closed(disc(mid, r*scale)))
		c.middle(small, soft, int(mid.x)+3, int(mid.y+r*scale)-4, fmt.Sprintf("%g°", r))
	}
	c.cross(ink, mid, 7)
}

// border draws the edge of a region, unbroken or in dashes.
func (m *FieldMap) border(c *canvas, f frameOf, in func(x, y float64) bool, ink color.NRGBA, dashed bool) {
	n := f.box.Dx()
	row := make([]bool, n)
	for j := range f.box.Dy() {
		before := false
		for i := range n {
			x, y := f.place(i, j)
			v := in(x, y)
			edge := i > 0 && v != before || j > 0 && v != row[i]
			if edge && !(dashed && (2*i+3*j)/18%2 == 1) {
				c.img.SetNRGBA(f.box.Min.X+i, f.box.Min.Y+j, ink)
				c.img.SetNRGBA(min(f.box.Min.X+i+1, f.box.Max.X-1), f.box.Min.Y+j, ink)
			}
			before, row[i] = v, v
		}
	}
}

// mark writes a number at its place, on a light ground.
func (m *FieldMap) mark(c *canvas, f frameOf, k FieldMark) {
	at := f.at(k.XDeg, k.YDeg)
	if !image.Pt(int(at.x), int(at.y)).In(f.box) {
		return
	}
	face := style{PX: 15}
	if room := f.at(2, 0).x - f.at(0, 0).x; room < 34 {
		face.PX = 13
	}
	w := float64(face.Width(k.Words))/2 + 2
	h := face.PX * .62
	c.fill(color.NRGBA{255, 255, 255, 190}, []pixel{{at.x - w, at.y - h}, {at.x + w, at.y - h}, {at.x + w, at.y + h}, {at.x - w, at.y + h}})
	c.middle(face, ink, int(at.x+.5), int(at.y+face.PX*.36), k.Words)
}
