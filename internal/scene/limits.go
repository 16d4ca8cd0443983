package scene

import (
	"fmt"
	"math"
	"strings"
)

// Nothing in a scene is brighter than the sun. Its disc has about 1.6e9 cd/m² at
// noon (a common handbook value) and is 0.533 degrees wide, so that it gives
//
//	E = L Omega = 1.6e9 x pi/4 x (0.533 pi/180)^2 = 1.09e5 lux
//
// on the ground; above the air it gives about 1.3e5 lux, which is the limit for
// a lamp.
const (
	sunCdM2 = 1.6e9
	sunLux  = 1.3e5
)

// span is the range of a number, in its unit, and what to do outside it.
type span struct {
	lo, hi     float64
	unit, hint string
}

// headSpans are the ranges of the numbers at the top of a scene file; all of
// them have to be given.
var headSpans = map[string]span{
	"distance_m":    {0.1, 1e5, "m", "an arm's length is 0.6, a wall chart stands at 4, a street lies at 10 and more"},
	"width_deg":     {0.5, 90, "degrees", "a fist at arm's length is about 10 degrees wide, and a picture keeps equal angles only up to 90"},
	"height_deg":    {0.5, 90, "degrees", "a fist at arm's length is about 10 degrees wide, and a picture keeps equal angles only up to 90"},
	"adapt_cdm2":    {1e-4, 1e5, "cd/m²", "the light most of the scene has: 0.5 on a lit road, 100 on a page, 1000 in a street by day"},
	"surround_cdm2": {1e-6, 1e6, "cd/m²", "the light beyond everything that is drawn; never 0, since no place is quite black"},
}

// headOrder is the order in which they are checked.
var headOrder = []string{"distance_m", "width_deg", "height_deg", "adapt_cdm2", "surround_cdm2"}

func (s span) check(key string, v float64) error {
	if v >= s.lo && v <= s.hi {
		return nil
	}
	return fmt.Errorf("%s: must be given and lie in %s to %s %s (got %g); hint: %s", key, plain(s.lo), plain(s.hi), s.unit, v, s.hint)
}

// plain writes a number without an exponent where that is short.
func plain(v float64) string {
	if v >= 1e-4 && v < 1e7 {
		return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.4f", v), "0"), ".")
	}
	return fmt.Sprintf("%g", v)
}

// checkLuminance checks what a shape is painted with.
func checkLuminance(v *float64) error {
	switch {
	case v == nil:
		return fmt.Errorf("cdm2: missing; the luminance in cd/m²; hint: white paper in an office has about 120")
	case *v < 0:
		return fmt.Errorf("cdm2: must not be negative (got %g); hint: a shadow is a smaller luminance, or a dark shape with opacity", *v)
	case *v > sunCdM2:
		return fmt.Errorf("cdm2: must be at most %g cd/m², the luminance of the sun (got %g)", sunCdM2, *v)
	}
	return nil
}

// checkBrightness refuses a lamp that gives the eye more light than the sun, or
// whose disc would be brighter than the sun's.
func (l *lamp) checkBrightness(lux, arcmin float64) error {
	if lux > sunLux {
		return fmt.Errorf("lamp %q: gives the eye %.3g lux, more than the sun (%.3g); hint: a dipped headlamp at 50 m gives about 0.1", l.Name, lux, sunLux)
	}
	if arcmin == 0 {
		return nil
	}
	if lum := lux / solidAngle(arcmin); lum > sunCdM2 {
		return fmt.Errorf("lamp %q: %.3g lux from a disc of %.3g minutes of arc are %.3g cd/m², brighter than the sun (%.3g); hint: make it larger, or weaker", l.Name, lux, arcmin, lum, sunCdM2)
	}
	return nil
}

// solidAngle returns the solid angle of a small disc in steradian, its diameter
// d in minutes of arc:
//
//	Omega = pi/4 (d pi / 10800)^2
func solidAngle(d float64) float64 {
	rad := d * math.Pi / 10800
	return math.Pi / 4 * rad * rad
}
