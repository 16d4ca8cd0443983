package raytrace_test

import (
	"fmt"

	"simview/internal/raytrace"
	"simview/internal/unit"
)

// What a lens that nulls the cornea's spherical aberration adds when it lies
// half a millimetre towards the temple of a right eye.
func ExampleImplantEye_Wavefront() {
	spec := raytrace.BenchSpec(raytrace.SphericalAberration{Kind: raytrace.SAWholeEye})
	eye, err := raytrace.NewImplantEye(spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	lens := raytrace.DisplacedLens{Decentration: unit.PupilPoint{X: unit.MM(.5 * unit.Right.TemporalX())}}
	displaced, _ := eye.Wavefront(lens, 5)
	centred, _ := eye.Wavefront(raytrace.DisplacedLens{}, 5)
	added, _ := displaced.Sub(centred)
	fmt.Printf("coma c(3,1) %.2f µm, astigmatism c(2,2) %.2f µm\n", added.At(3, 1), added.At(2, 2))
	// Output: coma c(3,1) -0.21 µm, astigmatism c(2,2) -0.11 µm
}

// A schematic eye, and its refraction 30 degrees off the axis.
func ExampleSystem_OffAxis() {
	eye := raytrace.EscuderoNavarro()
	p, _ := eye.Paraxial()
	o, _ := eye.OffAxis(30)
	fmt.Printf("%.2f D, focus at %.2f mm\n", p.PowerD, p.FocusZ)
	fmt.Printf("tangential %+.2f D, sagittal %+.2f D\n", o.TangentialD, o.SagittalD)
	// Output:
	// 60.72 D, focus at 23.92 mm
	// tangential -0.42 D, sagittal +1.59 D
}
