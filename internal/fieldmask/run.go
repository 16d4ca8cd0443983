package fieldmask

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/fft"
	"simview/internal/light"
)

// padPeriods is the room between the picture's edge and its periodic neighbour,
// in periods of the lowest band that is worked out.
const padPeriods = 1.5

// stage holds one run of the nerve over one picture.
type stage struct {
	in     Light
	opt    Options
	loss   mapOf // dB
	adapt  mapOf // cd/m²
	frame  frame
	padDeg float64 // room round the picture
	bands  []band
	soft   *light.Image // the picture with lamps cut to what a surface can be
	usual  mapOf
	lamps  lamps
	lum    []complex64    // spectrum of the linear luminance of soft
	allLum []complex64    // the same with lamps whole; nil without lamps
	resp   [3][]complex64 // spectra of r of each primary of soft
	grey   bool           // the three primaries are alike
}

// change is a picture of d for each primary, on the padded frame: a spectrum of
// the decimated bands and a plane of the others (nil: none).
type change struct {
	spec  [3][]complex64
	plane [3][]float32
}

// newStage reads loss and adaptation for bands from a centre of lowest cycles per
// degree up; the spectra are left for later.
// usual is the typical luminance around each place, see typical.
func newStage(in Light, loss Loss, opt Options, lowest float64, usual mapOf) *stage {
	g := in.Retina.Grid
	if len(in.Adapt) != g.Len() {
		panic(fmt.Sprintf("fieldmask: the adaptation has %d pixels, the picture %d", len(in.Adapt), g.Len()))
	}
	if in.Pupil == 0 {
		in.Pupil = UsualPupilMM2
	}
	st := &stage{in: in, opt: opt, bands: bandsFor(g.StepDeg), padDeg: padPeriods / lowest}
	gx, gy := float64(opt.Gaze.X), float64(opt.Gaze.Y)
	st.loss = newMap(g, st.padDeg/2, func(x, y float64) float64 { return max(loss(x-gx, y-gy), 0) })
	a := mapOf{g, in.Adapt}
	st.adapt = st.loss.like(func(_ int, x, y float64) float64 { return a.value(x, y) })
	st.usual = usual
	st.soft, st.lamps = cutLamps(in, usual)
	return st
}

// unchanged reports whether nothing can be taken away.
func (st *stage) unchanged() bool {
	return len(st.bands) == 0 || !st.opt.NormalPeriphery && !slices.ContainsFunc(st.loss.v, func(v float32) bool { return v != 0 })
}

// transform works out the spectra of luminance and receptor response.
func (st *stage) transform() {
	m := st.soft
	pad := int(math.Ceil(st.padDeg / m.StepDeg))
	w, h := fft.GoodSize(m.W+pad), fft.GoodSize(m.H+pad)
	st.frame = newFrame(w, h, m.StepDeg)
	st.lum = st.spectrum(m.Luminance(nil))
	if len(st.lamps.pixel) > 0 {
		st.allLum = st.spectrum(st.in.Retina.Luminance(nil))
	}
	st.grey = slices.Equal(m.R, m.G) && slices.Equal(m.R, m.B)
	r := make([]float32, m.Len())
	for c, plane := range m.Planes() {
		if st.grey && c > 0 {
			st.resp[c] = st.resp[0]
			continue
		}
		inRuns(len(r), func(lo, hi int) {
			for i := lo; i < hi; i++ {
				v := plane[i]
				r[i] = v / (1 + v/(float32(st.opt.C)*st.in.Adapt[i]))
			}
		})
		st.resp[c] = st.spectrum(r)
	}
}

// spectrum pads a plane and transforms it.
func (st *stage) spectrum(v []float32) []complex64 {
	m := st.soft
	wide := padded(v, m.W, m.H, st.frame.w, st.frame.h)
	defer spare(wide)
	return st.frame.plan.Forward(nil, wide)
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
	crit := st.criteria(b)
	less := st.gainLess1(fr, b, crit)
	st.lightLamps(fr, b, crit)
	for c := range 3 {
		if st.grey && c > 0 {
			out.spec[c], out.plane[c] = out.spec[0], out.plane[0]
			continue
		}
		v := st.frame.pick(st.resp[c], fr, b, b.split)
		inRuns(len(v), func(lo, hi int) {
			for i := lo; i < hi; i++ {
				v[i] *= less[i]
			}
		})
		if fr.w == st.frame.w {
			if out.plane[c] == nil {
				out.plane[c] = v
				continue
			}
			addTo(out.plane[c], v)
			spare(v)
			continue
		}
		if out.spec[c] == nil {
			out.spec[c] = make([]complex64, len(st.lum))
		}
		st.frame.put(out.spec[c], v, fr, b)
		spare(v)
	}
	spare(less)
}

// addTo adds v to sum, which may be nil.
func addTo(sum, v []float32) []float32 {
	if sum == nil {
		return v
	}
	inRuns(len(sum), func(lo, hi int) {
		for i := lo; i < hi; i++ {
			sum[i] += v[i]
		}
	})
	return sum
}
