package light

import "simview/internal/unit"

// Lamp is a light kept out of the raster because it is far smaller, or far
// brighter, than a pixel.
type Lamp struct {
	At             unit.SightPoint // direction as the patient sees it
	Lux            [3]float64      // illuminance at the eye, lx per linear sRGB primary
	DiameterArcmin float64         // apparent diameter, minutes of arc; 0 = a point
	Name           string          // for captions and messages
}

// Illuminance returns the luminance-weighted sum of the three channels, lx.
func (l Lamp) Illuminance() float64 {
	return WeightR*l.Lux[0] + WeightG*l.Lux[1] + WeightB*l.Lux[2]
}
