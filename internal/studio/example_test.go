//go:build !race

package studio_test

import (
	"fmt"

	"simview/internal/light"
	"simview/internal/studio"
)

// A lamp of 100 cd hangs 2 m above a white floor.
func ExampleTake() {
	floor := &studio.Material{Surface: studio.Surface{Albedo: studio.Grey(0.8)}}
	ground := studio.Quad{At: studio.V3{X: -9, Z: -9}, U: studio.V3{X: 18}, V: studio.V3{Z: 18}}
	lamp := studio.Lamp{At: studio.V3{Y: 2}, Candela: func(studio.V3) studio.RGB { return studio.Grey(100) }}
	w := studio.NewWorld([]studio.Body{{Shape: ground, Material: floor}}, []studio.Lamp{lamp}, nil)

	eye := studio.Camera{Eye: studio.V3{Y: 1.5, Z: -1.5}, PitchDeg: -45}
	film := studio.Take(w, eye, light.GridAround(0, 0, 1, 1, 0.01), 2, 1)
	fmt.Printf("%.2f cd/m²\n", film.Picture().R[0])
	// Output: 6.37 cd/m²
}

func ExampleCamera_Place() {
	eye := studio.Camera{Eye: studio.V3{Y: 1.2}}
	x, y, d := eye.Place(studio.V3{X: -3.3, Y: 0.65, Z: 50}) // a headlamp 50 m ahead
	fmt.Printf("%.2f degrees across, %.2f up, %.1f m\n", x, y, d)
	// Output: -3.78 degrees across, -0.63 up, 50.1 m
}
