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

// Look works out what the eye of a view sees; p is its spread, nil for perfect
// optics.
func (st *Stage) Look(v render.View, p *psf.PSF) *Seen {
	adapt, keep := st.adaptation(v.Eye.Glare)
	spec := st.through(p, keep)
	out := &Seen{stage: st}
	td := st.scene.AdaptCdM2 * pupilArea(v)
	for k, f0 := range st.bands.Centres() {
		amp, w, h := st.bands.Amplitude(spec, k, func(f float64) float64 { return st.model.Threshold(f, 0, td) })
		l := st.inside(amp, w, h)
		l.judge(st.nodes, st.perAmplitude(v, f0, adapt))
		out.bands = append(out.bands, l)
	}
	return out
}

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
// over threshold:
//
//	a / A = k / (L T(f0, e, td))
func (st *Stage) perAmplitude(v render.View, f0 float64, adapt []float32) []float32 {
	loss := v.Eye.Loss()
	area := pupilArea(v)
	out := make([]float32, st.nodes.Len())
	for q := range out {
		x, y := st.nodes.Centre(q%st.nodes.W, q/st.nodes.W)
		x, y = x-float64(v.Gaze.X), y-float64(v.Gaze.Y)
		left := 1.0
		if loss != nil {
			left = csf.Remaining(f0, max(loss(x, y), 0))
		}
		l := float64(adapt[q])
		out[q] = float32(left / (l * st.model.Threshold(f0, math.Hypot(x, y), l*area)))
	}
	return out
}

// pupilArea is that of the pupil, mm², less where a pinhole costs light.
func pupilArea(v render.View) float64 {
	return math.Pi * v.Eye.PupilMM * v.Eye.PupilMM / 4 * v.Eye.Light
}

// judge turns amplitudes into visibility, g(a) = a³ / (1 + a³).
func (l layer) judge(nodes light.Grid, perAmp []float32) {
	const most = 1e9 // thresholds; more makes no difference to g
	fft.InBlocks(l.h, func(lo, hi int) {
		line := make([]float32, l.w)
		for j := lo; j < hi; j++ {
			l.between(line, nodes, perAmp, j)
			row := l.v[j*l.w : (j+1)*l.w]
			for i, per := range line {
				a := min(row[i]*per, most)
				a *= a * a
				row[i] = a / (1 + a)
			}
		}
	})
}

// between reads nodes linearly along row j; beyond the outermost they stay as
// there.
func (l layer) between(line []float32, g light.Grid, v []float32, j int) {
	_, y := l.place(0, j)
	_, fj := g.Pixel(0, y)
	fj = min(max(fj, 0), float64(g.H-1))
	n := min(int(fj), g.H-2)
	top, low, t := v[n*g.W:(n+1)*g.W], v[(n+1)*g.W:(n+2)*g.W], float32(fj-float64(n))
	for i := range line {
		x, _ := l.place(i, j)
		fi, _ := g.Pixel(x, y)
		fi = min(max(fi, 0), float64(g.W-1))
		m := min(int(fi), g.W-2)
		s := float32(fi - float64(m))
		a, b := top[m]+t*(low[m]-top[m]), top[m+1]+t*(low[m+1]-top[m+1])
		line[i] = a + s*(b-a)
	}
}
