package studio

import (
	"runtime"
	"sync"
	"sync/atomic"

	"simview/internal/light"
)

// Film is what a camera took: light and what lit it, kept apart so that noise
// can be taken from the light and not from texture and edges.
type Film struct {
	light.Grid
	px []pixel
}

// pixel holds means over the samples of a pixel.
type pixel struct {
	glow, body, coat RGB // body: what lights the surface, so that body x albedo is seen
	albedo           RGB
	n, p             V3      // normal and place; n is 0 in the sky
	bodyVar, coatVar float64 // variance of the mean of their luminances
}

// Take renders the world on a grid with side x side samples a pixel. The same
// seed gives the same film on any number of cores. A side below 2 panics: noise
// is estimated from the samples.
func Take(w *World, c Camera, g light.Grid, side int, seed uint64) *Film {
	if side < 2 {
		panic("studio: take: at least 2 x 2 samples a pixel are needed")
	}
	f := &Film{Grid: g, px: make([]pixel, g.Len())}
	rows(g.H, func(j int) {
		for i := range g.W {
			f.px[j*g.W+i] = take(w, c, g, i, j, side, seed)
		}
	})
	return f
}

// rows calls f for every row, on all processors.
func rows(h int, f func(j int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for j := int(next.Add(1) - 1); j < h; j = int(next.Add(1) - 1) {
				f(j)
			}
		})
	}
	wg.Wait()
}

// tally sums luminances and their squares.
type tally struct{ sum, squares float64 }

func (t *tally) add(v float64) { t.sum, t.squares = t.sum+v, t.squares+v*v }

// variance is that of the mean of n values.
func (t *tally) variance(n float64) float64 {
	return max(t.squares-t.sum*t.sum/n, 0) / (n * (n - 1))
}

func take(w *World, c Camera, g light.Grid, i, j, side int, seed uint64) pixel {
	var px pixel
	var body, coat tally
	n := float64(side * side)
	for k := range side * side {
		s := newSampler(seed, j*g.W+i, k, side)
		u, v := s.pair()
		r := c.ray(g, i, j, u, v)
		o := w.path(r, &s)
		px.glow, px.coat = px.glow.Add(o.glow), px.coat.Add(o.coat)
		px.albedo = px.albedo.Add(o.albedo)
		px.body = px.body.Add(o.body.Times(o.albedo))
		px.n, px.p = px.n.Add(o.n), px.p.Add(r.at(o.depth))
		body.add(o.body.Y())
		coat.add(o.coat.Y())
	}
	px.body = over(px.body, px.albedo)
	px.glow, px.coat, px.albedo = px.glow.Mul(1/n), px.coat.Mul(1/n), px.albedo.Mul(1/n)
	px.p = px.p.Mul(1 / n)
	if px.n.Len() > 0 {
		px.n = px.n.Unit()
	}
	px.bodyVar, px.coatVar = body.variance(n), coat.variance(n)
	return px
}

// over returns a / b by parts, and 0 where there is nothing to divide by.
func over(a, b RGB) RGB {
	part := func(a, b float64) float64 {
		if b <= 0 {
			return 0
		}
		return a / b
	}
	return RGB{part(a.R, b.R), part(a.G, b.G), part(a.B, b.B)}
}

// Picture puts light and texture together, in cd/m².
func (f *Film) Picture() *light.Image {
	m := light.NewImage(f.Grid)
	for i := range f.px {
		p := &f.px[i]
		c := p.glow.Add(p.body.Times(p.albedo)).Add(p.coat)
		m.R[i], m.G[i], m.B[i] = float32(c.R), float32(c.G), float32(c.B)
	}
	return m
}
