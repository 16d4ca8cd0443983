package psf_test

import (
	"math"
	"slices"
	"testing"

	"simview/internal/psf"
)

// TestTheSpreadIsTheSameWithoutTheLightOutside: leaving one number out changes no other.
func TestTheSpreadIsTheSameWithoutTheLightOutside(t *testing.T) {
	a := psf.Aperture{DiameterMM: 3, PathUM: func(x, y float64) float64 { return 0.2 * (x*x + y*y) }}
	lines := []psf.Line{{NM: 555, Weight: 1}}
	with, err := psf.Compute(a, lines, psf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	without, err := psf.Compute(a, lines, psf.Options{NoOutside: true})
	if err != nil {
		t.Fatal(err)
	}
	if math.IsNaN(with.Outside) || !math.IsNaN(without.Outside) || !slices.Equal(with.Pix, without.Pix) {
		t.Errorf("outside %v and %v", with.Outside, without.Outside)
	}
}
