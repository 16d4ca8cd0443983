package fieldmask

import (
	"math"

	"simview/internal/fft"
	"simview/internal/light"
)

// mapStep is the distance between the nodes of smooth maps (loss, thresholds,
// adaptation, range), degrees.
const mapStep = 0.125

// mapOf is a smooth quantity on a coarse grid, read between its nodes; beyond
// its edge the edge counts.
type mapOf struct {
	light.Grid
	v []float32
}

// newMap covers a grid with an apron on every side, in nodes of mapStep, and
// fills it with f(x, y), degrees.
func newMap(g light.Grid, apronDeg float64, f func(x, y float64) float64) mapOf {
	xc, yc := g.LeftDeg+float64(g.W)*g.StepDeg/2, g.TopDeg-float64(g.H)*g.StepDeg/2
	w := int(math.Ceil((float64(g.W)*g.StepDeg+2*apronDeg)/mapStep)) + 1
	h := int(math.Ceil((float64(g.H)*g.StepDeg+2*apronDeg)/mapStep)) + 1
	m := mapOf{light.GridAround(xc, yc, w, h, mapStep), make([]float32, w*h)}
	for j := range h {
		for i := range w {
			x, y := m.Centre(i, j)
			m.v[j*w+i] = float32(f(x, y))
		}
	}
	return m
}

// like returns a map on the same nodes, f getting the node's index and place; it is
// called from several goroutines.
func (m mapOf) like(f func(q int, x, y float64) float64) mapOf {
	out := mapOf{m.Grid, make([]float32, len(m.v))}
	inRuns(len(out.v), func(lo, hi int) {
		for q := lo; q < hi; q++ {
			x, y := m.Centre(q%m.W, q/m.W)
			out.v[q] = float32(f(q, x, y))
		}
	})
	return out
}

// cell is where a coordinate falls between two nodes.
type cell struct {
	i int
	t float32
}

// cellOf clamps a fractional node index to n nodes.
func cellOf(u float64, n int) cell {
	if n < 2 || !(u > 0) {
		return cell{}
	}
	if u >= float64(n-1) {
		return cell{n - 2, 1}
	}
	i := int(u)
	return cell{i, float32(u - float64(i))}
}

// cells returns where the columns and rows of another grid fall.
func (m mapOf) cells(g light.Grid) (xs, ys []cell) {
	xs, ys = make([]cell, g.W), make([]cell, g.H)
	for i := range xs {
		x, _ := g.Centre(i, 0)
		u, _ := m.Pixel(x, 0)
		xs[i] = cellOf(u, m.W)
	}
	for j := range ys {
		_, y := g.Centre(0, j)
		_, v := m.Pixel(0, y)
		ys[j] = cellOf(v, m.H)
	}
	return xs, ys
}

// at reads the map in one cell.
func (m mapOf) at(x, y cell) float32 {
	q := y.i*m.W + x.i
	right, down := 1, m.W
	if m.W < 2 {
		right = 0
	}
	if m.H < 2 {
		down = 0
	}
	top := m.v[q] + x.t*(m.v[q+right]-m.v[q])
	low := m.v[q+down] + x.t*(m.v[q+down+right]-m.v[q+down])
	return top + y.t*(low-top)
}

// value reads the map in one direction.
func (m mapOf) value(xDeg, yDeg float64) float64 {
	u, v := m.Pixel(xDeg, yDeg)
	return float64(m.at(cellOf(u, m.W), cellOf(v, m.H)))
}

// spread reads the map at every pixel of a grid.
func (m mapOf) spread(g light.Grid) []float32 {
	out := make([]float32, g.Len())
	xs, ys := m.cells(g)
	fft.InBlocks(g.H, func(from, to int) {
		for j := from; j < to; j++ {
			for i := range g.W {
				out[j*g.W+i] = m.at(xs[i], ys[j])
			}
		}
	})
	return out
}

// line reads the map along one row of cells.
func (m mapOf) line(dst []float32, xs []cell, y cell) {
	down := 0
	if m.H > 1 {
		down = m.W
	}
	row := make([]float32, m.W+1)
	for i, v := range m.v[y.i*m.W : (y.i+1)*m.W] {
		row[i] = v + y.t*(m.v[y.i*m.W+i+down]-v)
	}
	row[m.W] = row[m.W-1]
	for i, x := range xs {
		dst[i] = row[x.i] + x.t*(row[x.i+1]-row[x.i])
	}
}
