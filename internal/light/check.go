package light

import (
	"fmt"
	"math"
)

// Check returns an error that names the first place where the picture holds a
// value that is not finite or is below zero, and nil for a sound picture.
func (m *Image) Check() error {
	for p, plane := range m.Planes() {
		for k, v := range plane {
			if !(v >= 0) || v > math.MaxFloat32 {
				x, y := m.Centre(k%m.W, k/m.W)
				return fmt.Errorf("picture: the %s value at (%.2f, %.2f) degrees is %v cd/m², expected a finite number from zero up",
					[...]string{"red", "green", "blue"}[p], x, y, v)
			}
		}
	}
	return nil
}
