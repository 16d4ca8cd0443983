package lost

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"simview/internal/plot"
)

// empty is the colour of squares in which the reference eye sees next to nothing.
var empty = color.NRGBA{0xd8, 0xd8, 0xd8, 0xff}

// Draw returns the map as a picture, each square of half a degree size pixels wide,
// as the patient sees the scene: from dark, where nothing is lost, to bright, where
// all is; grey where there is nothing to lose. It panics on a size below 1.
func (m Map) Draw(size int) *image.NRGBA {
	if size < 1 {
		panic("lost: a square needs at least one pixel")
	}
	out := image.NewNRGBA(image.Rect(0, 0, m.Grid.W*size, m.Grid.H*size))
	p := plot.Glow()
	for q, seen := range m.Seen {
		c := empty
		if seen >= leastSeen {
			c = p.At(math.Min(float64(m.Lost[q]/seen), 1))
		}
		at := image.Rect(0, 0, size, size).Add(image.Pt(q%m.Grid.W*size, q/m.Grid.W*size))
		draw.Draw(out, at, image.NewUniform(c), image.Point{}, draw.Src)
	}
	return out
}
