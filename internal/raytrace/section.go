package raytrace

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// Section returns points (mm) of surface i along a meridian of its own (degrees
// counter-clockwise from its x axis), from one edge to the other, for drawings.
// halfMM is half the width drawn; it is cut to the surface's edge. What the curve does
// not reach is left out.
func (s *System) Section(i int, meridian unit.Degrees, halfMM float64, points int) ([]Vec, error) {
	if i < 0 || i >= len(s.Surfaces) || points < 2 || !(halfMM > 0) {
		return nil, fmt.Errorf("%s: a section needs one of %d surfaces, 2 points or more and a half width above 0 mm (got surface %d, %d points, %g mm)",
			s.Name, len(s.Surfaces), i, points, halfMM)
	}
	f := &s.Surfaces[i]
	if edge := f.SemiDiameterMM; edge > 0 {
		halfMM = math.Min(halfMM, edge)
	}
	sin, cos := math.Sincos(meridian.Radians())
	var out []Vec
	for k := range points {
		h := halfMM * (2*float64(k)/float64(points-1) - 1)
		if z, _, _, ok := f.sag(h*cos, h*sin); ok {
			out = append(out, f.At.out(Vec{h * cos, h * sin, z}))
		}
	}
	return out, nil
}
