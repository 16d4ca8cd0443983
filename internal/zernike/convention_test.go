package zernike_test

import (
	"testing"

	"simview/internal/zernike"
)

func TestPositiveVerticalComaIsAheadAtTheTopAndPositiveHorizontalComaAtTheRight(t *testing.T) {
	up := zernike.Terms{RadiusMM: 3}.With(3, -1, 1)
	right := zernike.Terms{RadiusMM: 3}.With(3, 1, 1)
	if !(up.PathUM(0, 3) > 0 && up.PathUM(0, -3) < 0 && up.PathUM(3, 0) == 0) {
		t.Error("c(3,-1) > 0 must be ahead at +y only")
	}
	if !(right.PathUM(3, 0) > 0 && right.PathUM(-3, 0) < 0 && right.PathUM(0, 3) == 0) {
		t.Error("c(3,1) > 0 must be ahead at +x only")
	}
}

func TestPositiveDefocusIsAheadAtTheEdge(t *testing.T) {
	w := zernike.Terms{RadiusMM: 3}.With(2, 0, 1)
	if !(w.PathUM(3, 0) > 0 && w.PathUM(0, 0) < 0) {
		t.Error("c(2,0) > 0, myopia, must lead at the edge")
	}
}

func TestAnglesRunCounterClockwiseForTheClinician(t *testing.T) {
	oblique := zernike.Terms{RadiusMM: 3}.With(2, -2, 1)
	if !(oblique.PathUM(1, 1) > 0 && oblique.PathUM(1, -1) < 0) {
		t.Error("c(2,-2) > 0 must lead along 45 degrees")
	}
	if got := oblique.Rotate(45); !(got.At(2, 2) > 0.999) {
		t.Errorf("in axes turned counter-clockwise by 45 degrees c(2,2) = %g, want 1", got.At(2, 2))
	}
}

func TestAPupilMovedRightOverSphericalAberrationFindsComaAheadAtTheRight(t *testing.T) {
	moved, err := zernike.Terms{RadiusMM: 3}.With(4, 0, 0.4).Translate(0.25, 0, 2.5)
	if err != nil {
		t.Fatal(err)
	}
	if moved.At(3, 1) <= 0 || moved.At(3, -1) > 1e-12 {
		t.Errorf("c(3,1) = %g, c(3,-1) = %g: want above 0 and 0", moved.At(3, 1), moved.At(3, -1))
	}
}

// The published list of terms that change sign between the eyes (n <= 6).
func TestTheMirrorFlipsExactlyTheListedTerms(t *testing.T) {
	flips := map[int]bool{}
	for _, j := range []int{2, 8, 9, 18, 19, 20, 3, 10, 11, 21, 22, 23} {
		flips[j] = true
	}
	c := make([]float64, zernike.Count(6))
	for j := range c {
		c[j] = 1
	}
	for j, v := range (zernike.Terms{C: c, RadiusMM: 3}).Mirror().C {
		if (v < 0) != flips[j] {
			t.Errorf("j=%d became %g", j, v)
		}
	}
}
