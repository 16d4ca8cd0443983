package plot

import (
	"image"
	"image/color"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// style is a face at a size in pixels.
type style struct {
	bold bool
	px   float64
}

// The sizes of a page.
var (
	heading = style{true, 30}
	title   = style{true, 20}
	plain   = style{false, 18}
	small   = style{false, 16}
)

var faces struct {
	sync.Mutex
	made map[style]font.Face
}

// with runs f with the face; a face serves one writer at a time.
func (s style) with(f func(font.Face)) {
	faces.Lock()
	defer faces.Unlock()
	if faces.made == nil {
		faces.made = map[style]font.Face{}
	}
	if faces.made[s] == nil {
		faces.made[s] = s.make()
	}
	f(faces.made[s])
}

func (s style) make() font.Face {
	data := goregular.TTF
	if s.bold {
		data = gobold.TTF
	}
	parsed, err := opentype.Parse(data)
	if err != nil {
		panic("plot: embedded font: " + err.Error())
	}
	f, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: s.px, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic("plot: embedded font: " + err.Error())
	}
	return f
}

func (s style) width(text string) (w int) {
	s.with(func(f font.Face) { w = font.MeasureString(f, text).Ceil() })
	return w
}

// write puts one line of text with its baseline at y.
func (c *canvas) write(s style, ink color.Color, x, y int, text string) {
	s.with(func(f font.Face) {
		dst := c.img.SubImage(c.clip).(*image.NRGBA)
		d := font.Drawer{Dst: dst, Src: image.NewUniform(ink), Face: f, Dot: fixed.P(x, y)}
		box, _ := d.BoundString(text)
		d.DrawString(text)
		*c.texts = append(*c.texts, written{text, image.Rect(box.Min.X.Floor(), box.Min.Y.Floor(), box.Max.X.Ceil(), box.Max.Y.Ceil()), c.clip})
	})
}

// middle writes a line centred about x, right one that ends at x.
func (c *canvas) middle(s style, ink color.Color, x, y int, text string) {
	c.write(s, ink, x-s.width(text)/2, y, text)
}

func (c *canvas) right(s style, ink color.Color, x, y int, text string) {
	c.write(s, ink, x-s.width(text), y, text)
}

// wrap breaks a text into lines no wider than width pixels.
func (s style) wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && s.width(next) > width {
			lines = append(lines, line)
			next = word
		}
		line = next
	}
	return append(lines, line)
}
