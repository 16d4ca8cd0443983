package fieldmask

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// The common scale of perimetry: brightest spot of 10,000 asb on a background of
// 31.5 asb, 1 asb being 1/π cd/m².
const (
	CommonMaxCdM2        = 10000 / math.Pi
	CommonBackgroundCdM2 = 31.5 / math.Pi
)

// Scale is what the dB of an instrument refer to; the zero value is the common
// scale.
type Scale struct {
	MaxCdM2        float64 // brightest spot, cd/m² above the background; 0 is the common one
	BackgroundCdM2 float64 // cd/m²; 0 is the common one
}

// full replaces zeroes by the common scale.
func (s Scale) full() Scale {
	if s.MaxCdM2 == 0 {
		s.MaxCdM2 = CommonMaxCdM2
	}
	if s.BackgroundCdM2 == 0 {
		s.BackgroundCdM2 = CommonBackgroundCdM2
	}
	return s
}

// Check refuses luminances that no field test has.
func (s Scale) Check() error {
	f := s.full()
	if !(f.MaxCdM2 >= 10 && f.MaxCdM2 <= 1e5) {
		return fmt.Errorf("the brightest spot must be 10 to 100000 cd/m² (got %v); 1 asb is 0.318 cd/m²", s.MaxCdM2)
	}
	if !(f.BackgroundCdM2 >= 0.1 && f.BackgroundCdM2 <= 100) {
		return fmt.Errorf("the background must be 0.1 to 100 cd/m² (got %v); 1 asb is 0.318 cd/m²", s.BackgroundCdM2)
	}
	return nil
}

// Luminance returns the luminance of a spot above the background, in cd/m², of
// a value on this scale,
//
//	ΔL = ΔLmax 10^(-dB/10)
func (s Scale) Luminance(db float64) unit.CdM2 {
	return unit.CdM2(s.full().MaxCdM2 / unit.PerimetricDB(db).Factor())
}

// ToCommon returns the value on the common scale of a value on this one, at the
// same contrast of spot and background,
//
//	dB' = dB + 10 log10((ΔLmax'/Lb') / (ΔLmax/Lb))
//
// By Weber's law equal contrast is equally visible on either background (an
// assumption; the background of photopic tests).
func (s Scale) ToCommon(db float64) float64 {
	if s == (Scale{}) {
		return db // exactly
	}
	f := s.full()
	common := CommonMaxCdM2 / CommonBackgroundCdM2
	return db + 10*math.Log10(common/(f.MaxCdM2/f.BackgroundCdM2))
}
