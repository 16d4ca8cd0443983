package cause_test

import (
	"math"
	"testing"

	"simview/internal/cause"
	"simview/internal/unit"
)

// A lens of power P displaced by d acts as a prism, and colours part by
//
//	d ΔP,  ΔP = P (Δn_lens - Δn_medium)/(n_lens - n_medium)
//
// behind the cornea, and by 0.83 to 0.87 of that outside (path from lens to retina,
// reduced, over the focal length of the eye). Between the lines F and C with the
// assumed Abbe number of 47, n = 1.4577, and Δn = 0.00665 of the medium: by hand
// 1.52 to 1.60 minutes of arc for 21 D and 1 mm; the tilt of 7 degrees takes some.
const byHand, handTolerance = 1.55, 0.15

func TestADisplacedLensPartsColoursAsItsPrismDoes(t *testing.T) {
	e := demo(t, unit.Right)
	blue, red := fringe(t, e, 1, 486.1), fringe(t, e, 1, 656.3)
	apart := 60 * math.Hypot(float64(blue.X-red.X), float64(blue.Y-red.Y))
	if math.Abs(apart-byHand) > handTolerance {
		t.Errorf("F and C are %.2f minutes of arc apart, by hand %.2f", apart, byHand)
	}
	// The lens lies up and, in this right eye, towards the temple: the patient's
	// right. Blue is bent most, towards the thick middle of the lens, and what
	// falls higher on the retina is seen lower: blue stands down and left.
	if !(blue.X < 0 && blue.Y < 0 && red.X > 0 && red.Y > 0) {
		t.Errorf("blue at %v, red at %v", blue, red)
	}
}

func TestTheFringeGrowsWithTheDisplacementAndIsNoneWithoutOne(t *testing.T) {
	e := demo(t, unit.Right)
	half, whole := fringe(t, e, 0.5, 458), fringe(t, e, 1, 458)
	if r := float64(half.X / whole.X); math.Abs(r-0.5) > 0.02 { // a prism is linear; tilt and coma are not quite
		t.Errorf("half of the displacement gives %v of the fringe", r)
	}
	if got := fringe(t, e, 1, 555); got != (unit.SightPoint{}) {
		t.Errorf("home: %v", got)
	}
	if got := fringe(t, e, 0, 458); got != (unit.SightPoint{}) {
		t.Errorf("strength 0: %v", got)
	}
	if got := fringe(t, demo(t, unit.Left), 1, 458); got != (unit.SightPoint{}) {
		t.Errorf("an eye without a displaced lens: %v", got)
	}
	if _, err := e.Fringe(1, 200); err == nil {
		t.Error("200 nm was traced")
	}
}

func fringe(t *testing.T, e *cause.Eye, k float64, nm unit.NM) unit.SightPoint {
	t.Helper()
	at, err := e.Fringe(k, nm)
	if err != nil {
		t.Fatal(err)
	}
	return at
}
