package plot_test

import (
	"fmt"

	"simview/internal/plot"
	"simview/internal/raytrace"
	"simview/internal/unit"
)

// A lens half a millimetre up, cut upright: where it is drawn.
func ExampleNewSection() {
	eye, err := raytrace.NewImplantEye(raytrace.BenchSpec(raytrace.SphericalAberration{Kind: raytrace.SAWholeEye}))
	if err != nil {
		fmt.Println(err)
		return
	}
	moved, _ := eye.At(raytrace.DisplacedLens{Decentration: unit.PupilPoint{Y: .5}})
	s, err := plot.NewSection(plot.Subject{Eye: moved, Centred: eye.Centred, Meridian: 90, PupilMM: 4, OpticMM: 6, Rays: 7})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d rays; lens %.2f mm deep, %.2f mm up\n", len(s.Rays), s.Lens.Centre.Z, s.Lens.Centre.H)
	// Output: 7 rays; lens 5.07 mm deep, 0.50 mm up
}

// The path of one dioptre over a 4 mm pupil, its mean taken out.
func ExampleNewMap() {
	m, err := plot.NewMap(func(x, y float64) float64 { return (x*x + y*y) / 2 }, 4, nil, 400)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("RMS %.2f µm, at most %.1f µm\n", m.RMSUM, m.MaxUM)
	// Output: RMS 0.58 µm, at most 1.0 µm
}
