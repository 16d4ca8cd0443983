package fieldmask

import (
	"math"

	"simview/internal/fft"
)

// gaussTaps returns the weights 0, 1, ... r of a Gaussian, not normalised.
func gaussTaps(sigma float64) []float32 {
	out := make([]float32, int(math.Ceil(3.5*sigma))+1)
	for i := range out {
		out[i] = float32(math.Exp(-float64(i*i) / (2 * sigma * sigma)))
	}
	return out
}

// blurEdge smooths a plane, in its place, with the taps along both axes and
// returns it; beyond the edge nothing counts.
func blurEdge(v []float32, w, h int, taps []float32) []float32 {
	tmp := make([]float32, w*h)
	fft.InBlocks(h, func(from, to int) {
		for j := from; j < to; j++ {
			blurLine(tmp[j*w:(j+1)*w], v[j*w:(j+1)*w], taps)
		}
	})
	fft.InBlocks(h, func(from, to int) {
		for j := from; j < to; j++ {
			blurDown(v[j*w:(j+1)*w], tmp, w, h, j, taps)
		}
	})
	return v
}

// blurLine smooths one line.
func blurLine(dst, src, taps []float32) {
	n, r := len(src), len(taps)-1
	whole := 1 / tapSum(n+2*r+1, r+n/2, taps)
	for i := range src {
		if i < r || i >= n-r {
			dst[i] = blurAt(src, i, taps)
			continue
		}
		left, right := src[i-r:i+1], src[i:i+r+1]
		sum := taps[0] * src[i]
		for k := 1; k <= r; k++ {
			sum += taps[k] * (left[r-k] + right[k])
		}
		dst[i] = sum * whole
	}
}

// tapSum is the weight of the taps about sample i of n.
func tapSum(n, i int, taps []float32) float32 {
	sum := float32(0)
	for k := max(i-len(taps)+1, 0); k < min(i+len(taps), n); k++ {
		sum += taps[max(k-i, i-k)]
	}
	return sum
}

// blurAt is one sample of a smoothed line, near its end.
func blurAt(src []float32, i int, taps []float32) float32 {
	sum := float32(0)
	for k := max(i-len(taps)+1, 0); k < min(i+len(taps), len(src)); k++ {
		sum += taps[max(k-i, i-k)] * src[k]
	}
	return sum / tapSum(len(src), i, taps)
}

// blurDown smooths row j of a plane along the columns.
func blurDown(dst, v []float32, w, h, j int, taps []float32) {
	share := 1 / tapSum(h, j, taps)
	row := func(j int) []float32 { return v[j*w : (j+1)*w][:len(dst)] }
	t := taps[0] * share
	for i, a := range row(j) {
		dst[i] = t * a
	}
	for k := 1; k < len(taps); k++ {
		t := taps[k] * share
		switch up, down := j-k >= 0, j+k < h; {
		case up && down:
			a, b := row(j-k), row(j+k)
			for i := range dst {
				dst[i] += t * (a[i] + b[i])
			}
		case up:
			addScaled(dst, row(j-k), t)
		case down:
			addScaled(dst, row(j+k), t)
		}
	}
}

// addScaled adds t v to dst.
func addScaled(dst, v []float32, t float32) {
	for i, a := range v {
		dst[i] += t * a
	}
}
