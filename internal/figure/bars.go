package figure

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Bar is one value with two intervals, the wider one holding the narrower.
type Bar struct {
	Name              string
	Value             float64
	Low, High         float64
	WideLow, WideHigh float64
}

// Bars is a row of values in one unit, drawn in the order given.
type Bars struct {
	Title string
	Unit  string // of the axis, in words
	Foot  string // what the two intervals are
	Rows  []Bar
}

// Sizes of pictures, points.
const (
	widthPt   = 720 * vg.Inch / 96
	rowPt     = 34 * vg.Inch / 96
	aroundPt  = 120 * vg.Inch / 96
	curvesPt  = 420 * vg.Inch / 96
	thickPt   = 7
	thinPt    = 1.5
	dotPt     = 4
	textPt    = 10
	marginPer = 0.06
)

// Inks: a dark blue-green for values and noise, a light one for the wider interval.
var (
	ink   = color.NRGBA{R: 0x0b, G: 0x4f, B: 0x6c, A: 0xff}
	pale  = color.NRGBA{R: 0x9f, G: 0xc4, B: 0xcf, A: 0xff}
	quiet = color.NRGBA{R: 0x70, G: 0x70, B: 0x70, A: 0xff}
)

// Write draws the values as PNG. No rows, or a number that is not finite, is an
// error.
func (b Bars) Write(w io.Writer) error {
	if len(b.Rows) == 0 {
		return fmt.Errorf("figure %q: there is nothing to draw", b.Title)
	}
	p := plot.New()
	p.Title.Text, p.X.Label.Text = b.Title, b.Unit+"\n"+b.Foot
	names := make([]string, len(b.Rows))
	low, high := 0.0, 0.0
	for k, r := range b.Rows {
		for _, v := range []float64{r.Value, r.Low, r.High, r.WideLow, r.WideHigh} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("figure %q, %s: must be finite numbers (got %g)", b.Title, r.Name, v)
			}
			low, high = min(low, v), max(high, v)
		}
		at := float64(len(b.Rows) - 1 - k)
		names[len(b.Rows)-1-k] = r.Name
		if err := b.row(p, r, at); err != nil {
			return err
		}
	}
	zero, err := segment(0, -0.6, 0, float64(len(b.Rows))-0.4, quiet, 1)
	if err != nil {
		return err
	}
	p.Add(zero)
	p.NominalY(names...)
	margin := marginPer * max(high-low, 1e-9)
	p.Y.Padding = rimPt
	p.X.Min, p.X.Max = low-margin, high+margin
	return write(p, aroundPt+rowPt*vg.Length(len(b.Rows)), w)
}

// row draws one value: the wider interval pale and thin, the narrower thick, the
// value a dot.
func (b Bars) row(p *plot.Plot, r Bar, at float64) error {
	wide, err := segment(r.WideLow, at, r.WideHigh, at, pale, thickPt)
	if err != nil {
		return err
	}
	narrow, err := segment(r.Low, at, r.High, at, ink, thinPt*2)
	if err != nil {
		return err
	}
	dot, err := plotter.NewScatter(plotter.XYs{{X: r.Value, Y: at}})
	if err != nil {
		return err
	}
	dot.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: dotPt, Shape: draw.CircleGlyph{}}
	p.Add(wide, narrow, dot)
	return nil
}

func segment(x0, y0, x1, y1 float64, c color.Color, wide vg.Length) (*plotter.Line, error) {
	l, err := plotter.NewLine(plotter.XYs{{X: x0, Y: y0}, {X: x1, Y: y1}})
	if err != nil {
		return nil, err
	}
	l.Color, l.Width = c, wide
	return l, nil
}

// rimPt is left free all round.
const rimPt = 10

// write draws a plot on white with a rim.
func write(p *plot.Plot, height vg.Length, w io.Writer) error {
	p.Title.Padding = 8
	for _, style := range []*vg.Length{&p.X.Label.TextStyle.Font.Size, &p.Y.Label.TextStyle.Font.Size, &p.X.Tick.Label.Font.Size, &p.Y.Tick.Label.Font.Size, &p.Legend.TextStyle.Font.Size} {
		*style = textPt
	}
	c := vgimg.New(widthPt, height)
	page := draw.New(c)
	p.Draw(draw.Crop(page, rimPt, -rimPt, rimPt, -rimPt))
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	return err
}
