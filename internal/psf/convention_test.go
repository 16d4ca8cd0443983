//go:build !race

package psf

import (
	"math"
	"testing"

	"simview/internal/fft"
)

// A path of 1 µm/mm is 1 mrad: light is seen at (-dW/dx, +dW/dy).
func TestAPrismPathShiftsThePictureToMinusSlopeXAndPlusSlopeY(t *testing.T) {
	p := lamp(t, Aperture{DiameterMM: 4, PathUM: func(x, y float64) float64 { return 1*x + 2*y }})
	x, y, _, _, _ := moments(p, 20)
	near(t, "to the right, minutes", x, -3.437747, .05)
	near(t, "up, minutes", y, 2*3.437747, .05)
	top := 0
	for i, v := range p.Pix {
		if v > p.Pix[top] {
			top = i
		}
	}
	if top/p.N >= p.N/2 || top%p.N >= p.N/2 {
		t.Errorf("brightest sample in row %d, column %d: want it above and left of %d", top/p.N, top%p.N, p.N/2)
	}
	near(t, "share of the upper left quarter", p.Share(-1, 0, 0, 1), 1, .05)
}

// Scheiner's experiment (1619): what is covered on one side of the pupil goes
// missing on the same side of a short-sighted eye's blur, on the other of a
// long-sighted eye's.
func TestShortSightWithTheUpperPupilCoveredLosesTheUpperBlur(t *testing.T) {
	covered := func(x, y float64) float64 {
		if y > 0 {
			return 0
		}
		return 1
	}
	for power, wantUp := range map[float64]float64{-2: 0, 2: 1} {
		p := lamp(t, Aperture{DiameterMM: 4, PathUM: defocus(power), Amplitude: covered})
		near(t, "share above", p.Share(-1, 1, 0, 1), wantUp, .05)
		near(t, "share to the right", p.Share(0, 1, -1, 1), .5, .01)
	}
	right := func(x, y float64) float64 { return covered(y, x) } // the clinician's right
	p := lamp(t, Aperture{DiameterMM: 4, PathUM: defocus(-2), Amplitude: right})
	near(t, "share to the patient's left", p.Share(-1, 0, -1, 1), 0, .05)
}

// By hand: dW/dx = c sqrt8 (9 x² + 3 y² - 2) runs from -2 to +7 over the pupil,
// so the tail points along +dW/dx for the clinician, to the patient's left.
func TestPositiveComaThrowsItsTailToThePatientsLeft(t *testing.T) {
	for sign, left := range map[float64]bool{1: true, -1: false} {
		p := lamp(t, Aperture{DiameterMM: 5, PathUM: coma(sign*.5, 2.5)})
		mx, _, _, _, _ := moments(p, 20)
		if (mx < 0) != left {
			t.Errorf("c(3,1) = %g: centre of the light at x = %g'", sign*.5, mx)
		}
		far := -4.5 * sign * arcmin // the head, of slope 2, ends 3.9 minutes out
		tail := p.Share(min(far, far*100), max(far, far*100), -1, 1)
		head := p.Share(min(-far, -far*100), max(-far, -far*100), -1, 1)
		if tail < 3*head || tail < .05 {
			t.Errorf("c(3,1) = %g: %.3f of the light on the tail's side, %.3f on the other", sign*.5, tail, head)
		}
	}
}

func TestCylinderAtNinetyMakesALevelStreak(t *testing.T) {
	p := lamp(t, Aperture{DiameterMM: 5, PathUM: cylinder(0, -1, 90)})
	_, _, xx, xy, yy := moments(p, 20)
	if xx < 5*yy {
		t.Errorf("second moments: across %g, up %g", xx, yy)
	}
	near(t, "slant", xy/xx, 0, .01)
	if up, level := p.OTF().MTF(6, 0), p.OTF().MTF(6, 90); up > level/2 {
		t.Errorf("contrast of upright bars %g, of level bars %g: upright ones must blur", up, level)
	}
}

func TestCylinderAtFortyFiveStreaksAlongFortyFiveForThePatient(t *testing.T) {
	p := lamp(t, Aperture{DiameterMM: 5, PathUM: cylinder(0, -1, 45)})
	_, _, xx, xy, yy := moments(p, 20)
	near(t, "direction of the streak, degrees", math.Atan2(2*xy, xx-yy)/2/degree, 45, .5)
	along, across := p.OTF().MTF(6, 45), p.OTF().MTF(6, 135)
	if along > across/2 {
		t.Errorf("contrast along the streak %g, across it %g", along, across)
	}
}

// A shift to the left and up by (-a, +b) turns the transfer function by
// exp(-2 pi i (-a fx + b fy)).
func TestTheTransferFunctionKnowsLeftFromRightAndUpFromDown(t *testing.T) {
	p := lamp(t, Aperture{DiameterMM: 4, PathUM: func(x, y float64) float64 { return 1*x + 2*y }})
	const a, b = 3.437747 / 60, 2 * 3.437747 / 60
	for _, f := range [][2]float64{{2, 0}, {0, 1.5}, {3, -1}, {-2, 2}} {
		v := p.OTF().At(f[0], f[1])
		turn := -2 * math.Pi * (-a*f[0] + b*f[1])
		got := math.Atan2(imag(v), real(v))
		near(t, "phase", math.Remainder(got-turn, 2*math.Pi), 0, 1e-3)
	}
}

// A point in an image, multiplied by the spectrum OnGrid gives, moves where the
// patient sees it: here 1.5 mrad of slope down and to the right.
func TestAnImageIsSpreadToTheSideThePatientSees(t *testing.T) {
	const w, h, step = 90, 64, .5 / 60
	p := lamp(t, Aperture{DiameterMM: 4, PathUM: func(x, y float64) float64 { return -1.5*x - 1*y }})
	plan, err := fft.NewReal2D(w, h)
	if err != nil {
		t.Fatal(err)
	}
	img := make([]float32, w*h)
	img[30*w+40] = 1
	f := plan.Forward(nil, img)
	for i, v := range p.OTF().OnGrid(w, h, step) {
		f[i] *= v
	}
	img = plan.Inverse(img, f)
	sum, mx, my := 0.0, 0.0, 0.0
	for i, v := range img {
		sum, mx, my = sum+float64(v), mx+float64(v)*float64(i%w), my+float64(v)*float64(i/w)
	}
	near(t, "light kept", sum, 1, 1e-5)
	// A quarter of a sample: what spreads round the small image's borders.
	near(t, "column", mx/sum, 40+1.5*3.437747/.5, .25)
	near(t, "row", my/sum, 30+3.437747/.5, .25)
}

// Scheiner again: in a long-sighted eye light that enters low meets the retina
// low, which is seen high. A lens moved up and to the clinician's left leaves the
// pupil's lower right open; the patient sees that light up and, the clinician's
// right being his left, where a long-sighted eye's rays do not cross: to the right.
func TestLightBesideALensMovedUpIsSeenUpAndOnTheSideTheLensMovedTo(t *testing.T) {
	for side, lens := range map[string]float64{"right": -.75, "left": .75} {
		inside := func(x, y float64) float64 { return 2.4 - math.Hypot(x-lens, y-.75) }
		p := lamp(t, Aperture{DiameterMM: 4, InsideMM: inside, BesideUM: defocus(8)})
		s := p.Beside.On(arcmin)
		var x, y float64
		for k, v := range s.Pix {
			x, y = x+float64(v)*float64(s.Left+k%s.W), y+float64(v)*float64(s.Top-k/s.W)
		}
		// The middle of what a disc of radius R at a distance d leaves of one of
		// radius r lies at d S / A, S the part of the former beyond the chord and A
		// the area left: 1.061 x 2.888 / 2.203 = 1.391 mm, by hand. At 8 D that is
		// 38.25 minutes, 27.0 each way; the cells of the pupil are good to a few
		// thousandths.
		near(t, side+" eye: up, minutes", y, 27.0, .2)
		near(t, side+" eye: to the right, minutes", x, -math.Copysign(27.0, lens), .2)
	}
}
