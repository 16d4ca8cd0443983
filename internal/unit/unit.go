package unit

import (
	"fmt"
	"math"
)

// Degrees is an angle in degrees.
type Degrees float64

// Radians returns the angle in radians.
func (d Degrees) Radians() float64 { return float64(d) * math.Pi / 180 }

// Arcmin returns the angle in minutes of arc.
func (d Degrees) Arcmin() float64 { return float64(d) * 60 }

// MM is a length in millimetres.
type MM float64

// UM is a path or height in micrometres.
type UM float64

// NM is a wavelength in nanometres.
type NM float64

// Dioptres is a vergence or power in 1/m.
type Dioptres float64

// CdM2 is a luminance in candela per square metre.
type CdM2 float64

// Lux is an illuminance at the eye in lux; 1 lx spread over 1 sr is 1 cd/m².
type Lux float64

// PerimetricDB is a decibel of the visual field test: 10 log10 of a luminance
// ratio. It is never mixed with [ContrastDB].
type PerimetricDB float64

// Factor returns 10^(dB/10). That a loss of 1 dB multiplies the contrast
// threshold by this factor is an assumption of simview, named in the docs.
func (d PerimetricDB) Factor() float64 { return math.Pow(10, float64(d)/10) }

// ContrastDB is a decibel of contrast: 20 log10 of a contrast ratio.
type ContrastDB float64

// Factor returns 10^(dB/20).
func (d ContrastDB) Factor() float64 { return math.Pow(10, float64(d)/20) }

// Side says which of the patient's eyes is meant.
type Side int

// The two eyes of the patient.
const (
	Right Side = iota
	Left
)

// String returns "right" or "left".
func (s Side) String() string {
	switch s {
	case Right:
		return "right"
	case Left:
		return "left"
	}
	return fmt.Sprintf("side(%d)", int(s))
}

// Other returns the fellow side.
func (s Side) Other() Side { return 1 - s }

// ParseSide reads "right" or "left"; anything else is an error that says so.
func ParseSide(s string) (Side, error) {
	switch s {
	case "right":
		return Right, nil
	case "left":
		return Left, nil
	}
	return 0, fmt.Errorf("eye: must be right or left (got %q)", s)
}

// TemporalX returns the sign of x, in the clinician's pupil axes, that points
// to the temple of this eye: -1 for the right eye and +1 for the left.
func (s Side) TemporalX() float64 {
	if s == Right {
		return -1
	}
	return 1
}

// PupilPoint is a place in the entrance pupil, clinician's axes, mm.
type PupilPoint struct{ X, Y MM }

// SightPoint is a direction as the patient sees it: right +, up +, degrees.
type SightPoint struct{ X, Y Degrees }
