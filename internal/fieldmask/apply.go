package fieldmask

import (
	"math"

	"simview/internal/light"
)

// rangeDeg is how far "nearby" reaches when the result is limited to the range
// of the scene nearby, degrees: half a period of the lowest band.
const rangeDeg = 0.5 / lowestBand

// localRange is the least and greatest value of one primary within about
// rangeDeg of each place.
type localRange struct{ lo, hi mapOf }

// newRange works the range out over blocks of about mapStep.
func newRange(g light.Grid, v []float32) localRange {
	n := max(1, int(math.Round(mapStep/g.StepDeg)))
	b := blockGrid(g, n)
	lo, hi := mapOf{b, make([]float32, b.Len())}, mapOf{b, make([]float32, b.Len())}
	for q := range lo.v {
		lo.v[q], hi.v[q] = math.MaxFloat32, -math.MaxFloat32
	}
	for y := range g.H {
		for x, a := range v[y*g.W : (y+1)*g.W] {
			q := y/n*b.W + x/n
			lo.v[q], hi.v[q] = min(lo.v[q], a), max(hi.v[q], a)
		}
	}
	r := max(1, int(rangeDeg/b.StepDeg))
	return localRange{extend(lo, r, func(a, b float32) float32 { return min(a, b) }), extend(hi, r, func(a, b float32) float32 { return max(a, b) })}
}

// extend takes the extreme over a square of 2 r + 1 blocks about each.
func extend(m mapOf, r int, pick func(a, b float32) float32) mapOf {
	tmp := mapOf{m.Grid, make([]float32, len(m.v))}
	out := mapOf{m.Grid, make([]float32, len(m.v))}
	for q := range m.v {
		i, row := q%m.W, q/m.W*m.W
		e := m.v[q]
		for k := max(i-r, 0); k <= min(i+r, m.W-1); k++ {
			e = pick(e, m.v[row+k])
		}
		tmp.v[q] = e
	}
	for q := range m.v {
		i, j := q%m.W, q/m.W
		e := tmp.v[q]
		for k := max(j-r, 0); k <= min(j+r, m.H-1); k++ {
			e = pick(e, tmp.v[k*m.W+i])
		}
		out.v[q] = e
	}
	return out
}

// apply turns the change of r back into light. The bands below the window's own
// come from low, nil for a picture that worked out all of its bands.
func (st *stage) apply(ch change, low *Low) *light.Image {
	in := st.soft
	out := light.NewImage(in.Grid)
	from, to := in.Planes(), out.Planes()
	for c := range 3 {
		if st.grey && c > 0 {
			copy(to[c], to[0])
			continue
		}
		d := st.total(ch, c)
		rng := newRange(in.Grid, from[c])
		st.applyPlane(to[c], from[c], d, rng, low, c)
	}
	st.putLamps(out)
	return out
}

// total returns d of one primary on the padded frame.
func (st *stage) total(ch change, c int) []float32 {
	if ch.spec[c] == nil {
		if ch.plane[c] == nil {
			return make([]float32, st.frame.w*st.frame.h)
		}
		return ch.plane[c]
	}
	d := st.frame.plan.Inverse(nil, ch.spec[c])
	if ch.plane[c] != nil {
		addTo(d, ch.plane[c])
	}
	return d
}

// applyPlane writes one primary:
//
//	L' = L + d (1 + L/K)² / (1 - d (1 + L/K) / K)
func (st *stage) applyPlane(dst, src, d []float32, rng localRange, low *Low, c int) {
	g := st.soft.Grid
	xs, ys := rng.lo.cells(g)
	var wide localRange
	var wx, wy []cell
	if low != nil {
		wide = low.ranges[c]
		wx, wy = wide.lo.cells(g)
	}
	lent := make([]float32, g.W)
	for j := range g.H {
		if low != nil {
			_, y := g.Centre(0, j)
			low.change[c].row(lent, g.LeftDeg, g.StepDeg, y)
		}
		for i := range g.W {
			q := j*g.W + i
			lo, hi := rng.lo.at(xs[i], ys[j]), rng.hi.at(xs[i], ys[j])
			if low != nil {
				lo = min(lo, wide.lo.at(wx[i], wy[j]))
				hi = max(hi, wide.hi.at(wx[i], wy[j]))
			}
			dst[q] = back(src[q], d[j*st.frame.w+i]+lent[i], float32(st.opt.C)*st.in.Adapt[q], lo, hi)
		}
	}
}

// back returns L' of one sample, limited to lo..hi.
func back(l, d, k, lo, hi float32) float32 {
	if d == 0 {
		return l
	}
	u := 1 + l/k
	rest := 1 - d*u/k
	if rest <= 0 {
		return hi
	}
	return min(max(l+d*u*u/rest, lo), hi)
}
