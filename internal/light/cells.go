package light

import "math"

// cells integrates a round kernel over the cells of a lattice of angles.
type cells struct {
	f    func(thetaDeg float64) float64
	step float64 // degrees
	sr   float64 // solid angle of a cell at the centre, step² in radians
}

func newCells(f func(float64) float64, stepDeg float64) cells {
	r := stepDeg * math.Pi / 180
	return cells{f, stepDeg, r * r}
}

// weight returns the integral of the kernel over the cell (x, y) cells away, by
// the midpoint rule on m x m points, m such that the steep centre is resolved
// (rule error below 0.1 %). A cell at θ covers sin θ/θ of the solid angle of
// one at the centre, so the weights of a plane sum to the hemisphere integral.
func (c cells) weight(x, y int) float64 {
	m := 1
	switch r := max(x, -x, y, -y); {
	case r <= 2:
		m = 16
	case r <= 24:
		m = 4
	}
	var sum float64
	for b := range m {
		v := (float64(y) + (float64(b)+0.5)/float64(m) - 0.5) * c.step
		for a := range m {
			u := (float64(x) + (float64(a)+0.5)/float64(m) - 0.5) * c.step
			theta := math.Sqrt(u*u + v*v)
			sum += c.f(theta) * sinc(theta*math.Pi/180)
		}
	}
	return sum / float64(m*m) * c.sr
}

// sinc returns sin x/x, 1 at zero.
func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(x) / x
}
