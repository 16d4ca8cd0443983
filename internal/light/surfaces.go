package light

import (
	"math"
	"slices"

	"simview/internal/fft"
)

// surfaceVeils returns the veils of the surfaces on the coarse lattice, over the
// part that out needs. With f the surfaces less the surround, zero beyond coarse,
//
//	veil = surround T + f * K
//
// holds exactly for a uniform hemisphere around coarse: the kernel reaches over
// the whole coarse grid, and what lies beyond is the remainder of T.
func surfaceVeils(out Grid, coarse *Image, surround [3]float64, k kernel) (fixed, aged *Image) {
	if coarse == nil {
		coarse = uniform(GridAround(out.LeftDeg, out.TopDeg, 1, 1, CoarseStepDeg), surround)
	}
	need := cover(coarse.Grid, out)
	fixed, aged = uniform(need, surround), uniform(need, surround)
	tf, ta := unitShares(k.p)
	scale(fixed, tf)
	scale(aged, ta)
	spread := excess(coarse, surround)
	if spread == nil {
		return fixed, aged
	}
	c := newConvolver(coarse.Grid, need)
	for i, kern := range []func(float64) float64{k.fixed, k.aged} {
		c.load(kern)
		c.addAll([]*Image{fixed, aged}[i], spread)
	}
	return fixed, aged
}

func uniform(g Grid, v [3]float64) *Image {
	m := NewImage(g)
	for p, plane := range m.Planes() {
		for i := range plane {
			plane[i] = float32(v[p])
		}
	}
	return m
}

func scale(m *Image, f float64) {
	for _, p := range m.Planes() {
		for i := range p {
			p[i] *= float32(f)
		}
	}
}

// excess returns the surfaces less the surround, nil when nothing is left.
func excess(coarse *Image, surround [3]float64) *Image {
	m := NewImage(coarse.Grid)
	any := false
	src := coarse.Planes()
	for p, dst := range m.Planes() {
		for i, v := range src[p] {
			dst[i] = float32(float64(v) - surround[p])
			any = any || dst[i] != 0
		}
	}
	if !any {
		return nil
	}
	return m
}

// convolver adds kernel x picture on a lattice, from the grid in to the grid out.
type convolver struct {
	in, out Grid
	dx, dy  int // column and row of out's pixel (0, 0) on in's lattice
	w, h    int // padded size: no offset between in and out wraps
	plan    *fft.Real2D
	kernel  []complex64
	work    []float32
	spec    []complex64
}

func newConvolver(in, out Grid) *convolver {
	fi, fj := in.Pixel(out.Centre(0, 0))
	c := &convolver{in: in, out: out, dx: int(math.Round(fi)), dy: int(math.Round(fj))}
	c.w, c.h = fft.GoodSize(in.W+out.W-1), fft.GoodSize(in.H+out.H-1)
	plan, err := fft.NewReal2D(c.w, c.h)
	if err != nil {
		panic("light: veil: " + err.Error()) // sizes are positive: cannot happen
	}
	c.plan, c.work = plan, make([]float32, c.w*c.h)
	return c
}

// load makes the spectrum of a kernel. Output (i, j) and input (a, b) are
// (dx + i - a, dy + j - b) apart; output and input both start at 0, so the
// offsets run from dx-(in.W-1) to dx+out.W-1.
func (c *convolver) load(f func(float64) float64) {
	clear(c.work)
	cell := newCells(f, c.in.StepDeg)
	rows(c.in.H+c.out.H-1, func(from, to int) {
		for n := from; n < to; n++ {
			y := n - (c.in.H - 1)
			row := c.work[(y+c.h)%c.h*c.w:][:c.w]
			for x := -(c.in.W - 1); x < c.out.W; x++ {
				row[(x+c.w)%c.w] = float32(cell.weight(x+c.dx, y+c.dy))
			}
		}
	})
	c.kernel = c.plan.Forward(c.kernel, c.work)
}

// addAll adds the convolved planes; a grey picture is worked once.
func (c *convolver) addAll(dst, src *Image) {
	s, d := src.Planes(), dst.Planes()
	var last []float32
	for p := range s {
		if p == 0 || !slices.Equal(s[p], s[p-1]) {
			last = c.convolve(s[p])
		}
		for j := range c.out.H {
			row := last[j*c.w:][:c.out.W]
			for i, v := range row {
				d[p][j*c.out.W+i] += v
			}
		}
	}
}

// convolve returns the padded plane; out's rows and columns come first.
func (c *convolver) convolve(src []float32) []float32 {
	clear(c.work)
	for j := range c.in.H {
		copy(c.work[j*c.w:], src[j*c.in.W:(j+1)*c.in.W])
	}
	c.spec = c.plan.Forward(c.spec, c.work)
	for i := range c.spec {
		c.spec[i] *= c.kernel[i]
	}
	return c.plan.Inverse(c.work, c.spec)
}
