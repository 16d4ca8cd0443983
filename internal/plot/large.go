package plot

import (
	"fmt"
	"image"
	"math"
)

// sections draws the eye whole, and its front close by.
func (s *sheet) sections() {
	k := s.drawn
	half := (pageWidth - 2*margin - gap) / 2
	left := image.Rect(margin, s.y, margin+half, s.y+bigHeight)
	right := left.Add(image.Pt(half+gap, 0))
	back := k.Retina[len(k.Retina)/2].Z
	const before, behind, high = 4, 2.5, 13.2 // mm
	whole := viewport{left.Inset(2), Point{(back + behind - before) / 2, 0}, float64(half) / (back + before + behind)}
	s.large(whole, "The eye in section", 5)
	s.label(whole, Point{back - 5, 8.2}, "retina", true)
	s.label(whole, Point{-.4, -5.2}, "cornea", true)
	front := viewport{right.Inset(2), Point{3.2, 0}, bigHeight / high}
	s.large(front, "Its front, closer", 1)
	s.labelFront(front)
	s.y += bigHeight + gap
}

func (s *sheet) labelFront(v viewport) {
	k := s.drawn
	s.label(v, Point{.6, -5.35}, "cornea", true)
	root := k.Iris[1][len(k.Iris[1])-2]
	s.label(v, Point{root.Z + .25, root.H * .82}, "iris", false)
	// The lens is named at the end to which it is shifted, its place at the other.
	ends := [2]func([]Point) Point{highest, lowest}
	off := [2]float64{.15, -.45}
	far := 0
	if k.Lens.Centre.H < k.Straight.Centre.H {
		far = 1
	}
	p := ends[far](k.Lens.Outline)
	s.label(v, Point{p.Z + .5, p.H + off[far]}, "lens", false)
	if !k.Displaced {
		return
	}
	p = ends[1-far](k.Straight.Outline)
	s.label(v, Point{p.Z + .6, p.H + off[1-far]}, "its place", false)
}

func highest(ps []Point) Point {
	top := ps[0]
	for _, p := range ps {
		if p.H > top.H {
			top = p
		}
	}
	return top
}

func lowest(ps []Point) Point {
	low := ps[0]
	for _, p := range ps {
		if p.H < low.H {
			low = p
		}
	}
	return low
}

// label writes a name at a place of the section, ending there or starting there.
func (s *sheet) label(v viewport, at Point, name string, ends bool) {
	p := v.at(at)
	x := int(p.x)
	if ends {
		x -= small.Width(name)
	}
	s.c.in(v.box).write(small, soft, x, int(p.y), name)
}

func (s *sheet) large(v viewport, name string, barMM float64) {
	k, r := s.drawn, v.box
	s.box(r.Inset(-2))
	k.draw(s.c, v)
	upper, lower := endWords(s.Side, k.Meridian)
	x := r.Min.X + 16
	s.c.write(title, ink, x, r.Min.Y+28, name)
	s.c.write(small, soft, x, r.Min.Y+52, fmt.Sprintf("meridian %.0f°", float64(k.Meridian)))
	s.c.right(title, ink, r.Max.X-16, r.Min.Y+28, upper)
	s.c.right(title, ink, r.Max.X-16, r.Max.Y-14, lower)
	s.c.scaleBar(ink, x, r.Max.Y-20, barMM, v.scale, spaced(barMM, "mm"))
}

// cut says where the section lies and how far the lens is off in it.
func (s *sheet) cut() string {
	k := s.drawn
	upper, lower := endWords(s.Side, k.Meridian)
	words := fmt.Sprintf("Section along %.0f°, from %s to %s", float64(k.Meridian), upper, lower)
	h := k.Lens.Centre.H - k.Straight.Centre.H
	if !k.Displaced {
		return words + "."
	}
	if h < 0 {
		upper = lower
	}
	return words + fmt.Sprintf("; in it the middle of the lens lies %.2f mm off its place (%s).", math.Abs(h), upper)
}
