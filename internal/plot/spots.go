package plot

import (
	"fmt"
	"image"
	"math"
)

// Spots is where the rays of one far point seem to come from, one for each of
// many places spread evenly over the pupil.
type Spots struct {
	Arcmin    [][2]float64 // as the patient sees them, right +, up +, minutes of arc
	RMSArcmin float64      // from their middle
}

// spotRings is the number of rings about the middle: with six more places on each
// next ring all stand for the same area, 271 together.
const spotRings = 9

// NewSpots follows the slope of a path (µm at a place in mm, clinician's axes) over
// a pupil:
//
//	(x, y) is seen at (-dW/dx, +dW/dy)
//
// for the places where covered is true, nil standing for all. A path that is not
// finite, or a pupil without a place left, is an error.
func NewSpots(path func(xMM, yMM float64) float64, pupilMM float64, covered func(xMM, yMM float64) bool) (*Spots, error) {
	if !(pupilMM > 0) || math.IsInf(pupilMM, 1) {
		return nil, fmt.Errorf("spots: need a pupil wider than 0 mm (got %g)", pupilMM)
	}
	s := &Spots{}
	for _, p := range pupilPlaces(pupilMM / 2) {
		if covered != nil && !covered(p[0], p[1]) {
			continue
		}
		x, y := seenFrom(path, p[0], p[1])
		if math.IsNaN(x+y) || math.IsInf(x+y, 0) {
			return nil, fmt.Errorf("spots: the path at (%.2f, %.2f) mm has no slope", p[0], p[1])
		}
		s.Arcmin = append(s.Arcmin, [2]float64{x, y})
	}
	if len(s.Arcmin) == 0 {
		return nil, fmt.Errorf("spots: no place of the pupil is left")
	}
	s.RMSArcmin = rootMeanSquare(s.Arcmin)
	return s, nil
}

// pupilPlaces are the middle and rings about it, each place standing for the same
// area: ring i lies between the radii that hold 1 + 3 i (i-1) and 1 + 3 i (i+1) places.
func pupilPlaces(radius float64) [][2]float64 {
	out := [][2]float64{{}}
	all := float64(1 + 3*spotRings*(spotRings+1))
	for i := 1; i <= spotRings; i++ {
		rho := radius * math.Sqrt((1+3*float64(i*i))/all)
		for k := range 6 * i {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + .5*float64(i%2)) / float64(6*i))
			out = append(out, [2]float64{rho * cos, rho * sin})
		}
	}
	return out
}

// seenFrom is the direction of one place, minutes of arc. The step is far below
// the finest grain of a cornea and far above rounding.
func seenFrom(path func(x, y float64) float64, x, y float64) (right, up float64) {
	const stepMM = 1e-3
	const arcmin = 1e-3 * 180 / math.Pi * arcminPerDeg // of a slope of 1 µm per mm
	dx := (path(x+stepMM, y) - path(x-stepMM, y)) / (2 * stepMM)
	dy := (path(x, y+stepMM) - path(x, y-stepMM)) / (2 * stepMM)
	return -dx * arcmin, dy * arcmin
}

func rootMeanSquare(places [][2]float64) float64 {
	var mx, my, sum float64
	n := float64(len(places))
	for _, p := range places {
		mx, my = mx+p[0]/n, my+p[1]/n
	}
	for _, p := range places {
		sum += (p[0]-mx)*(p[0]-mx) + (p[1]-my)*(p[1]-my)
	}
	return math.Sqrt(sum / n)
}

// draw marks the spots in a box of the given half side.
func (s *Spots) draw(c *canvas, box image.Rectangle, halfArcmin float64) {
	const half = 2.2 // pixels
	mid := pixel{float64(box.Min.X+box.Max.X) / 2, float64(box.Min.Y+box.Max.Y) / 2}
	scale := float64(box.Dx()) / (2 * halfArcmin)
	pen := c.in(box.Inset(2))
	for _, p := range s.Arcmin {
		x, y := mid.x+scale*p[0], mid.y-scale*p[1]
		pen.fill(lensInk, []pixel{{x - half, y}, {x, y - half}, {x + half, y}, {x, y + half}})
	}
}
