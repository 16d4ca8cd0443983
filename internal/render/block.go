package render

import (
	"image"
	"image/color"
)

// run is a piece of text x pixels from the left.
type run struct {
	style style
	ink   color.Color
	x     int
	text  string
}

func (r run) width() int { return r.style.Width(r.text) }

// textLine is one line of a block; its height follows its largest text.
type textLine []run

// block is text set in lines, one below the other.
type block []textLine

// paragraph breaks a text into lines of at most width pixels; no text is no
// line.
func paragraph(s style, ink color.Color, text string, width int) (b block) {
	if text == "" {
		return nil
	}
	for _, t := range s.Wrap(text, width) {
		b = append(b, textLine{{s, ink, 0, t}})
	}
	return b
}

// space is an empty line so many pixels high.
func space(px float64) textLine { return textLine{{style: style{PX: px / leading}}} }

const leading = 1.32 // line height over letter size

func (l textLine) height() int {
	px := textStyle.PX
	if len(l) > 0 {
		px = 0
	}
	for _, r := range l {
		px = max(px, r.style.PX)
	}
	return int(leading*px + 0.5)
}

func (b block) height() (h int) {
	for _, l := range b {
		h += l.height()
	}
	return h
}

// draw sets the block with its upper left corner at (x, y) and returns the y
// below it.
func (b block) draw(dst *image.NRGBA, x, y int) int {
	for _, l := range b {
		h := l.height()
		for _, r := range l {
			if r.text != "" {
				r.style.Write(dst, r.ink, x+r.x, y+h*3/4, r.text)
			}
		}
		y += h
	}
	return y
}
