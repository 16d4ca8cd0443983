package light

import "math"

// direction returns the unit vector of a direction (degrees on the grid of
// angles): x right, y up, z straight ahead,
//
//	(x sin r/r, y sin r/r, cos r), r = hypot(x, y) in radians
//
// by the power series in r², which need no root and hold to 1e-9 up to 100°.
func direction(xDeg, yDeg float64) [3]float64 {
	x, y := xDeg*(math.Pi/180), yDeg*(math.Pi/180)
	q := x*x + y*y
	sinc, cos := 1.0, 1.0
	for n := 9.0; n > 0; n-- {
		sinc = 1 - q/(2*n*(2*n+1))*sinc
		cos = 1 - q/(2*n*(2*n-1))*cos
	}
	return [3]float64{x * sinc, y * sinc, cos}
}

func lampDirection(l *Lamp) [3]float64 {
	return direction(float64(l.At.X), float64(l.At.Y))
}

// chord2 returns the squared chord between unit vectors, 4 sin²(θ/2).
func chord2(a, b [3]float64) float64 {
	x, y, z := a[0]-b[0], a[1]-b[1], a[2]-b[2]
	return x*x + y*y + z*z
}

// angle returns the great-circle angle, degrees, of a squared chord.
func angle(chord2 float64) float64 {
	return 2 * math.Asin(min(math.Sqrt(chord2)/2, 1)) * 180 / math.Pi
}

// GreatCircleDeg returns the angle in degrees between two directions given in
// degrees on the grid of angles, 0 to 180.
func GreatCircleDeg(x1, y1, x2, y2 float64) float64 {
	return angle(chord2(direction(x1, y1), direction(x2, y2)))
}
