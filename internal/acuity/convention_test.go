//go:build !race

package acuity_test

import (
	"math"
	"testing"

	"simview/internal/acuity"
)

// TestUprightStrokesSufferFromBlurAlongX: an eye that blurs only along x loses more
// than one that blurs along y, as the ten letters have more upright strokes than
// level ones; and both more than none.
func TestUprightStrokesSufferFromBlurAlongX(t *testing.T) {
	o, err := acuity.New(nil, 1000, nil)
	if err != nil {
		t.Fatal(err)
	}
	along := func(x, y float64) acuity.Transfer {
		return acuity.TransferFunc(func(fx, fy float64) complex128 {
			return acuity.MeanEye(4).At(fx, fy) * complex(math.Exp(-(x*fx*fx+y*fy*fy)/200), 0)
		})
	}
	none, across, down := reads(t, o, along(0, 0), acuity.Task{}), reads(t, o, along(1, 0), acuity.Task{}), reads(t, o, along(0, 1), acuity.Task{})
	t.Logf("no blur %.3f, blurred along x %.3f, along y %.3f", none, across, down)
	if !(across > down && down > none) {
		t.Errorf("no blur %.3f, blurred along x %.3f, along y %.3f", none, across, down)
	}
}

// TestAMovedPictureReadsWorseToEitherSide: a transfer exp(-2πi f d) moves the letter
// off the place where the observer looks for it; callers take prism out.
func TestAMovedPictureReadsWorseToEitherSide(t *testing.T) {
	o, err := acuity.New(nil, 1000, nil)
	if err != nil {
		t.Fatal(err)
	}
	moved := func(deg float64) acuity.Transfer {
		return acuity.TransferFunc(func(fx, fy float64) complex128 {
			s, c := math.Sincos(-2 * math.Pi * fx * deg)
			return acuity.MeanEye(4).At(fx, fy) * complex(c, s)
		})
	}
	const d = 2.0 / 60
	none := reads(t, o, moved(0), acuity.Task{})
	for _, deg := range []float64{d, -d} {
		if got := reads(t, o, moved(deg), acuity.Task{}); !(got > none+0.1) {
			t.Errorf("moved by %.3f degrees: %.3f, unmoved %.3f", deg, got, none)
		}
	}
}

// TestAHigherLogMARIsWorse: blur costs, so its difference is positive.
func TestAHigherLogMARIsWorse(t *testing.T) {
	o, err := acuity.New(nil, 1000, nil)
	if err != nil {
		t.Fatal(err)
	}
	if small, large := reads(t, o, acuity.MeanEye(2.5), acuity.Task{}), reads(t, o, acuity.MeanEye(6), acuity.Task{}); !(large > small) {
		t.Errorf("through 6 mm %.3f, through 2.5 mm %.3f", large, small)
	}
}
