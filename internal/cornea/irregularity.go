package cornea

import (
	"fmt"
	"math"
)

// Kind is the look of an irregular surface.
type Kind string

// The kinds of surface. They are patterns of our own choice for what is seen at
// the slit lamp, not measured spectra.
const (
	Grain       Kind = "grain"       // bumps and hollows without a direction
	Ridges      Kind = "ridges"      // raised lines that run roughly one way
	Dots        Kind = "dots"        // separate small mounds
	Fingerprint Kind = "fingerprint" // close curved parallel lines
)

// Kinds lists the kinds in a fixed order.
func Kinds() []Kind { return []Kind{Grain, Ridges, Dots, Fingerprint} }

// Limits of what is taken for a corneal zone; wider than any cornea.
const (
	maxZoneMM    = 10   // zone radius, mm
	maxRMSUM     = 1000 // µm
	grainPerZone = 40   // finest grain is the zone radius over this
)

// Irregularity is the description of an irregular surface.
type Irregularity struct {
	RMSUM        float64 // root mean square height over the zone, µm, >= 0
	GrainMM      float64 // typical distance from one bump to the next, mm
	CentreXMM    float64 // centre of the zone, clinician's axes, mm
	CentreYMM    float64
	ZoneRadiusMM float64 // radius of the zone, mm; the outer 30 % fade to nothing
	Seed         uint64  // same seed, same surface
	Kind         Kind
}

// Check returns an error when a number is not finite or out of range, or the
// kind is not known.
func (q Irregularity) Check() error {
	switch {
	case !(q.ZoneRadiusMM > 0 && q.ZoneRadiusMM <= maxZoneMM):
		return fmt.Errorf("cornea: zone radius %v mm: expected above 0 and up to %d", q.ZoneRadiusMM, maxZoneMM)
	case !(q.RMSUM >= 0 && q.RMSUM <= maxRMSUM):
		return fmt.Errorf("cornea: root mean square height %v µm: expected 0 to %d", q.RMSUM, maxRMSUM)
	case !(q.GrainMM >= q.ZoneRadiusMM/grainPerZone && q.GrainMM <= q.ZoneRadiusMM):
		return fmt.Errorf("cornea: grain %v mm: expected %g to %g for a zone of radius %g mm", q.GrainMM, q.ZoneRadiusMM/grainPerZone, q.ZoneRadiusMM, q.ZoneRadiusMM)
	case !(math.Hypot(q.CentreXMM, q.CentreYMM) <= maxZoneMM):
		return fmt.Errorf("cornea: centre of the zone (%v, %v) mm: expected within %d mm of the pupil centre", q.CentreXMM, q.CentreYMM, maxZoneMM)
	}
	_, err := ParseKind(string(q.Kind))
	return err
}

// ParseKind reads the name of a kind; any other word is an error that lists
// them.
func ParseKind(s string) (Kind, error) {
	for _, k := range Kinds() {
		if string(k) == s {
			return k, nil
		}
	}
	return "", fmt.Errorf("cornea: kind of surface %q: expected one of %v", s, Kinds())
}
