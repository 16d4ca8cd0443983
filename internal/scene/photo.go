package scene

import (
	"io"

	"simview/internal/light"
)

// FromPhoto reads a photograph.
func FromPhoto(r io.Reader, name string, widthDeg, whiteCdM2, distanceM float64) (*Scene, error) {
	return nil, nil
}
func (s *Scene) photoRows(img *light.Image, j0, j1 int) {}
