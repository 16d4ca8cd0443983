package scene

import "math"

// coverage accumulates signed areas of edges on a small raster; summing along
// a row gives the share of each pixel that lies inside the outline. It is exact
// up to rounding, whatever the size of the outline.
type coverage struct {
	w, h int
	acc  []float32 // rows of w+2: edges may touch the column past the last
}

// reset makes the raster w x h and empty.
func (c *coverage) reset(w, h int) {
	n := (w + 2) * h
	if cap(c.acc) < n {
		c.acc = make([]float32, n)
	}
	c.w, c.h, c.acc = w, h, c.acc[:n]
	clear(c.acc)
}

// outline adds a closed polygon given in raster coordinates.
func (c *coverage) outline(p []pt) {
	for i := range p {
		c.edge(p[i], p[(i+1)%len(p)])
	}
}

// edge adds the edge a-b, cut to the raster: what lies left of it is moved
// onto the left border, what lies right of it onto the right border.
func (c *coverage) edge(a, b pt) {
	dir := 1.0
	if a.y > b.y {
		a, b, dir = b, a, -1
	}
	h := float64(c.h)
	if a.y == b.y || b.y <= 0 || a.y >= h {
		return
	}
	if a.y < 0 {
		a = pt{a.x + (b.x-a.x)*(0-a.y)/(b.y-a.y), 0}
	}
	if b.y > h {
		b = pt{a.x + (b.x-a.x)*(h-a.y)/(b.y-a.y), h}
	}
	w := float64(c.w)
	c.cutX(a, b, dir, 0, func(a, b pt) {
		c.cutX(a, b, dir, w, func(a, b pt) { c.inside(a, b, dir) })
	})
}

// cutX splits the edge where it crosses x = lim and passes the pieces on.
func (c *coverage) cutX(a, b pt, dir, lim float64, next func(a, b pt)) {
	if (a.x-lim)*(b.x-lim) >= 0 {
		next(a, b)
		return
	}
	m := pt{lim, a.y + (b.y-a.y)*(lim-a.x)/(b.x-a.x)}
	next(a, m)
	next(m, b)
}

// inside adds an edge that goes up in y and crosses neither border.
func (c *coverage) inside(a, b pt, dir float64) {
	w := float64(c.w)
	a.x, b.x = min(max(a.x, 0), w), min(max(b.x, 0), w)
	if a.y >= b.y {
		return
	}
	slope := (b.x - a.x) / (b.y - a.y)
	x := a.x
	for y := int(a.y); y < c.h && float64(y) < b.y; y++ {
		top, bottom := max(float64(y), a.y), min(float64(y+1), b.y)
		next := min(max(x+slope*(bottom-top), 0), w)
		c.span(c.acc[y*(c.w+2):], x, next, dir*(bottom-top))
		x = next
	}
}

// span spreads the edge's part in one row: d is its signed height.
func (c *coverage) span(row []float32, xa, xb, d float64) {
	if xa > xb {
		xa, xb = xb, xa
	}
	i0, i1 := int(xa), int(math.Ceil(xb))
	if i1 <= i0+1 {
		m := d * ((xa+xb)/2 - float64(i0))
		row[i0] += float32(d - m)
		row[i0+1] += float32(m)
		return
	}
	// The share of the height lying left of x grows linearly from xa to xb;
	// each pixel gets the mean over its width, as a difference to its left one.
	slope, last := 1/(xb-xa), 0.0
	for i := i0; i < i1; i++ {
		l, r := max(float64(i), xa), min(float64(i+1), xb)
		mean := ((l-xa)+(r-xa))/2*slope*(r-l) + (float64(i+1) - r)
		row[i] += float32(d * (mean - last))
		last = mean
	}
	row[i1] += float32(d * (1 - last))
}

// row turns row y into coverage, 0 to 1, in place and returns it.
func (c *coverage) row(y int) []float32 {
	row := c.acc[y*(c.w+2) : y*(c.w+2)+c.w]
	var sum float32
	for i, v := range row {
		sum += v
		row[i] = settled(sum)
	}
	return row
}

// rounding is how far sums of float32 may be from 0 or 1 where they should
// reach them: some ten edges of 1e-7 each, with room.
const rounding = 1e-5

func settled(sum float32) float32 {
	if sum < 0 {
		sum = -sum
	}
	switch {
	case sum < rounding:
		return 0
	case sum > 1-rounding:
		return 1
	}
	return sum
}
