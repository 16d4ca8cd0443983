package render

// strip is the light of a PSF between two levels, along x in samples of the
// PSF, with its first and second running sums.
type strip struct {
	light []float64 // in column i
	sum   []float64 // left of the edge of column i
	twice []float64 // integral of sum up to the edge of column i
}

func newStrip(n int) *strip {
	return &strip{make([]float64, n), make([]float64, n+1), make([]float64, n+1)}
}

// fill takes the light between the levels top and bottom, in rows.
func (s *strip) fill(g *glow, top, bottom float64) {
	n := len(s.light)
	a, fa := level(g.above, n, top)
	b, fb := level(g.above, n, bottom)
	for i := range s.light {
		up := a[i] + fa*(a[n+i]-a[i])
		down := b[i] + fb*(b[n+i]-b[i])
		s.light[i] = down - up
		s.sum[i+1] = s.sum[i] + s.light[i]
		s.twice[i+1] = s.twice[i] + (s.sum[i]+s.sum[i+1])/2
	}
}

// level returns the two rows of running sums about a level, limited to the
// PSF, and how far it lies from the first to the second.
func level(above []float64, n int, y float64) (rows []float64, part float64) {
	y = min(max(y, 0), float64(n))
	j := min(int(y), n-1)
	return above[j*n : (j+2)*n], y - float64(j)
}

// share is the light between the columns x0 and x1, averaged over moving the
// PSF by up to half either way:
//
//	1/(2 h) integral over t from -h to h of S(x1 + t) - S(x0 + t)
func (s *strip) share(x0, x1, half float64) float64 {
	if half == 0 {
		return max(0, s.upTo(x1)-s.upTo(x0))
	}
	v := s.twiceTo(x1+half) - s.twiceTo(x1-half) - s.twiceTo(x0+half) + s.twiceTo(x0-half)
	return max(0, v/(2*half))
}

// upTo is the light left of x.
func (s *strip) upTo(x float64) float64 {
	n := len(s.light)
	x = min(max(x, 0), float64(n))
	i := min(int(x), n-1)
	return s.sum[i] + (x-float64(i))*s.light[i]
}

// twiceTo is the integral of upTo.
func (s *strip) twiceTo(x float64) float64 {
	n := len(s.light)
	if x >= float64(n) {
		return s.twice[n] + (x-float64(n))*s.sum[n]
	}
	x = max(x, 0)
	i := int(x)
	f := x - float64(i)
	return s.twice[i] + f*(s.sum[i]+f*s.light[i]/2)
}
