package fft

// Two real rows a and b travel as one complex line z = a + i b. As the
// transform of a real row mirrors into its conjugate, with n the length
//
//	A[k] = (Z[k] + conj Z[n-k]) / 2
//	B[k] = (Z[k] - conj Z[n-k]) / 2i

// pair returns rows 2i and 2i+1 of rows of length n; when there are not so
// many, the last row stands in.
func pair[T any](rows []T, n, i int) (a, b []T) {
	last := len(rows)/n - 1
	j, k := min(2*i, last), min(2*i+1, last)
	return rows[j*n : (j+1)*n], rows[k*n : (k+1)*n]
}

// pairs is how many lanes the rows of length n take.
func pairs(elements, n int) int { return (elements/n + 1) / 2 }

// loadPairs fills elements from <= k < to of the lanes with two rows each.
func (t *lines) loadPairs(rows []float32, from, to int) {
	n := len(t.in)
	for i := range pairs(len(rows), n) {
		a, b := pair(rows, n, i)
		a, b = a[from:to], b[from:to]
		in := t.in[from:to]
		for k := range in {
			in[k].re[i], in[k].im[i] = float64(a[k]), float64(b[k])
		}
	}
}

// splitPairs writes columns from <= k < to of the half spectra of the rows.
func (t *lines) splitPairs(rows []complex64, from, to int) {
	n := len(t.in)
	for i := range pairs(len(rows), n/2+1) {
		a, b := pair(rows, n/2+1, i)
		for k := from; k < to; k++ {
			z, m := &t.in[k], &t.in[mirror(k, n)]
			zr, zi, mr, mi := z.re[i], z.im[i], m.re[i], m.im[i]
			a[k] = complex(float32((zr+mr)*0.5), float32((zi-mi)*0.5))
			b[k] = complex(float32((zi+mi)*0.5), float32((mr-zr)*0.5))
		}
	}
}

// joinPairs fills the lanes with Z = A + i B, real and imaginary part
// exchanged, from columns from <= k < to of the half spectra.
func (t *lines) joinPairs(rows []complex64, from, to int) {
	n := len(t.in)
	for i := range pairs(len(rows), n/2+1) {
		a, b := pair(rows, n/2+1, i)
		for k := from; k < to; k++ {
			ar, ai := float64(real(a[k])), float64(imag(a[k]))
			br, bi := float64(real(b[k])), float64(imag(b[k]))
			if k == mirror(k, n) {
				ai, bi = 0, 0
			}
			z, m := &t.in[k], &t.in[mirror(k, n)]
			z.im[i], z.re[i] = ar-bi, ai+br
			m.im[i], m.re[i] = ar+bi, br-ai
		}
	}
}

// storePairs writes elements from <= k < to of the rows, times scale.
func (t *lines) storePairs(rows []float32, from, to int, scale float64) {
	n := len(t.in)
	for i := range pairs(len(rows), n) {
		a, b := pair(rows, n, i)
		a, b = a[from:to], b[from:to]
		in := t.in[from:to]
		for k := range in {
			a[k], b[k] = float32(in[k].im[i]*scale), float32(in[k].re[i]*scale)
		}
	}
}

// mirror returns the index of frequency -k.
func mirror(k, n int) int {
	if k == 0 {
		return 0
	}
	return n - k
}
