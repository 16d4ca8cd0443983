//go:build !race

package quality

import (
	"math"
	"testing"

	"simview/internal/psf"
	"simview/internal/refraction"
)

// partly is a pupil of 5 mm of which the lens leaves a crescent open below.
func partly(t *testing.T, path func(x, y float64) float64) float64 {
	t.Helper()
	p, err := NewAperture(psf.Aperture{
		DiameterMM: 5, PathUM: path, BesideUM: path,
		InsideMM: func(x, y float64) float64 { return 2.6 - math.Hypot(x, y-1.5) },
	})
	if err != nil {
		t.Fatal(err)
	}
	return p.VisualStrehl(refraction.PowerVector{})
}

// TestAPistonOrAPrismIsNoBlurBesideALens: neither changes the intensity of a
// spread but for its place, whatever the shape of the opening.
func TestAPistonOrAPrismIsNoBlurBesideALens(t *testing.T) {
	const sameSums = 1e-9 // of ratios near 0.5: rounding of paths of 40 µm
	blur := func(x, y float64) float64 { return 0.05*(x*x+y*y) + 0.01*x*x*y }
	want := partly(t, blur)
	for name, more := range map[string]func(x, y float64) float64{
		"a piston of 7 µm":       func(_, _ float64) float64 { return 7 },
		"a prism of 9 µm per mm": func(x, y float64) float64 { return 9*y - 4*x },
		"both":                   func(x, y float64) float64 { return 9*y - 4*x - 5 },
	} {
		got := partly(t, func(x, y float64) float64 { return blur(x, y) + more(x, y) })
		if math.Abs(got-want) > sameSums {
			t.Errorf("%s: %.9f, without %.9f", name, got, want)
		}
	}
}
