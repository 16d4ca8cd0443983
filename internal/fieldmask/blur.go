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
	tmp := plane(w * h)
	defer spare(tmp)
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
	inner := max(n-2*r, 0) // samples with all taps
	for i := range min(r, n) {
		dst[i] = blurAt(src, i, taps)
	}
	done := r + inner/4*4
	for i := r; i < done; i += 4 {
		blurFour(dst[i:i+4], src[i-r:i+4+r], taps, whole)
	}
	for i := done; i < r+inner; i++ {
		left, right := src[i-r:i+1], src[i:i+r+1]
		sum := taps[0] * src[i]
		for k := 1; k <= r; k++ {
			sum += taps[k] * (left[r-k] + right[k])
		}
		dst[i] = sum * whole
	}
	for i := max(r+inner, min(r, n)); i < n; i++ {
		dst[i] = blurAt(src, i, taps)
	}
}

// blurFour smooths four neighbours, whose sums do not wait for each other; src
// starts r samples before them and ends r after.
func blurFour(dst, src, taps []float32, whole float32) {
	r := len(taps) - 1
	t, mid := taps[0], src[r:r+4]
	a, b, c, d := t*mid[0], t*mid[1], t*mid[2], t*mid[3]
	for k := 1; k <= r; k++ {
		t, left, right := taps[k], src[r-k:][:4], src[r+k:][:4]
		a += t * (left[0] + right[0])
		b += t * (left[1] + right[1])
		c += t * (left[2] + right[2])
		d += t * (left[3] + right[3])
	}
	dst[0], dst[1], dst[2], dst[3] = a*whole, b*whole, c*whole, d*whole
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
	k := 1
	for ; k+1 < len(taps) && j-k > 0 && j+k+1 < h; k += 2 { // two at a time, away from the edges
		a, b, c, d := row(j-k), row(j+k), row(j-k-1), row(j+k+1)
		t, u := taps[k]*share, taps[k+1]*share
		for i := range dst {
			dst[i] = dst[i] + t*(a[i]+b[i]) + u*(c[i]+d[i])
		}
	}
	for ; k < len(taps); k++ {
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
