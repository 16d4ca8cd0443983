package fieldmask

import "simview/internal/fft"

// padded copies a plane of w x h into the corner of one of pw x ph and fills
// the rest so that the raster can be taken as periodic: the picture mirrored at
// its edges, fading from each edge to the mean in the middle of the padding, so
// that nothing of one edge comes near the other. The room is for the caller to
// [spare].
func padded(v []float32, w, h, pw, ph int) []float32 {
	sum := 0.0
	for _, a := range v {
		sum += float64(a)
	}
	mean := float32(sum / float64(len(v)))
	out := plane(pw * ph)
	from, faded := make([]int, pw-w), make([]float32, pw-w)
	for i := range from {
		from[i], faded[i] = mirror(w+i, w, pw)
	}
	fft.InBlocks(h, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			row := out[j*pw : (j+1)*pw]
			copy(row, v[j*w:(j+1)*w])
			for i, k := range from {
				row[w+i] = row[k] + faded[i]*(mean-row[k])
			}
		}
	})
	fft.InBlocks(ph-h, func(lo, hi int) {
		for j := h + lo; j < h+hi; j++ {
			from, t := mirror(j, h, ph)
			row := out[j*pw : (j+1)*pw]
			for i, p := range out[from*pw : (from+1)*pw] {
				row[i] = p + t*(mean-p)
			}
		}
	})
	return out
}

// wholeShare is the share of the way to the middle over which the mirrored picture
// does not fade.
const wholeShare = 0.3

// mirror returns, for sample i in n..m-1 beyond the n given ones, the sample
// mirrored at the nearer edge and how far it has faded, 0 to 1.
func mirror(i, n, m int) (from int, faded float32) {
	beyond := i - n // samples past the far edge, before the near one
	from = n - 1 - beyond
	if left := m - 1 - i; left < beyond {
		beyond, from = left, left
	}
	half := float64(m-n+1) / 2
	return min(max(from, 0), n-1), float32(smoothStep(((float64(beyond)+1)/half - wholeShare) / (1 - wholeShare)))
}
