package eye_test

import (
	"fmt"

	"simview/internal/eye"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// Parts are summed where the pupil is sampled; taking one out gives a copy.
func ExampleState_With() {
	lens := eye.Part{By: "lens", Plane: eye.Lens, PathUM: refraction.Sphere(-0.5).PathUM}
	glasses := eye.Part{By: "focus", Plane: eye.Glasses, PathUM: refraction.Sphere(0.25).PathUM}
	s := eye.State{Side: unit.Right, PupilMM: 4, Light: 1}.With(lens).With(glasses)
	bare := s.Without(func(p eye.Part) bool { return p.Plane == eye.Glasses })
	fmt.Printf("%.2f µm at the edge with glasses, %.2f without\n", s.PathUM(2, 0), bare.PathUM(2, 0))
	// Output: 0.50 µm at the edge with glasses, 1.00 without
}

// A pinhole before the upper part of the pupil.
func ExampleState_Aperture() {
	s := eye.State{PupilMM: 1.2, PupilAt: unit.PupilPoint{Y: 1}}.
		With(eye.Part{PathUM: refraction.Sphere(-1).PathUM})
	a := s.Aperture()
	fmt.Printf("%.1f mm, %.2f µm in its middle\n", a.DiameterMM, a.PathUM(0, 0))
	// Output: 1.2 mm, 0.50 µm in its middle
}
