package fieldmask

import (
	"math"

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
		lim := limits{near: newRange(in.Grid, from[c]).over(in.Grid)}
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
		lent := make([]float32, g.W)
		for j := from; j < to; j++ {
			if low != nil {
				_, y := g.Centre(0, j)
				low.change[c].row(lent, g.LeftDeg, g.StepDeg, y)
			}
			for i := range g.W {
				q := j*g.W + i
				free := back(src[q], d[j*st.frame.w+i]+lent[i], float32(st.opt.C)*st.in.Adapt[q])
				dst[q] = lim.apply(free, i, j)
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
	for q := range diff {
		diff[q] = src[q] - dst[q]
	}
	st.give(dst, nil, smoothed(diff, meanSigmaDeg), lim)
	given := blockMeans(g, dst)
	for q := range given.v {
		given.v[q] -= before.v[q]
	}
	return given
}

// giveLent gives a magnified window what its wide picture was given.
func (st *stage) giveLent(dst []float32, given mapOf, lim limits) {
	xs, ys := given.cells(st.soft.Grid)
	for j, y := range ys {
		for i, x := range xs {
			if e := given.at(x, y); e != 0 {
				q := j*st.soft.W + i
				dst[q] = lim.apply(dst[q]+e, i, j)
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
		for q := from * g.W; q < to*g.W; q++ {
			i, j := q%g.W, q/g.W
			e, was := m.at(mx[i], my[j]), dst[q]
			share := float32(1)
			if !st.opt.NormalPeriphery {
				share = min(st.loss.at(xs[i], ys[j])/fullGiveDB, 1)
			}
			if e*share != 0 {
				dst[q] = lim.apply(was+e*share, i, j)
			}
			if rest != nil {
				rest[q] = e - (dst[q] - was)
			}
		}
	})
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

// at returns the range at pixel (i, j).
func (r rangeCells) at(i, j int) (lo, hi float32) {
	return r.lo.at(r.xs[i], r.ys[j]), r.hi.at(r.xs[i], r.ys[j])
}

// apply limits a value at pixel (i, j).
func (l limits) apply(v float32, i, j int) float32 {
	lo, hi := l.near.at(i, j)
	if l.wide != nil {
		a, b := l.wide.at(i, j)
		lo, hi = min(lo, a), max(hi, b)
	}
	return min(max(v, lo), hi)
}

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
