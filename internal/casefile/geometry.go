package casefile

import (
	"math"

	"simview/internal/unit"
)

// polar returns the pupil point at distance r and angle a.
//
//	x = r cos(a)   y = r sin(a)
func polar(r unit.MM, a unit.Degrees) unit.PupilPoint {
	s, c := math.Sincos(a.Radians())
	return unit.PupilPoint{X: r * unit.MM(c), Y: r * unit.MM(s)}
}

// directionList names the words that a direction may be given in.
const directionList = "up, down, in, out, up-and-in, up-and-out, down-and-in or down-and-out"

// directionWords returns the angle, counter-clockwise from the clinician's
// right, of a direction in words; in is towards the nose of that eye.
func directionWords(side unit.Side, words string) (unit.Degrees, bool) {
	out := side.TemporalX()
	v := map[string][2]float64{
		"up": {0, 1}, "down": {0, -1}, "out": {out, 0}, "in": {-out, 0},
		"up-and-out": {out, 1}, "up-and-in": {-out, 1},
		"down-and-out": {out, -1}, "down-and-in": {-out, -1},
	}
	xy, ok := v[words]
	a := math.Atan2(xy[1], xy[0]) * 180 / math.Pi
	if a < 0 {
		a += 360
	}
	return unit.Degrees(a), ok
}

// directionName is the reverse of [directionWords] for messages: the nearest of
// the eight words for an angle in the clinician's axes.
func directionName(side unit.Side, a unit.Degrees) string {
	best, least := "", math.Inf(1)
	for _, w := range []string{"up", "down", "in", "out", "up-and-in", "up-and-out", "down-and-in", "down-and-out"} {
		b, _ := directionWords(side, w)
		if off := math.Abs(math.Remainder(float64(a-b), 360)); off < least {
			best, least = w, off
		}
	}
	return best
}
