package fieldmask

import (
	"math"
	"slices"

	"simview/internal/fft"
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
	b, n := blockGrid(g)
	lo, hi := mapOf{b, make([]float32, b.Len())}, mapOf{b, make([]float32, b.Len())}
	for q := range lo.v {
		lo.v[q], hi.v[q] = math.MaxFloat32, -math.MaxFloat32
	}
	fft.InBlocks(b.H, func(from, to int) {
		for y := from * n; y < min(to*n, g.H); y++ {
			for x, row := 0, v[y*g.W:(y+1)*g.W]; x < b.W; x++ {
				part := row[x*n : min((x+1)*n, g.W)]
				q := y/n*b.W + x
				lo.v[q], hi.v[q] = min(lo.v[q], slices.Min(part)), max(hi.v[q], slices.Max(part))
			}
		}
	})
	r := max(1, int(rangeDeg/b.StepDeg))
	return localRange{extend(lo, r, func(a, b float32) float32 { return min(a, b) }), extend(hi, r, func(a, b float32) float32 { return max(a, b) })}
}

// extend takes the extreme over a square of 2 r + 1 blocks about each.
func extend(m mapOf, r int, pick func(a, b float32) float32) mapOf {
	tmp := mapOf{m.Grid, make([]float32, len(m.v))}
	out := mapOf{m.Grid, make([]float32, len(m.v))}
	line, res := make([]float32, max(m.W, m.H)), make([]float32, max(m.W, m.H))
	for j := range m.H {
		runExtreme(tmp.v[j*m.W:(j+1)*m.W], m.v[j*m.W:(j+1)*m.W], r, pick)
	}
	for i := range m.W {
		for j := range m.H {
			line[j] = tmp.v[j*m.W+i]
		}
		runExtreme(res[:m.H], line[:m.H], r, pick)
		for j := range m.H {
			out.v[j*m.W+i] = res[j]
		}
	}
	return out
}

// runExtreme takes the extreme over 2 r + 1 samples about each of a line, in time
// that does not grow with r (van Herk 1992): from the extremes of blocks of
// 2 r + 1, run from the left and from the right.
func runExtreme(dst, src []float32, r int, pick func(a, b float32) float32) {
	n, k := len(src), 2*r+1
	left, right := make([]float32, n), make([]float32, n)
	for i, v := range src {
		left[i] = v
		if i%k != 0 {
			left[i] = pick(v, left[i-1])
		}
	}
	for i := n - 1; i >= 0; i-- {
		right[i] = src[i]
		if i < n-1 && (i+1)%k != 0 {
			right[i] = pick(src[i], right[i+1])
		}
	}
	for i := range src {
		from, to := max(i-r, 0), min(i+r, n-1)
		dst[i] = pick(right[from], left[to])
		if from/k == to/k { // cut at an end: one block, not run from its border
			dst[i] = src[from]
			for _, v := range src[from : to+1] {
				dst[i] = pick(dst[i], v)
			}
		}
	}
}

// apply turns the change of r back into light. The bands below the window's own
// come from low, nil for a picture that worked out all of its bands; such a
// picture leaves its correction of the mean in lent, if not nil.
func (st *stage) apply(ch change, low, lent *Low) *light.Image {
	in := st.soft
	out := light.NewImage(in.Grid)
	from, to := in.Planes(), out.Planes()
	for c := range 3 {
		if st.grey && c > 0 && (low == nil || low.grey) {
			copy(to[c], to[0])
			if lent != nil {
				lent.given[c] = lent.given[0]
			}
			continue
		}
		lim := limits{near: st.rangeOf(from[c], lent, c).over(in.Grid)}
		if low != nil {
			w := low.ranges[c].over(in.Grid)
			lim.wide = &w
		}
		taken := st.applyPlane(to[c], from[c], st.total(ch, c), lim, low, c)
		if low != nil {
			st.giveLent(to[c], low.given[c], lim)
			continue
		}
		given := st.keepMean(to[c], from[c], taken, lim)
		if lent != nil {
			lent.given[c] = given
		}
	}
	st.putLamps(out)
	return out
}

// rangeOf is the range of a primary of the picture, which may stand in what is lent.
func (st *stage) rangeOf(v []float32, lent *Low, c int) localRange {
	if lent != nil {
		return lent.ranges[c]
	}
	return newRange(st.soft.Grid, v)
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
//
// limited to the range nearby, and returns what the limit took.
func (st *stage) applyPlane(dst, src, d []float32, lim limits, low *Low, c int) (taken []float32) {
	g := st.soft.Grid
	taken = make([]float32, g.Len())
	fft.InBlocks(g.H, func(from, to int) {
		lent, row := make([]float32, g.W), lim.rows(g.W)
		for j := from; j < to; j++ {
			if low != nil {
				_, y := g.Centre(0, j)
				low.change[c].row(lent, g.LeftDeg, g.StepDeg, y)
			}
			row.read(j)
			for i := range g.W {
				q := j*g.W + i
				free := back(src[q], d[j*st.frame.w+i]+lent[i], float32(st.opt.C)*st.in.Adapt[q])
				dst[q] = row.apply(free, i)
				// a value that no light can have says nothing of what was taken
				taken[q] = min(max(free, -src[q]), 2*src[q]+dst[q]) - dst[q]
			}
		}
	})
	return taken
}

// giveSigmaDeg are the standard deviations, in degrees, over which what the limit
// took is spread: what the first round cannot place goes into the second.
var giveSigmaDeg = [...]float64{0.5, 1}

// meanSigmaDeg is the standard deviation, in degrees, over which the mean light
// is kept; wide enough to leave the lowest band alone.
const meanSigmaDeg = 3

// meanRounds is how often that is done: what the limit keeps from being given in
// one round is still missing in the next. After one round alone a deep real field
// darkened a street by 0.53 %.
const meanRounds = 2

// keepMean gives what the limit took to the surroundings and then brings the mean
// light over some degrees back to that of the scene, in damaged places. It
// returns, over blocks, what was given in all.
func (st *stage) keepMean(dst, src, taken []float32, lim limits) mapOf {
	g := st.soft.Grid
	smoothed := func(v []float32, sigma float64) mapOf {
		m := blockMeans(g, v)
		m.v = blurEdge(m.v, m.W, m.H, gaussTaps(sigma/m.StepDeg))
		return m
	}
	before := blockMeans(g, dst)
	for _, sigma := range giveSigmaDeg {
		st.give(dst, taken, smoothed(taken, sigma), lim)
	}
	diff := taken
	for range meanRounds {
		for q := range diff {
			diff[q] = src[q] - dst[q]
		}
		st.give(dst, nil, smoothed(diff, meanSigmaDeg), lim)
	}
	given := blockMeans(g, dst)
	for q := range given.v {
		given.v[q] -= before.v[q]
	}
	return given
}

// giveLent gives a magnified window what its wide picture was given.
func (st *stage) giveLent(dst []float32, given mapOf, lim limits) {
	g := st.soft.Grid
	xs, ys := given.cells(g)
	e, row := make([]float32, g.W), lim.rows(g.W)
	for j, y := range ys {
		given.line(e, xs, y)
		row.read(j)
		for i := range e {
			if e[i] != 0 {
				q := j*g.W + i
				dst[q] = row.apply(dst[q]+e[i], i)
			}
		}
	}
}

// give adds a map of light to the damaged places, within the limits; what finds
// no place is written to rest, if not nil.
func (st *stage) give(dst, rest []float32, m mapOf, lim limits) {
	g := st.soft.Grid
	xs, ys := st.loss.cells(g)
	mx, my := m.cells(g)
	fft.InBlocks(g.H, func(from, to int) {
		e, share, row := make([]float32, g.W), make([]float32, g.W), lim.rows(g.W)
		for j := from; j < to; j++ {
			m.line(e, mx, my[j])
			st.giveShare(share, xs, ys[j])
			row.read(j)
			for i := range e {
				q := j*g.W + i
				was := dst[q]
				if e[i]*share[i] != 0 {
					dst[q] = row.apply(was+e[i]*share[i], i)
				}
				if rest != nil {
					rest[q] = e[i] - (dst[q] - was)
				}
			}
		}
	})
}

// giveShare is, along a row, the part of light given back that a place takes.
func (st *stage) giveShare(share []float32, xs []cell, y cell) {
	st.loss.line(share, xs, y)
	for i, db := range share {
		share[i] = min(db/fullGiveDB, 1)
		if st.opt.NormalPeriphery {
			share[i] = 1
		}
	}
}

// fullGiveDB is the loss from which a place takes its whole part of light given
// back; without loss it takes none.
const fullGiveDB = 1

// limits are the ranges that a result must keep: of the picture's own
// surroundings, widened by those of the wide picture where there is one.
type limits struct {
	near rangeCells
	wide *rangeCells
}

// rangeCells is a range read on the pixels of a grid.
type rangeCells struct {
	localRange
	xs, ys []cell
}

// over prepares a range for the pixels of a grid.
func (r localRange) over(g light.Grid) rangeCells {
	xs, ys := r.lo.cells(g)
	return rangeCells{r, xs, ys}
}

// rowLimits are the limits along one row.
type rowLimits struct {
	limits
	lo, hi, a, b []float32
}

// rows prepares room for a row of n pixels.
func (l limits) rows(n int) *rowLimits {
	v := make([]float32, 4*n)
	return &rowLimits{l, v[:n], v[n : 2*n], v[2*n : 3*n], v[3*n:]}
}

// read reads the limits of row j.
func (r *rowLimits) read(j int) {
	r.near.lo.line(r.lo, r.near.xs, r.near.ys[j])
	r.near.hi.line(r.hi, r.near.xs, r.near.ys[j])
	if r.wide == nil {
		return
	}
	r.wide.lo.line(r.a, r.wide.xs, r.wide.ys[j])
	r.wide.hi.line(r.b, r.wide.xs, r.wide.ys[j])
	for i := range r.lo {
		r.lo[i], r.hi[i] = min(r.lo[i], r.a[i]), max(r.hi[i], r.b[i])
	}
}

// apply limits a value at pixel i of the row.
func (r *rowLimits) apply(v float32, i int) float32 { return min(max(v, r.lo[i]), r.hi[i]) }

// back returns L' of one sample; where no light gives so strong a response, the
// greatest number.
func back(l, d, k float32) float32 {
	if d == 0 {
		return l
	}
	u := 1 + l/k
	rest := 1 - d*u/k
	if rest <= 0 {
		return math.MaxFloat32
	}
	return l + d*u*u/rest
}
