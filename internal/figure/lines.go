package figure

import (
	"fmt"
	"image/color"
	"io"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// Line is one curve.
type Line struct {
	Name   string
	X, Y   []float64
	Dashed bool
}

// Lines is a diagram of curves; what is not above zero is left out on a
// logarithmic axis, and any other goes down to zero.
type Lines struct {
	Title  string
	X, Y   string // axes, in words with units
	LogX   bool
	LogY   bool
	Curves []Line
}

// palette is told apart by lightness as well as by hue.
var palette = []color.Color{
	color.NRGBA{R: 0x20, G: 0x20, B: 0x20, A: 0xff},
	color.NRGBA{R: 0x0b, G: 0x4f, B: 0x6c, A: 0xff},
	color.NRGBA{R: 0xc7, G: 0x5b, B: 0x12, A: 0xff},
	color.NRGBA{R: 0x5a, G: 0x9a, B: 0x5a, A: 0xff},
	color.NRGBA{R: 0x9a, G: 0x6f, B: 0xb0, A: 0xff},
	color.NRGBA{R: 0x8a, G: 0x8a, B: 0x8a, A: 0xff},
}

// Write draws the curves as PNG. A diagram without any place to draw, or a curve
// whose x and y differ in number, is an error.
func (l Lines) Write(w io.Writer) error {
	p := plot.New()
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = l.Title, l.X, l.Y
	if l.LogX {
		p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, plot.LogTicks{Prec: -1}
	}
	if l.LogY {
		p.Y.Scale, p.Y.Tick.Marker = plot.LogScale{}, plot.LogTicks{Prec: -1}
	}
	p.Legend.Top, p.Legend.Padding = true, 2
	drawn := 0
	for k, c := range l.Curves {
		if len(c.X) != len(c.Y) {
			return fmt.Errorf("figure %q, %s: %d places and %d values", l.Title, c.Name, len(c.X), len(c.Y))
		}
		var xy plotter.XYs
		for i, x := range c.X {
			if (x > 0 || !l.LogX) && (c.Y[i] > 0 || !l.LogY) {
				xy = append(xy, plotter.XY{X: x, Y: c.Y[i]})
			}
		}
		if len(xy) < 2 {
			continue
		}
		drawn++
		line, err := plotter.NewLine(xy)
		if err != nil {
			return fmt.Errorf("figure %q, %s: %w", l.Title, c.Name, err)
		}
		line.Color, line.Width = palette[k%len(palette)], 1.6
		if c.Dashed {
			line.Dashes = []vg.Length{5, 3}
		}
		p.Add(line)
		p.Legend.Add(c.Name, line)
	}
	if !l.LogY {
		p.Y.Min = min(p.Y.Min, 0)
	}
	if drawn == 0 {
		return fmt.Errorf("figure %q: there is nothing to draw", l.Title)
	}
	return write(p, curvesPt, w)
}
