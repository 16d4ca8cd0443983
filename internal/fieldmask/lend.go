package fieldmask

import "math"

// lattice is a plane of samples at even steps, which may differ across and down;
// (x0, y0) is the direction of the first, degrees.
type lattice struct {
	w, h           int
	x0, y0, dx, dy float64
	v              []float32
}

// lendFrom is the band whose frame is fine enough for all that is lent.
var lendFrom = band{f0: 2 * windowFrom}

// lend returns what a magnified window needs of this wide picture.
func (st *stage) lend(low change) *Low {
	out := &Low{adapt: st.adapt, usual: st.usual, lamps: st.lentGain(), grey: st.grey}
	fr := st.frame.small(lendFrom)
	g := st.soft.Grid
	for c, plane := range st.soft.Planes() {
		if st.grey && c > 0 {
			out.change[c], out.ranges[c] = out.change[0], out.ranges[0]
			continue
		}
		out.ranges[c] = newRange(g, plane)
		out.change[c] = lattice{
			w: fr.w, h: fr.h,
			x0: g.LeftDeg + g.StepDeg/2, y0: g.TopDeg - g.StepDeg/2,
			dx: g.StepDeg * float64(st.frame.w) / float64(fr.w),
			dy: g.StepDeg * float64(st.frame.h) / float64(fr.h),
			v:  st.sample(low, c, fr),
		}
	}
	return out
}

// sample returns the change of primary c on the frame fr.
func (st *stage) sample(low change, c int, fr frame) []float32 {
	spec := low.spec[c]
	if low.plane[c] != nil {
		full := st.frame.plan.Forward(nil, low.plane[c])
		for i := range spec {
			full[i] += spec[i]
		}
		spec = full
	}
	if spec == nil {
		return make([]float32, fr.w*fr.h)
	}
	return st.frame.pick(spec, fr, lendFrom, func(float64) float64 { return 1 })
}

// sum adds two changes of the same stage.
func (st *stage) sum(a, b change) change {
	for c := range 3 {
		if st.grey && c > 0 {
			a.spec[c], a.plane[c] = a.spec[0], a.plane[0]
			continue
		}
		if b.plane[c] != nil {
			a.plane[c] = addTo(a.plane[c], b.plane[c])
		}
		if a.spec[c] == nil {
			a.spec[c] = b.spec[c]
			continue
		}
		for i, v := range b.spec[c] {
			a.spec[c][i] += v
		}
	}
	return a
}

// cubicTaps returns the first of four samples and their weights (Catmull-Rom)
// for a fractional index; indices are clamped to n by the caller.
func cubicTaps(u float64) (first int, w [4]float32) {
	i := math.Floor(u)
	t := float32(u - i)
	w = [4]float32{
		t * (-0.5 + t*(1-0.5*t)),
		1 + t*t*(-2.5+1.5*t),
		t * (0.5 + t*(2-1.5*t)),
		t * t * (-0.5 + 0.5*t),
	}
	return int(i) - 1, w
}

// row interpolates the lattice along one level line y at the given x, degrees.
func (l lattice) row(dst []float32, left, step, y float64) {
	j0, wy := cubicTaps((l.y0 - y) / l.dy)
	line := make([]float32, l.w)
	for k, w := range wy {
		j := min(max(j0+k, 0), l.h-1)
		for i, v := range l.v[j*l.w : (j+1)*l.w] {
			line[i] += w * v
		}
	}
	for i := range dst {
		i0, wx := cubicTaps((left + (float64(i)+0.5)*step - l.x0) / l.dx)
		if i0 >= 0 && i0+4 <= l.w {
			v := line[i0 : i0+4]
			dst[i] = wx[0]*v[0] + wx[1]*v[1] + wx[2]*v[2] + wx[3]*v[3]
			continue
		}
		s := float32(0)
		for k, w := range wx {
			s += w * line[min(max(i0+k, 0), l.w-1)]
		}
		dst[i] = s
	}
}
