package fieldmask

import (
	"math"
	"slices"

	"simview/internal/unit"
)

// Kind says what the numbers of a field are.
type Kind int

// The two kinds of field values.
const (
	Sensitivity    Kind = iota // dB, 10 log10, high is good
	TotalDeviation             // dB from the age norm at the same place, negative is loss
)

// String returns "sensitivity" or "total deviation".
func (k Kind) String() string {
	if k == TotalDeviation {
		return "total deviation"
	}
	return "sensitivity"
}

// Point is one tested place of a field.
type Point struct {
	At   unit.SightPoint // as the patient sees it: right +, up +, degrees from fixation
	DB   float64         // perimetric dB, see [Kind]
	Line int             // line of the file it came from, 0 = none
}

// Field is one visual field test of one eye.
type Field struct {
	Side    unit.Side
	Pattern string // "24-2", "24-2c", "30-2", "10-2" or "free"
	Kind    Kind
	Points  []Point
	Source  string // file name or words
	Date    string // day of the test as in 2024-05-03, when known
	Tests   int    // tests that the values are the mean of; 0 means one
	Norm    *Norm  // age norm for sensitivities; nil is the built-in one
}

// Warning is one sentence about a field that was read but looks odd.
type Warning string

// IsBlindSpot reports whether a point of the 6-degree grids is one of the pair
// at the blind spot, 15 degrees to the temple and 3 up or down; such points say
// nothing about loss and are left out of every index and surface.
func IsBlindSpot(side unit.Side, at unit.SightPoint) bool {
	return float64(at.X) == 15*temple(side) && math.Abs(float64(at.Y)) == 3
}

// InBlindSpot reports whether a direction lies in the usual blind spot: an
// ellipse 5.5 x 7.5 degrees about 15.5 degrees to the temple and 1.5 down (from
// memory, common anatomical values).
func InBlindSpot(side unit.Side, xDeg, yDeg float64) bool {
	u := (xDeg*temple(side) - 15.5) / (5.5 / 2)
	v := (yDeg + 1.5) / (7.5 / 2)
	return u*u+v*v <= 1
}

// temple is the sign of x, as the patient sees, that points to the temple: +1
// for the right eye.
func temple(side unit.Side) float64 {
	if side == unit.Right {
		return 1
	}
	return -1
}

// tested returns the points without those at the blind spot.
func (f Field) tested() []Point {
	return slices.DeleteFunc(slices.Clone(f.Points), func(p Point) bool {
		return f.Pattern != pattern10 && IsBlindSpot(f.Side, p.At)
	})
}
