package plot

import (
	"image"
	"image/color"

	"simview/internal/lettering"
)

// style is a face at a size in pixels.
type style = lettering.Style

// The sizes of a page.
var (
	heading = style{Bold: true, PX: 30}
	title   = style{Bold: true, PX: 20}
	plain   = style{PX: 18}
	small   = style{PX: 16}
)

// write puts one line of text with its baseline at y.
func (c *canvas) write(s style, ink color.Color, x, y int, text string) {
	box := s.Write(c.img.SubImage(c.clip).(*image.NRGBA), ink, x, y, text)
	*c.texts = append(*c.texts, written{text, box, c.clip})
}

// middle writes a line centred about x, right one that ends at x.
func (c *canvas) middle(s style, ink color.Color, x, y int, text string) {
	c.write(s, ink, x-s.Width(text)/2, y, text)
}

func (c *canvas) right(s style, ink color.Color, x, y int, text string) {
	c.write(s, ink, x-s.Width(text), y, text)
}
