//go:build !race

package cause_test

import (
	"math"
	"testing"

	"simview/internal/cause"
	"simview/internal/unit"
)

// What a view says of colours is the fringe of the lens as it lies in that view.
func TestAViewHasTheColoursOfItsLens(t *testing.T) {
	e := demo(t, unit.Right)
	v := cause.Viewing{DistanceM: 40, Night: true}
	for _, k := range []float64{0.5, 1} {
		s := state(t, e, cause.Only(cause.Lens, k), v, cause.Refracted)
		got, err := s.Colours.Lens(458)
		if want := fringe(t, e, k, 458); err != nil || got != want {
			t.Errorf("strength %g: %v, %v, want %v", k, got, err, want)
		}
	}
	if s := state(t, e, cause.Only(cause.Scatter, 1), v, cause.Refracted); s.Colours.Lens != nil || s.Colours.Natural {
		t.Error("an implant in its place parts colours, or is natural")
	}
	if s := state(t, demo(t, unit.Left), nil, v, cause.Refracted); !s.Colours.Natural {
		t.Error("the fellow eye has its natural lens")
	}
	if s := try(t, "lens-straight-refracted", e, v); s.Colours.Lens != nil {
		t.Error("a lens put exactly straight parts colours")
	}
}

func TestALensThatComesToLieOffItsPlaceAgainPartsColoursThere(t *testing.T) {
	s := try(t, "lens-straight-refracted:outcome=worse", demo(t, unit.Right), cause.Viewing{DistanceM: 40, PupilMM: 3})
	if s.Colours.Lens == nil {
		t.Fatal("parts none")
	}
	at, err := s.Colours.Lens(458)
	// by hand some 1.1 minutes a millimetre at 458 nm; lenses come to lie 0.28 mm off on average
	if r := 60 * math.Hypot(float64(at.X), float64(at.Y)); err != nil || r <= 0 || r > 1.5 {
		t.Errorf("%.2f minutes, %v", r, err)
	}
}
