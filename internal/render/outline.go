package render

import (
	"image"
	"image/color"

	"simview/internal/light"
)

// outlineDB is the loss from which a place counts as affected, dB: beyond what
// retest noise and the doubt of the norm make together (an assumption).
const outlineDB = 6

// The outline: a light line with a dark one beside it, which shows on any ground.
var (
	outlineLight = color.NRGBA{0xe8, 0xf3, 0xf1, 0xff}
	outlineDark  = color.NRGBA{0x12, 0x3c, 0x46, 0xff}
)

const hatchStep = 16 // pixels between the strokes of the hatching

// DrawOutline draws a line round the affected region of a view onto its picture
// as shown, g being the grid of that picture, and hatches what may be deeper than
// was measured. Without loss nothing is drawn.
func (v View) DrawOutline(pic *image.NRGBA, g light.Grid) {
	loss := v.Eye.Loss()
	if loss == nil {
		return
	}
	affected := func(i, j int) bool {
		x, y := g.Centre(i, j)
		return loss(x-float64(v.Gaze.X), y-float64(v.Gaze.Y)) >= outlineDB
	}
	deeper := func(i, j int) bool {
		x, y := g.Centre(i, j)
		return v.Eye.Field.AtLeast(x-float64(v.Gaze.X), y-float64(v.Gaze.Y))
	}
	in := make([]bool, g.Len())
	for q := range in {
		in[q] = affected(q%g.W, q/g.W)
	}
	for q, a := range in {
		i, j := q%g.W, q/g.W
		if a && (i+j)%hatchStep == 0 && deeper(i, j) {
			blend(pic, i, j, outlineLight)
			blend(pic, i+1, j, outlineDark)
		}
	}
	for q, a := range in {
		i, j := q%g.W, q/g.W
		if i > 0 && a != in[q-1] || j > 0 && a != in[q-g.W] {
			mark(pic, i, j)
		}
	}
}

// mark sets a dot of the line: light, with dark beside it.
func mark(pic *image.NRGBA, i, j int) {
	for d := range 3 {
		pic.SetNRGBA(i+d, j+2, outlineDark)
		pic.SetNRGBA(i+2, j+d, outlineDark)
	}
	for d := range 4 {
		pic.SetNRGBA(i+d%2, j+d/2, outlineLight)
	}
}

// blend mixes half of a colour in.
func blend(pic *image.NRGBA, i, j int, c color.NRGBA) {
	if !image.Pt(i, j).In(pic.Rect) {
		return
	}
	was := pic.NRGBAAt(i, j)
	half := func(a, b uint8) uint8 { return uint8((int(a) + int(b)) / 2) }
	pic.SetNRGBA(i, j, color.NRGBA{half(was.R, c.R), half(was.G, c.G), half(was.B, c.B), 0xff})
}
