package plot

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"simview/internal/unit"
)

// The inks of every drawing.
var (
	paper      = color.NRGBA{252, 251, 247, 255}
	panel      = color.NRGBA{255, 255, 255, 255}
	frame      = color.NRGBA{205, 208, 208, 255}
	ink        = color.NRGBA{32, 44, 56, 255}
	soft       = color.NRGBA{88, 100, 112, 255}
	coat       = color.NRGBA{214, 208, 196, 255}
	retinaInk  = color.NRGBA{168, 84, 66, 255}
	corneaInk  = color.NRGBA{52, 84, 112, 255}
	corneaFill = color.NRGBA{52, 84, 112, 36}
	irisInk    = color.NRGBA{122, 96, 74, 255}
	lensFill   = color.NRGBA{74, 138, 176, 90}
	lensInk    = color.NRGBA{24, 92, 136, 255}
	ghostInk   = color.NRGBA{120, 128, 134, 255}
	rayInk     = color.NRGBA{214, 134, 22, 235}
	pastInk    = color.NRGBA{176, 44, 92, 255}
)

// endWords says, for the upper and the lower end of a section (degrees in
// (0, 180]), where it lies in a patient's eye.
func endWords(side unit.Side, meridian unit.Degrees) (upper, lower string) {
	sin, cos := math.Sincos(meridian.Radians())
	return towards(side, cos, sin), towards(side, -cos, -sin)
}

// towards names a direction of the pupil, clinician's axes: "up", "temple side",
// "up and nose side". Within 22.5 degrees of an axis only the axis is named.
func towards(side unit.Side, x, y float64) string {
	const little = 0.3827 // sin 22.5 degrees
	vertical, level := "", ""
	switch {
	case y > little:
		vertical = "up"
	case y < -little:
		vertical = "down"
	}
	switch {
	case math.Abs(x) <= little:
	case x*side.TemporalX() > 0:
		level = "temple side"
	default:
		level = "nose side"
	}
	if vertical != "" && level != "" {
		return vertical + " and " + level
	}
	return vertical + level
}

// viewport lays a piece of a section onto a rectangle of paper: the same scale
// both ways.
type viewport struct {
	box    image.Rectangle
	middle Point   // of the section, drawn in the middle of the box
	scale  float64 // pixels per mm
}

func (v viewport) at(p Point) pixel {
	mid := v.box.Min.Add(v.box.Max)
	return pixel{float64(mid.X)/2 + (p.Z-v.middle.Z)*v.scale, float64(mid.Y)/2 - (p.H-v.middle.H)*v.scale}
}

func (v viewport) all(ps []Point) []pixel {
	out := make([]pixel, len(ps))
	for i, p := range ps {
		out[i] = v.at(p)
	}
	return out
}

// draw draws the section within the viewport.
func (s *Section) draw(c *canvas, v viewport) {
	c = c.in(v.box)
	s.drawWall(c, v)
	for _, k := range s.Iris {
		c.fill(irisInk, v.all(k))
	}
	s.drawRays(c, v)
	fine := math.Min(3, math.Max(1.5, v.scale*.04))
	c.fill(lensFill, v.all(s.Lens.Outline))
	c.stroke(lensInk, fine, closed(v.all(s.Lens.Outline)))
	if s.Displaced {
		c.dash(ghostInk, fine*.8, 7, 5, closed(v.all(s.Straight.Outline)))
		c.cross(ghostInk, v.at(s.Straight.Centre), 6)
		c.cross(lensInk, v.at(s.Lens.Centre), 8)
	}
	front, back := s.Corneas[0], s.Corneas[len(s.Corneas)-1]
	for i := len(back) - 1; i >= 0 && len(s.Corneas) > 1; i-- {
		front = append(front[:len(front):len(front)], back[i])
	}
	c.fill(corneaFill, v.all(front))
	for _, k := range s.Corneas {
		c.stroke(corneaInk, fine*1.4, v.all(k))
	}
}

func (s *Section) drawWall(c *canvas, v viewport) {
	c.fill(coat, v.all(s.coat()))
	n := len(s.Retina)
	const retinaMM = .2
	c.stroke(retinaInk, math.Max(2, retinaMM*v.scale), v.all(s.Retina[n/5:n-n/5]))
}

// coat is the outline of the wall of the eye, thinner towards the cornea.
func (s *Section) coat() []Point {
	const backMM, rimMM = .95, .5
	n := len(s.Retina)
	centre := Point{s.wall.z, 0}
	out := append([]Point(nil), s.Retina...)
	for i := n - 1; i >= 0; i-- {
		p := s.Retina[i]
		thick := rimMM + (backMM-rimMM)*math.Sin(math.Pi*float64(i)/float64(n-1))
		d := math.Hypot(p.Z-centre.Z, p.H-centre.H)
		out = append(out, Point{p.Z + (p.Z-centre.Z)/d*thick, p.H + (p.H-centre.H)/d*thick})
	}
	return out
}

func (s *Section) drawRays(c *canvas, v viewport) {
	for _, r := range s.Rays {
		if r.Past {
			c.dash(pastInk, 1.6, 9, 5, v.all(r.Points))
			continue
		}
		c.stroke(rayInk, 1.5, v.all(r.Points))
	}
}

func closed(ps []pixel) []pixel { return append(ps[:len(ps):len(ps)], ps[0]) }

// cross marks a centre.
func (c *canvas) cross(ink color.Color, p pixel, half float64) {
	c.stroke(ink, 2, []pixel{{p.x - half, p.y}, {p.x + half, p.y}})
	c.stroke(ink, 2, []pixel{{p.x, p.y - half}, {p.x, p.y + half}})
}

// scaleBar draws a bar of a length in the units of scale (pixels per unit), its
// words above it, its left end at (x, y).
func (c *canvas) scaleBar(ink color.Color, x, y int, length, scale float64, words string) {
	a, b := pixel{float64(x), float64(y)}, pixel{float64(x) + length*scale, float64(y)}
	c.stroke(ink, 3, []pixel{a, b})
	for _, p := range []pixel{a, b} {
		c.stroke(ink, 2, []pixel{{p.x, p.y - 6}, {p.x, p.y + 6}})
	}
	c.write(small, ink, x, y-12, words)
}

// niceLength returns 1, 2 or 5 times a power of ten, at most most.
func niceLength(most float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(most)))
	for _, k := range [...]float64{5, 2} {
		if k*p <= most {
			return k * p
		}
	}
	return p
}

// niceAbove returns a round number, at least least: 1, 1.2, 1.5, 2, 3, 4, 5, 6 or
// 8 times a power of ten.
func niceAbove(least float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range [...]float64{1, 1.2, 1.5, 2, 3, 4, 5, 6, 8} {
		if k*ten >= least*(1-1e-12) {
			return k * ten
		}
	}
	return 10 * ten
}

// spaced writes a number with the space of its unit.
func spaced(v float64, unit string) string { return fmt.Sprintf("%g %s", v, unit) }

// landing is where a bundle meets the retina: the middle and half the width of
// what its rays cover, mm; rays beside the lens are left out.
type landing struct{ mid, half float64 }

func (s *Section) landing() landing {
	low, high := math.Inf(1), math.Inf(-1)
	for _, t := range s.Rays {
		if !t.Past {
			h := t.Points[len(t.Points)-1].H
			low, high = math.Min(low, h), math.Max(high, h)
		}
	}
	if low > high {
		return landing{mid: s.Chief.H}
	}
	return landing{(low + high) / 2, (high - low) / 2}
}

// drawFocus draws rays and retina alone.
func (s *Section) drawFocus(c *canvas, v viewport) {
	c = c.in(v.box)
	c.stroke(retinaInk, 4, v.all(s.nearFovea(v)))
	s.drawRays(c, v)
}

// nearFovea is the inner wall finely drawn, as far as a close-up shows it.
func (s *Section) nearFovea(v viewport) []Point {
	w := s.wall
	half := float64(v.box.Dy()) / v.scale
	out := make([]Point, outlineSteps)
	for i := range out {
		h := v.middle.H + half*(2*float64(i)/(outlineSteps-1)-1)
		out[i] = Point{w.z + math.Sqrt(math.Max(0, w.r*w.r-h*h)), h}
	}
	return out
}
