package eye_test

import (
	"testing"

	"simview/internal/eye"
	"simview/internal/psf"
	"simview/internal/refraction"
	"simview/internal/unit"
)

func myopic(d unit.Dioptres) eye.State {
	e := refraction.Sphere(-d)
	return eye.State{PupilMM: 4, Light: 1}.With(eye.Part{By: "focus", PathUM: e.PathUM})
}

// TestAMyopicEyeHasAPathThatGrowsToTheEdge: W > 0 is advanced leaving the eye
// (ANSI Z80.28); 1 D of myopia is D r²/2 = 2 µm at the edge of a 4 mm pupil.
func TestAMyopicEyeHasAPathThatGrowsToTheEdge(t *testing.T) {
	s := myopic(1)
	if mid, edge := s.PathUM(0, 0), s.PathUM(2, 0); mid != 0 || edge != 2 {
		t.Errorf("path %v µm in the middle and %v at the edge, want 0 and 2", mid, edge)
	}
}

// TestScheiner: a short-sighted eye that looks at a far lamp with the upper half
// of its pupil covered loses the upper half of the blur, as the patient sees it
// (Scheiner 1619). A pinhole below the middle therefore moves the lamp down.
func TestScheiner(t *testing.T) {
	s := myopic(2)
	s.PupilMM, s.PupilAt = 1, unit.PupilPoint{Y: -1}
	p, err := psf.Compute(s.Aperture(), psf.Monochrome(555), psf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	// prismatic effect: 2 D x 1 mm = 2 mrad = 6.9 minutes of arc
	const half = 0.3 // degrees, all of the light
	below := p.Share(-half, half, -half, 0)
	if below < 0.9 {
		t.Errorf("%.2f of the light lies below straight ahead, want nearly all", below)
	}
}

// TestTheClinicianSeesThePupilFromTheFront: a pinhole at the clinician's right
// moves the lamp of a short-sighted eye to the patient's left.
func TestTheClinicianSeesThePupilFromTheFront(t *testing.T) {
	s := myopic(2)
	s.PupilMM, s.PupilAt = 1, unit.PupilPoint{X: 1}
	p, err := psf.Compute(s.Aperture(), psf.Monochrome(555), psf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	const half = 0.3
	if left := p.Share(-half, 0, -half, half); left < 0.9 {
		t.Errorf("%.2f of the light lies to the left, want nearly all", left)
	}
}
