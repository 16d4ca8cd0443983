package fieldmask

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/fft"
)

// padDeg is the room between the picture's edge and its periodic neighbour,
// degrees: one period of the lowest band.
const padDeg = 1 / lowestBand

// stage holds one run of the nerve over one picture.
type stage struct {
	in    Light
	opt   Options
	loss  mapOf // dB
	adapt mapOf // cd/m²
	frame frame
	bands []band
	lum   []complex64    // spectrum of the linear luminance
	resp  [3][]complex64 // spectra of r of each primary
	grey  bool           // the three primaries are alike
}

// change is a picture of d for each primary, on the padded frame: a spectrum of
// the decimated bands and a plane of the others (nil: none).
type change struct {
	spec  [3][]complex64
	plane [3][]float32
}

// newStage reads loss and adaptation; the spectra are left for later.
func newStage(in Light, loss Loss, opt Options) *stage {
	g := in.Retina.Grid
	if len(in.Adapt) != g.Len() {
		panic(fmt.Sprintf("fieldmask: the adaptation has %d pixels, the picture %d", len(in.Adapt), g.Len()))
	}
	st := &stage{in: in, opt: opt, bands: bandsFor(g.StepDeg)}
	gx, gy := float64(opt.Gaze.X), float64(opt.Gaze.Y)
	st.loss = newMap(g, padDeg/2, func(x, y float64) float64 { return max(loss(x-gx, y-gy), 0) })
	a := mapOf{g, in.Adapt}
	st.adapt = st.loss.like(func(_ int, x, y float64) float64 { return a.value(x, y) })
	return st
}

// unchanged reports whether nothing can be taken away.
func (st *stage) unchanged() bool {
	return len(st.bands) == 0 || !st.opt.NormalPeriphery && !slices.ContainsFunc(st.loss.v, func(v float32) bool { return v != 0 })
}

// transform works out the spectra of luminance and receptor response.
func (st *stage) transform() {
	m := st.in.Retina
	pad := int(math.Ceil(padDeg / m.StepDeg))
	w, h := fft.GoodSize(m.W+pad), fft.GoodSize(m.H+pad)
	st.frame = newFrame(w, h, m.StepDeg)
	lum := m.Luminance(nil)
	st.lum = st.frame.plan.Forward(nil, padded(lum, m.W, m.H, w, h))
	st.grey = slices.Equal(m.R, m.G) && slices.Equal(m.R, m.B)
	r := make([]float32, m.Len())
	for c, plane := range m.Planes() {
		if st.grey && c > 0 {
			st.resp[c] = st.resp[0]
			continue
		}
		for i, v := range plane {
			r[i] = v / (1 + v/(float32(st.opt.C)*st.in.Adapt[i]))
		}
		st.resp[c] = st.frame.plan.Forward(nil, padded(r, m.W, m.H, w, h))
	}
}

// run works out the change of the bands with centres in from <= f0 < below
// (below 0: no limit).
func (st *stage) run(from, below float64) change {
	if st.lum == nil {
		st.transform()
	}
	var out change
	for _, b := range st.bands {
		if b.f0 >= from && (below == 0 || b.f0 < below) {
			st.addBand(&out, b)
		}
	}
	return out
}

// addBand adds (G - 1) x band of r to the change.
func (st *stage) addBand(out *change, b band) {
	fr := st.frame.small(b)
	less := st.gainLess1(fr, b)
	for c := range 3 {
		if st.grey && c > 0 {
			out.spec[c], out.plane[c] = out.spec[0], out.plane[0]
			continue
		}
		v := st.frame.pick(st.resp[c], fr, b, b.split)
		for i := range v {
			v[i] *= less[i]
		}
		if fr.w == st.frame.w {
			out.plane[c] = addTo(out.plane[c], v)
			continue
		}
		if out.spec[c] == nil {
			out.spec[c] = make([]complex64, len(st.lum))
		}
		st.frame.put(out.spec[c], v, fr)
	}
}

// addTo adds v to sum, which may be nil.
func addTo(sum, v []float32) []float32 {
	if sum == nil {
		return v
	}
	for i := range sum {
		sum[i] += v[i]
	}
	return sum
}
