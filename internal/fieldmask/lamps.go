package fieldmask

import (
	"math"

	"simview/internal/light"
)

// surfaceTop is the luminance, in units of the typical luminance around, up to
// which a pixel counts as surface; what is above belongs to a lamp and its glow.
// White paper among print lies near 2, and so does the brightest part of most
// photographs. At 5 the glow of headlamps, spread as a surface, covered a fifth more
// area above white than without the loss. Typical is the geometric mean over about typicalSigmaDeg, which a
// lamp's glow, far brighter but small, hardly raises; never above the adaptation.
const (
	surfaceTop      = 2.75
	typicalSigmaDeg = 2 // standard deviation, degrees
)

// typical returns the geometric mean of luminance around each place,
//
//	exp(mean of ln L)
//
// over blocks, cd/m².
func typical(g light.Grid, lum []float32) mapOf {
	m := blockMeans(g, lum)
	for i, v := range m.v {
		m.v[i] = float32(math.Log(math.Max(float64(v), minAdapt)))
	}
	m.v = blurEdge(m.v, m.W, m.H, gaussTaps(typicalSigmaDeg/m.StepDeg))
	for i, v := range m.v {
		m.v[i] = float32(math.Exp(float64(v)))
	}
	return m
}

// lampFrom and lampTo are the centres, cycles per degree, of the bands that decide
// whether a lamp is seen; a lamp is small, so the coarser show it less, and the
// finer ones need more contrast away from fixation.
const lampFrom, lampTo = 1, 8

// lamps is what stands out of a picture too far to be a surface. Bands leave
// rings round anything hundreds of times brighter than its surround, so a lamp is
// kept or dimmed as a whole, by the band that shows it best, and covers the same
// place as before.
type lamps struct {
	pixel []int32   // where
	share []float32 // share of the pixel's light that is surface
	gain  []float32 // greatest gain of any such band so far
}

// cutLamps parts surfaces from lamps, keeping the hue.
func cutLamps(in Light, usualAt mapOf) (*light.Image, lamps) {
	var l lamps
	lum := in.Retina.Luminance(nil)
	usual := usualAt.spread(in.Retina.Grid)
	for q, v := range lum {
		if top := surfaceTop * min(in.Adapt[q], usual[q]); v > top {
			l.pixel = append(l.pixel, int32(q))
			l.share = append(l.share, top/v)
		}
	}
	if len(l.pixel) == 0 {
		return in.Retina, l
	}
	l.gain = make([]float32, len(l.pixel))
	soft := clone(in.Retina)
	for i, q := range l.pixel {
		for _, plane := range soft.Planes() {
			plane[q] *= l.share[i]
		}
	}
	return soft, l
}

// lightLamps raises the gain of each lamp pixel to what this band shows of it,
// its contrast taken from the whole light.
func (st *stage) lightLamps(fr frame, b band, c criteria) {
	if st.allLum == nil || b.f0 < lampFrom || b.f0 > lampTo {
		return
	}
	g := st.soft.Grid
	r := st.readBand(st.allLum, fr, b)
	defer r.spare()
	xs, ys := c.over.cells(g)
	for n, q := range st.lamps.pixel {
		i, j := int(q)%g.W, int(q)/g.W
		u, v := float64(i)*float64(fr.w)/float64(st.frame.w), float64(j)*float64(fr.h)/float64(st.frame.h)
		a, k := r.between(u, v, c.at(xs[i], ys[j]))
		st.lamps.gain[n] = max(st.lamps.gain[n], gain(a, k, st.opt.NormalPeriphery))
	}
}

// between is contrast between the samples of the reading.
func (r reading) between(u, v float64, c criterion) (a, k float32) {
	deep := float32(0)
	if r.deep != nil {
		deep = readFrame(r.deep, r.fr, u, v)
	}
	return c.contrast(readFrame(r.near, r.fr, u, v), readFrame(r.far, r.fr, u, v), deep, false)
}

// lentGain returns the lamps' gains so far over blocks, the greatest nearby, 0
// where there is no lamp: what a magnified window starts from.
func (st *stage) lentGain() mapOf {
	g := st.soft.Grid
	b, n := blockGrid(g)
	m := mapOf{b, make([]float32, b.Len())}
	for k, q := range st.lamps.pixel {
		at := int(q)/g.W/n*b.W + int(q)%g.W/n
		m.v[at] = max(m.v[at], st.lamps.gain[k])
	}
	return extend(m, 1, func(a, b float32) float32 { return max(a, b) })
}

// startFrom raises the gains of a window's lamps to those of the wide picture.
func (st *stage) startFrom(gains mapOf) {
	g := st.soft.Grid
	for k, q := range st.lamps.pixel {
		x, y := g.Centre(int(q)%g.W, int(q)/g.W)
		i, j := gains.Pixel(x, y)
		at := min(max(int(j+0.5), 0), gains.H-1)*gains.W + min(max(int(i+0.5), 0), gains.W-1)
		st.lamps.gain[k] = max(st.lamps.gain[k], gains.v[at])
	}
}

// readFrame reads a plane of a frame between its samples.
func readFrame(v []float32, fr frame, u, w float64) float32 {
	x, y := cellOf(u, fr.w), cellOf(w, fr.h)
	q := y.i*fr.w + x.i
	top := v[q] + x.t*(v[q+1]-v[q])
	low := v[q+fr.w] + x.t*(v[q+fr.w+1]-v[q+fr.w])
	return top + y.t*(low-top)
}

// putLamps adds to the surfaces what is left of the lamps.
func (st *stage) putLamps(out *light.Image) {
	was, soft, now := st.in.Retina.Planes(), st.soft.Planes(), out.Planes()
	for n, q := range st.lamps.pixel {
		g := st.lamps.gain[n]
		for c := range 3 {
			if g == 1 && now[c][q] == soft[c][q] {
				now[c][q] = was[c][q]
				continue
			}
			now[c][q] = min(now[c][q]+g*(was[c][q]-soft[c][q]), max(was[c][q], now[c][q]))
		}
	}
}
