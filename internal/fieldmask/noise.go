package fieldmask

import "math"

// Constants of [RetestSD]: Henson and others 2000, glaucoma and healthy eyes
// together, as quoted in published simulations.
const (
	hensonSlope = -0.081
	hensonConst = 3.27
	hensonMost  = 6.0
)

// RetestSD returns the standard deviation in dB of one measurement of a place
// whose sensitivity is given in dB (below 0 dB taken as 0):
//
//	s(t) = min(exp(-0.081 t + 3.27), 6)
//
// It is the spread of answers about the threshold (Henson2000), taken here for
// the spread of a test strategy's result.
func RetestSD(sensitivityDB float64) float64 {
	return math.Min(math.Exp(hensonSlope*math.Max(sensitivityDB, 0)+hensonConst), hensonMost)
}

// noiseVar is the variance in dB² of a place measured in so many tests, 0
// meaning one.
func noiseVar(sensitivityDB float64, tests int) float64 {
	s := RetestSD(sensitivityDB)
	return s * s / float64(max(tests, 1))
}
