package fieldmask

import (
	"math"
	"slices"
)

// drawNatural interpolates by natural neighbours (Sibson), on a raster: every
// node hands the loss of its nearest tested place to all nodes that are
// nearer to it than that place is, and each node takes the mean of what it
// is handed. The result lies between the losses of the neighbours and equals
// them at the tested places. Nodes run 2 half + 1 across and down
// about fixation; nodes whose outside (degrees beyond the tested area) is above
// fadedDeg take no part and hold nothing of use. Nil without places.
func drawNatural(pts []lossPoint, half int, outside []float64) []float64 {
	if len(pts) == 0 {
		return nil
	}
	w, h := 2*half+1, 2*half+1
	sum, count := make([]float64, w*h), make([]int, w*h)
	for j := range h {
		for i := range w {
			if outside[j*w+i] > fadedDeg {
				continue
			}
			p, d := nearest(pts, float64(i-half)*surfaceStep, float64(half-j)*surfaceStep)
			r := max(d/surfaceStep-1e-9, 0) // farther places only, not equally far ones
			for dy := -int(r); dy <= int(r); dy++ {
				if y := j + dy; y >= 0 && y < h {
					spread(sum[y*w:(y+1)*w], count[y*w:(y+1)*w], i, int(math.Sqrt(r*r-float64(dy*dy))), p.loss)
				}
			}
		}
	}
	for y := range h {
		integrate(sum[y*w:(y+1)*w], count[y*w:(y+1)*w])
	}
	limitTo(sum, pts)
	return sum
}

// spread adds a loss from column i-r to i+r of one row, as a rise and a fall
// that [integrate] sums up.
func spread(sum []float64, count []int, i, r int, loss float64) {
	lo, hi := max(i-r, 0), i+r+1
	sum[lo] += loss
	count[lo]++
	if hi < len(sum) {
		sum[hi] -= loss
		count[hi]--
	}
}

// integrate turns rises and falls into means.
func integrate(sum []float64, count []int) {
	s, n := 0.0, 0
	for i := range sum {
		s += sum[i]
		n += count[i]
		if sum[i] = 0; n > 0 {
			sum[i] = s / float64(n)
		}
	}
}

// limitTo takes out the rounding of the running sums beyond the range of pts.
func limitTo(v []float64, pts []lossPoint) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		lo, hi = math.Min(lo, p.loss), math.Max(hi, p.loss)
	}
	for i := range v {
		v[i] = math.Min(math.Max(v[i], lo), hi)
	}
}

// nearest returns the tested place nearest to a direction, and its distance.
func nearest(pts []lossPoint, x, y float64) (lossPoint, float64) {
	best, d2 := pts[0], math.Inf(1)
	for _, p := range pts {
		if e := (p.x-x)*(p.x-x) + (p.y-y)*(p.y-y); e < d2 {
			best, d2 = p, e
		}
	}
	return best, math.Sqrt(d2)
}

// median returns the middle value; v is sorted in place.
func median(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}
