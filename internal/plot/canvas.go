package plot

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"

	"golang.org/x/image/vector"
)

// pixel is a place on paper: x to the right, y down.
type pixel struct{ x, y float64 }

// canvas is a picture under the pen; nothing is drawn outside clip. It remembers
// what was written where.
type canvas struct {
	img   *image.NRGBA
	clip  image.Rectangle
	texts *[]written
}

// written is a line of text, the room that it takes, and the room that it has.
type written struct {
	text      string
	box, clip image.Rectangle
}

func newCanvas(w, h int, paper color.Color) *canvas {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	return &canvas{img, img.Rect, new([]written)}
}

// in returns the same picture with the pen held to a part of it.
func (c *canvas) in(r image.Rectangle) *canvas {
	return &canvas{c.img, r.Intersect(c.img.Rect), c.texts}
}

// fill colours the inside of closed outlines, all run round the same way.
func (c *canvas) fill(ink color.Color, outlines ...[]pixel) {
	box := bounds(outlines).Intersect(c.clip)
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	r.DrawOp = draw.Over
	dx, dy := float64(box.Min.X), float64(box.Min.Y)
	for _, o := range outlines {
		for i, p := range o {
			x, y := float32(p.x-dx), float32(p.y-dy)
			if i == 0 {
				r.MoveTo(x, y)
				continue
			}
			r.LineTo(x, y)
		}
		r.ClosePath()
	}
	r.Draw(c.img, box, image.NewUniform(ink), image.Point{})
}

// corners is the outline of a rectangle.
func corners(r image.Rectangle) []pixel {
	a, b := pixel{float64(r.Min.X), float64(r.Min.Y)}, pixel{float64(r.Max.X), float64(r.Max.Y)}
	return []pixel{a, {b.x, a.y}, b, {a.x, b.y}}
}

// bounds returns the whole pixels that outlines touch.
func bounds(outlines [][]pixel) image.Rectangle {
	low, high := pixel{math.Inf(1), math.Inf(1)}, pixel{math.Inf(-1), math.Inf(-1)}
	for _, o := range outlines {
		for _, p := range o {
			low = pixel{math.Min(low.x, p.x), math.Min(low.y, p.y)}
			high = pixel{math.Max(high.x, p.x), math.Max(high.y, p.y)}
		}
	}
	if !(low.x <= high.x) {
		return image.Rectangle{}
	}
	const far = 1 << 20 // a picture is smaller
	whole := func(v float64) int { return int(math.Max(-far, math.Min(far, v))) }
	return image.Rect(whole(math.Floor(low.x)), whole(math.Floor(low.y)), whole(math.Ceil(high.x))+1, whole(math.Ceil(high.y))+1)
}

// stroke draws a line through the points, width pixels thick; one that ends where
// it starts has no ends.
func (c *canvas) stroke(ink color.Color, width float64, points []pixel) {
	ps := distinct(points)
	if len(ps) < 2 {
		return
	}
	n := len(ps) - 1
	round := n > 2 && ps[0] == ps[n]
	left, right := make([]pixel, len(ps)), make([]pixel, len(ps))
	for i := range ps {
		before, after := ps[max(i-1, 0)], ps[min(i+1, n)]
		if round && i == 0 {
			before = ps[n-1]
		}
		if round && i == n {
			after = ps[1]
		}
		dx, dy := offset(before, ps[i], after, width/2)
		left[i], right[i] = pixel{ps[i].x + dx, ps[i].y + dy}, pixel{ps[i].x - dx, ps[i].y - dy}
	}
	slices.Reverse(right)
	if round {
		c.fill(ink, left, right)
		return
	}
	c.fill(ink, append(left, right...))
}

// distinct leaves out points that lie on the one before.
func distinct(points []pixel) []pixel {
	var out []pixel
	for _, p := range points {
		if len(out) == 0 || math.Hypot(p.x-out[len(out)-1].x, p.y-out[len(out)-1].y) > 1e-6 {
			out = append(out, p)
		}
	}
	return out
}

// offset is how far the edge of a line lies from its middle at a corner, half
// pixels square to either piece; a sharp corner is cut.
func offset(before, at, after pixel, half float64) (dx, dy float64) {
	ax, ay := square(before, at)
	bx, by := square(at, after)
	if before == at {
		ax, ay = bx, by
	}
	if after == at {
		bx, by = ax, ay
	}
	mx, my := ax+bx, ay+by
	const sharpest = 0.3
	k := half / math.Max(sharpest, (mx*mx+my*my)/2)
	return mx * k, my * k
}

// square returns the unit normal of a piece, 0 for a point.
func square(a, b pixel) (x, y float64) {
	d := math.Hypot(b.x-a.x, b.y-a.y)
	if d == 0 {
		return 0, 0
	}
	return -(b.y - a.y) / d, (b.x - a.x) / d
}

// dash draws a broken line: on and off pixels in turn.
func (c *canvas) dash(ink color.Color, width, on, off float64, points []pixel) {
	var piece []pixel
	left, drawing := on, true
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		length := math.Hypot(to.x-from.x, to.y-from.y)
		for done := 0.0; done < length; {
			step := math.Min(left, length-done)
			if drawing {
				piece = append(piece, between(from, to, done/length), between(from, to, (done+step)/length))
			}
			done += step
			if left -= step; left <= 1e-9 {
				c.stroke(ink, width, piece)
				piece, drawing, left = nil, !drawing, off
				if drawing {
					left = on
				}
			}
		}
	}
	c.stroke(ink, width, piece)
}

func between(a, b pixel, t float64) pixel { return pixel{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)} }

// disc is a round dot, counter-clockwise in a frame whose y runs down.
func disc(at pixel, radius float64) []pixel {
	n := 8 + int(2*radius)
	out := make([]pixel, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = pixel{at.x + radius*cos, at.y + radius*sin}
	}
	return out
}
