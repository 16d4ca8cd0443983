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
