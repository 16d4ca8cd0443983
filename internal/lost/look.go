package lost

import (
	"math"

	"simview/internal/csf"
	"simview/internal/fft"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/render"
)

// Seen is how visible the contrast of a scene is to one eye, by band and place.
// It is read-only.
type Seen struct {
	stage *Stage
	bands []layer
}

// layer is the visibility in one band, 0 to 1, of the samples inside the picture:
// w across and h down, dx and dy degrees apart, the first at (x0, y0).
type layer struct {
	w, h           int
	x0, y0, dx, dy float64
	v              []float32
}

// place is where a sample lies, degrees.
func (l layer) place(i, j int) (x, y float64) {
	return l.x0 + float64(i)*l.dx, l.y0 - float64(j)*l.dy
}

// Image is the contrast of a scene's surfaces through one spread and pupil, which
// eyes share that differ in scattered light and field loss alone. It is read-only.
type Image struct {
	stage *Stage
	p     *psf.PSF
	td    float64 // trolands for each cd/m² of the scene
	bands []layer // amplitudes in cd/m², nothing scattered
}

// Image works out the contrast that the eye of a view and those like it share; p is
// its spread, nil for perfect optics.
func (st *Stage) Image(v render.View, p *psf.PSF) *Image {
	out := &Image{stage: st, p: p, td: v.Eye.Trolands(1)}
	spec := st.through(p)
	td := st.scene.AdaptCdM2 * out.td
	for k := range st.bands.Centres() {
		amp, w, h := st.bands.Amplitude(spec, k, func(f float64) float64 { return st.model.Threshold(f, 0, td) })
		out.bands = append(out.bands, st.inside(amp, w, h))
	}
	return out
}

// Look works out what the eye of a view sees of the image. An eye with another
// pupil gets an image of its own, through the same spread.
func (m *Image) Look(v render.View) *Seen {
	st := m.stage
	if v.Eye.Trolands(1) != m.td {
		return st.Image(v, m.p).Look(v)
	}
	adapt, keep := st.adaptation(v.Eye.Glare)
	out := &Seen{stage: st}
	for k, f0 := range st.bands.Centres() {
		out.bands = append(out.bands, m.bands[k].judged(st.nodes, st.perAmplitude(v, f0, adapt, keep)))
	}
	return out
}

// Look works out what the eye of a view sees; p is its spread, nil for perfect
// optics.
func (st *Stage) Look(v render.View, p *psf.PSF) *Seen { return st.Image(v, p).Look(v) }

// inside cuts the picture out of samples that lie evenly over the raster, the
// first on its first.
func (st *Stage) inside(amp []float32, w, h int) layer {
	r, f := st.raster, st.frame
	dx, dy := float64(r.W)*r.StepDeg/float64(w), float64(r.H)*r.StepDeg/float64(h)
	x0, y0 := r.LeftDeg+r.StepDeg/2, r.TopDeg-r.StepDeg/2
	first := func(edge, d float64) int { return int(math.Ceil(edge/d - 1e-9)) }
	i0, i1 := first(f.LeftDeg-x0, dx), first(f.LeftDeg+float64(f.W)*f.StepDeg-x0, dx)
	j0, j1 := first(y0-f.TopDeg, dy), first(y0-f.TopDeg+float64(f.H)*f.StepDeg, dy)
	l := layer{w: i1 - i0, h: j1 - j0, x0: x0 + float64(i0)*dx, y0: y0 - float64(j0)*dy, dx: dx, dy: dy}
	l.v = make([]float32, l.w*l.h)
	for j := range l.h {
		copy(l.v[j*l.w:(j+1)*l.w], amp[(j0+j)*w+i0:])
	}
	return l
}

// perAmplitude is, at the nodes, what turns an amplitude in cd/m² into a contrast
// over threshold, keep the share of light that is not scattered:
//
//	a / A = keep k / (L T(f0, e, td))
func (st *Stage) perAmplitude(v render.View, f0 float64, adapt []float32, keep float64) []float32 {
	loss, td := v.Eye.Loss(), v.Eye.Trolands(1)
	out := make([]float32, st.nodes.Len())
	for q := range out {
		x, y := st.nodes.Centre(q%st.nodes.W, q/st.nodes.W)
		x, y = x-float64(v.Gaze.X), y-float64(v.Gaze.Y)
		left := keep
		if loss != nil {
			left = keep * csf.Remaining(f0, max(loss(x, y), 0))
		}
		l := float64(adapt[q])
		out[q] = float32(left / (l * st.model.Threshold(f0, math.Hypot(x, y), l*td)))
	}
	return out
}

// judged turns amplitudes into visibility, g(a) = a³ / (1 + a³).
func (l layer) judged(nodes light.Grid, perAmp []float32) layer {
	const most = 1e9 // thresholds; more makes no difference to g
	amp, across := l.v, l.across(nodes)
	l.v = make([]float32, len(amp))
	fft.InBlocks(l.h, func(lo, hi int) {
		line := make([]float32, nodes.W)
		for j := lo; j < hi; j++ {
			l.along(line, nodes, perAmp, j)
			from, row := amp[j*l.w:(j+1)*l.w], l.v[j*l.w:(j+1)*l.w]
			for i, c := range across {
				per := line[c.m] + c.s*(line[c.m+1]-line[c.m])
				a := min(from[i]*per, most)
				a *= a * a
				row[i] = a / (1 + a)
			}
		}
	})
	return l
}

// between is a place s of the way from node m to the next one.
type between struct {
	m int
	s float32
}

// across is where the samples of every row lie between the nodes of a row; beyond
// the outermost they stay as there.
func (l layer) across(g light.Grid) []between {
	out := make([]between, l.w)
	for i := range out {
		x, _ := l.place(i, 0)
		fi, _ := g.Pixel(x, 0)
		fi = min(max(fi, 0), float64(g.W-1))
		m := min(int(fi), g.W-2)
		out[i] = between{m, float32(fi - float64(m))}
	}
	return out
}

// along reads the nodes linearly at the height of row j, column by column.
func (l layer) along(line []float32, g light.Grid, v []float32, j int) {
	_, y := l.place(0, j)
	_, fj := g.Pixel(0, y)
	fj = min(max(fj, 0), float64(g.H-1))
	n := min(int(fj), g.H-2)
	top, low, t := v[n*g.W:(n+1)*g.W], v[(n+1)*g.W:(n+2)*g.W], float32(fj-float64(n))
	for m := range line {
		line[m] = top[m] + t*(low[m]-top[m])
	}
}
