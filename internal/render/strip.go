package render

// sums are the light of a PSF's raster added up from its upper left corner, so
// that the light of any rectangle is a matter of four corners: (n+1) x (n+1),
// [y][x], the light above row y and left of column x, and its integral over x.
type sums struct {
	n           int
	left, twice []float64
}

// newSums adds up n x n samples.
func newSums(pix []float32, n int) sums {
	s := sums{n, make([]float64, (n+1)*(n+1)), make([]float64, (n+1)*(n+1))}
	for j := range n {
		above, here := s.left[j*(n+1):(j+1)*(n+1)], s.left[(j+1)*(n+1):(j+2)*(n+1)]
		twice := s.twice[(j+1)*(n+1) : (j+2)*(n+1)]
		row := 0.0
		for i, v := range pix[j*n : (j+1)*n] {
			row += float64(v)
			here[i+1] = above[i+1] + row
			twice[i+1] = twice[i] + (here[i]+here[i+1])/2
		}
	}
	return s
}

// strip is the light between two levels.
type strip struct {
	n           int
	top, bottom level
}

// level is the two rows of sums about a level, and how far it lies from the first
// to the second.
type level struct {
	left, twice [2][]float64
	part        float64
}

// between takes the light between the levels top and bottom, in rows, limited to
// the PSF.
func (s sums) between(top, bottom float64) strip {
	return strip{s.n, s.at(top), s.at(bottom)}
}

func (s sums) at(y float64) level {
	y = min(max(y, 0), float64(s.n))
	j, w := min(int(y), s.n-1), s.n+1
	rows := func(v []float64) [2][]float64 { return [2][]float64{v[j*w : (j+1)*w], v[(j+1)*w : (j+2)*w]} }
	return level{rows(s.left), rows(s.twice), y - float64(j)}
}

// before is the light left of x, averaged over moving the PSF by up to half either
// way:
//
//	1/(2 h) integral over t from -h to h of S(x + t)
func (s strip) before(x, half float64) float64 {
	if half == 0 {
		return s.upTo(x)
	}
	return (s.twiceTo(x+half) - s.twiceTo(x-half)) / (2 * half)
}

// upTo is the light left of x.
func (s strip) upTo(x float64) float64 {
	x = min(max(x, 0), float64(s.n))
	i := min(int(x), s.n-1)
	f := x - float64(i)
	return s.bottom.upTo(i, f) - s.top.upTo(i, f)
}

func (l level) upTo(i int, f float64) float64 {
	a, b := l.left[0], l.left[1]
	up, down := a[i]+f*(a[i+1]-a[i]), b[i]+f*(b[i+1]-b[i])
	return up + l.part*(down-up)
}

// twiceTo is the integral of upTo.
func (s strip) twiceTo(x float64) float64 {
	past := max(x-float64(s.n), 0)
	x = min(max(x, 0), float64(s.n))
	i := min(int(x), s.n-1)
	f := x - float64(i)
	v := s.bottom.twiceTo(i, f) - s.top.twiceTo(i, f)
	if past > 0 {
		v += past * s.upTo(x)
	}
	return v
}

func (l level) twiceTo(i int, f float64) float64 {
	a, b := l.left[0][i:i+2], l.left[1][i:i+2]
	up := l.twice[0][i] + f*(a[0]+f*(a[1]-a[0])/2)
	down := l.twice[1][i] + f*(b[0]+f*(b[1]-b[0])/2)
	return up + l.part*(down-up)
}
