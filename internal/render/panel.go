package render

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"simview/internal/light"
)

// Panel is one view ready for a sheet: its picture and what is said of it.
type Panel struct {
	Name   string // the cause, in large letters
	Amount string // its clinical quantity, or what is shown
	Notes  string // focus, condition, limits
	Hidden bool   // true when nothing differs visibly from the reference
	Pic    *image.NRGBA
}

// Hanging is how all pictures of one scene of a sheet are shown: one tone, and
// one corner for the window.
type Hanging struct {
	Tone   light.Tone
	corner corner
}

// Hang chooses the tone and the window's corner from the reference view. kind
// is the tone curve's name, see [light.ToneFor]; lost is the field loss in dB
// at a direction of the scene, or nil.
func Hang(wide, window *light.Image, kind string, adaptCdM2 float64, lost func(xDeg, yDeg float64) float64) (Hanging, error) {
	tone, err := light.ToneFor(wide, kind, adaptCdM2)
	if err != nil {
		return Hanging{}, err
	}
	h := Hanging{Tone: tone, corner: corners[0]}
	if window != nil {
		h.corner = quietest(wide, fitting(wide.Grid, window), tone, lost)
	}
	return h, nil
}

// Colours of the sheet: paper, ink, and one accent for what joins a window to
// its place.
var (
	paper  = color.NRGBA{0xf7, 0xf5, 0xf0, 0xff}
	ink    = color.NRGBA{0x1b, 0x1e, 0x24, 0xff}
	soft   = color.NRGBA{0x55, 0x5a, 0x63, 0xff}
	loud   = color.NRGBA{0x9c, 0x2a, 0x10, 0xff}
	accent = color.NRGBA{0xf2, 0xc1, 0x4e, 0xff}
)

// shrink is how many computed samples go into one sample of the sheet, each
// way; wide and window are shrunk alike, so the window is magnified by the
// ratio of their steps.
const shrink = 2

// corner is where a window is laid into its wide picture.
type corner struct{ right, bottom bool }

var corners = []corner{{true, true}, {false, true}, {true, false}, {false, false}}

// place returns the inset's rectangle in a picture of that size.
func (c corner) place(pic, inset image.Point) image.Rectangle {
	const gap = 8
	at := image.Pt(gap, gap)
	if c.right {
		at.X = pic.X - inset.X - gap
	}
	if c.bottom {
		at.Y = pic.Y - inset.Y - gap
	}
	return image.Rectangle{at, at.Add(inset)}
}

// Compose draws the wide picture with its window, if any, as an inset, joined
// by two thin lines to the place it magnifies. Of a window that would cover
// more than two thirds of the picture either way, only the middle is shown.
func (h Hanging) Compose(wide, window *light.Image) *image.NRGBA {
	return h.ComposeWith(wide, window, func(*image.NRGBA, light.Grid) {})
}

// ComposeWith is Compose with a layer that is drawn on the wide picture and on
// the inset after the tone curve.
func (h Hanging) ComposeWith(wide, window *light.Image, layer func(pic *image.NRGBA, g light.Grid)) *image.NRGBA {
	small := shrunk(wide)
	pic := h.Tone.Encode(small)
	layer(pic, small.Grid)
	if window == nil {
		return pic
	}
	window = fitting(wide.Grid, window)
	part := shrunk(window)
	inset := h.Tone.Encode(part)
	layer(inset, part.Grid)
	at := h.corner.place(pic.Rect.Size(), inset.Rect.Size())
	from := source(wide.Grid, window.Grid)
	joinCorners(pic, from, at, h.corner)
	draw.Draw(pic, at, inset, image.Point{}, draw.Src)
	outline(pic, at.Inset(-2), 2, accent)
	outline(pic, from, 1, accent)
	return pic
}

// fitting returns the middle of a window, as large as may be laid into its wide
// picture.
func fitting(wide light.Grid, window *light.Image) *light.Image {
	g := window.Grid
	dx, dy := max(0, (g.W-wide.W*2/3+1)/2), max(0, (g.H-wide.H*2/3+1)/2)
	g.W, g.H = g.W-2*dx, g.H-2*dy
	g.LeftDeg, g.TopDeg = g.LeftDeg+float64(dx)*g.StepDeg, g.TopDeg-float64(dy)*g.StepDeg
	part, err := window.Crop(g)
	if err != nil {
		panic("render: window: " + err.Error()) // whole samples off every side
	}
	return part
}

// shrunk averages in linear light, leaving out what does not fill a sample.
func shrunk(m *light.Image) *light.Image {
	g := m.Grid
	g.W, g.H = g.W/shrink*shrink, g.H/shrink*shrink
	whole, err := m.Crop(g)
	if err == nil {
		whole, err = whole.Average(shrink)
	}
	if err != nil {
		panic("render: shrink: " + err.Error()) // the grid was made to fit
	}
	return whole
}

// source is the rectangle of the wide picture that the window magnifies.
func source(wide, window light.Grid) image.Rectangle {
	i0, j0 := wide.Pixel(window.LeftDeg, window.TopDeg)
	i1, j1 := wide.Pixel(window.LeftDeg+float64(window.W)*window.StepDeg, window.TopDeg-float64(window.H)*window.StepDeg)
	edge := func(v float64) int { return int(math.Round((v + 0.5) / shrink)) }
	return image.Rect(edge(i0), edge(j0), edge(i1), edge(j1))
}

// joinCorners draws the two lines that frame the view from place to inset.
func joinCorners(pic *image.NRGBA, from, to image.Rectangle, c corner) {
	a := [2]image.Point{{from.Min.X, from.Max.Y}, {from.Max.X, from.Min.Y}}
	b := [2]image.Point{{to.Min.X, to.Max.Y}, {to.Max.X, to.Min.Y}}
	if c.right != c.bottom {
		a = [2]image.Point{from.Min, from.Max}
		b = [2]image.Point{to.Min, to.Max}
	}
	for k := range a {
		line(pic, a[k], b[k], accent)
	}
}

func line(dst *image.NRGBA, a, b image.Point, ink color.Color) {
	n := max(abs(b.X-a.X), abs(b.Y-a.Y), 1)
	for k := range n + 1 {
		dst.Set(a.X+(b.X-a.X)*k/n, a.Y+(b.Y-a.Y)*k/n, ink)
	}
}

func abs(v int) int { return max(v, -v) }

func outline(dst *image.NRGBA, r image.Rectangle, width int, ink color.Color) {
	u := image.NewUniform(ink)
	for _, side := range []image.Rectangle{
		{r.Min, image.Pt(r.Max.X, r.Min.Y+width)},
		{image.Pt(r.Min.X, r.Max.Y-width), r.Max},
		{r.Min, image.Pt(r.Min.X+width, r.Max.Y)},
		{image.Pt(r.Max.X-width, r.Min.Y), r.Max},
	} {
		draw.Draw(dst, side, u, image.Point{}, draw.Src)
	}
}
