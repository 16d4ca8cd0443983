package light

import (
	"fmt"
	"math"
)

// Haze is how cloudy a cornea looks at the slit lamp, in words.
type Haze int

// The grades of haze.
const (
	NoHaze Haze = iota
	TraceHaze
	MildHaze
	MarkedHaze
)

// hazeLog is what each grade adds to log s at 7 degrees in an eye of normal
// straylight 0.90. ASSUMED, from memory of single reports (+0.1 to +0.3 for early
// haze after surface treatment, 1.4 to 2.0 for scars); there is no published
// table that links the look of a cornea with its straylight.
var hazeLog = [...]float64{0, 0.1, 0.3, 0.6}

// HazeStraylight returns the straylight parameter s (deg²/sr, at 7 degrees) that
// haze adds to an eye; scatter of separate parts of an eye adds in s. An
// assumption, to be named where it is used; a measured log s goes before it. It
// is an error when the grade is none of the four.
//
//	s = 10^0.90 (10^g - 1), g = 0, 0.1, 0.3, 0.6
func HazeStraylight(h Haze) (float64, error) {
	if h < NoHaze || h > MarkedHaze {
		return 0, fmt.Errorf("haze: grade is %d, expected 0 (none), 1 (trace), 2 (mild) or 3 (marked)", int(h))
	}
	const young = 0.90
	return math.Pow(10, young) * (math.Pow(10, hazeLog[h]) - 1), nil
}

// Plus returns the eye with more straylight: s (deg²/sr, 0 or more) added at
// atDeg degrees (1 to 90), in the terms that grow with age.
//
//	Scale += s / (θ² Q_aged(θ))
func (g Glare) Plus(s, atDeg float64) (Glare, error) {
	if !(s >= 0) || math.IsInf(s, 1) {
		return g, fmt.Errorf("straylight: what is added is %v deg²/sr, expected a number from zero up", s)
	}
	if !(atDeg >= 1 && atDeg <= 90) {
		return g, fmt.Errorf("straylight: added at %v degrees, expected 1 to 90 (usual: 7)", atDeg)
	}
	g.Scale += s / (atDeg * atDeg * newKernel(g.Pigment).aged(atDeg))
	return g, nil
}
