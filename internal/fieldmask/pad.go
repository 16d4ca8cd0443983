package fieldmask

// padded copies a plane of w x h into the corner of one of pw x ph and fills
// the rest so that the raster can be taken as periodic: the picture mirrored at
// its edges, fading from the one edge to the other.
func padded(v []float32, w, h, pw, ph int) []float32 {
	out := make([]float32, pw*ph)
	for j := range h {
		row := out[j*pw : (j+1)*pw]
		copy(row, v[j*w:(j+1)*w])
		for i := w; i < pw; i++ {
			a, b, t := mirror(i, w, pw)
			row[i] = row[a] + t*(row[b]-row[a])
		}
	}
	for j := h; j < ph; j++ {
		a, b, t := mirror(j, h, ph)
		for i := range pw {
			p := out[a*pw+i]
			out[j*pw+i] = p + t*(out[b*pw+i]-p)
		}
	}
	return out
}

// mirror returns, for sample i in n..m-1 beyond the n given ones, the samples
// mirrored at the far and at the near edge and the weight of the second.
func mirror(i, n, m int) (far, near int, t float32) {
	far = fold(2*n-1-i, n)
	near = fold(m-1-i, n)
	return far, near, float32(smoothStep(float64(i-n+1) / float64(m-n+1)))
}

// fold brings an index into 0..n-1 by mirroring at both edges.
func fold(i, n int) int {
	i = ((i % (2 * n)) + 2*n) % (2 * n)
	if i >= n {
		i = 2*n - 1 - i
	}
	return i
}
