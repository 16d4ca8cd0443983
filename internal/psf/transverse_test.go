//go:build !race

package psf

import (
	"math"
	"testing"

	"simview/internal/unit"
)

// Rynders et al. 1995: offset x difference of refraction, 3.43775' for 1 mm and 1 D.
func TestThePupilsFringeIsOffsetTimesDifferenceOfRefraction(t *testing.T) {
	opt := Options{LCA: Thibos}
	c := unit.PupilPoint{X: 1, Y: .5}
	red, blue := PupilFringe(c, 605, opt), PupilFringe(c, 497, opt)
	want := (Thibos(605) - Thibos(497)) * 3.43775
	near(t, "along x, minutes", 60*float64(red.X-blue.X), want, 1e-4)
	near(t, "along y, minutes", 60*float64(red.Y-blue.Y), -want/2, 1e-4)
	if at := PupilFringe(c, 497, Options{}); at != (unit.SightPoint{}) {
		t.Errorf("an eye without colour error has a fringe: %v", at)
	}
}

func TestAPupilOffTowardsTheTempleShowsRedOnTheSideOfTheNoseInBothEyes(t *testing.T) {
	for _, c := range []struct {
		name              string
		temple, noseRight float64 // temple: x of the clinician; the nose's side as the patient sees
	}{{"right", -1, -1}, {"left", 1, 1}} {
		a := Aperture{DiameterMM: 3, CentreMM: unit.PupilPoint{X: unit.MM(.5 * c.temple)}}
		opt := Options{LCA: Thibos, N: 1024, StepDeg: arcmin / 8}
		x6, _, _, _, _ := moments(compute(t, a, Monochrome(620), opt), 20)
		x4, _, _, _, _ := moments(compute(t, a, Monochrome(470), opt), 20)
		if !((x6-x4)*c.noseRight > .5) { // by hand: 0.5 mm x 0.78 D = 1.3 minutes
			t.Errorf("%s eye: red is %.2f minutes to the right of blue", c.name, x6-x4)
		}
	}
}

// Three routes to one place: told as an angle, made by the pupil's offset, laid out.
func TestAPlaceBesideItsOwnIsTheSameHoweverItIsMade(t *testing.T) {
	const nm = 480
	base := Options{LCA: Thibos, N: 1024, StepDeg: arcmin / 8}
	c := unit.PupilPoint{X: .6, Y: -.4}
	offset := compute(t, Aperture{DiameterMM: 3, CentreMM: c}, Monochrome(nm), base)
	at := PupilFringe(c, nm, base)
	told := base
	told.Transverse = func(float64) unit.SightPoint { return at }
	same(t, compute(t, Aperture{DiameterMM: 3}, Monochrome(nm), told), offset, 1e-6) // float32
	laid := compute(t, Aperture{DiameterMM: 3}, Monochrome(nm), base).Laid([]Placed{{at, 2}})
	x0, y0, _, _, _ := moments(offset, 20)
	x1, y1, _, _, _ := moments(laid, 20)
	near(t, "x of what is laid out", x1, x0, .01)
	near(t, "y of what is laid out", y1, y0, .01)
	sum := 0.0
	for _, v := range laid.Pix {
		sum += float64(v)
	}
	near(t, "light", sum, 1, 1e-5)
}

func TestWhatIsLaidOutLeavesNothingBehind(t *testing.T) {
	p := &PSF{N: 16, StepDeg: 1, Pix: make([]float32, 256)}
	p.Pix[8*16+8] = 1
	got := p.Laid([]Placed{{unit.SightPoint{X: 3, Y: 2}, 1}, {unit.SightPoint{X: -1}, 3}})
	for k, want := range map[int]float64{6*16 + 11: .25, 8*16 + 7: .75, 8*16 + 8: 0} {
		near(t, "sample", float64(got.Pix[k]), want, 1e-7)
	}
}

// The cut-off of a pupil is D/λ, for each wavelength its own (Goodman, from memory).
func TestEachPrimaryEndsAtItsOwnCutOff(t *testing.T) {
	const pupil = 2.0
	for _, nm := range []float64{460, 540, 630} {
		end := pupil / (nm * 1e-6) * math.Pi / 180 // cycles per degree
		o := compute(t, Diffracted(pupil), Monochrome(nm), Options{}).OTF()
		if in := o.MTF(.97*end, 30); !(in > 1e-3) { // closed form 2/pi(acos s - s sqrt(1-s²)): 0.0062 less rounding
			t.Errorf("%g nm: %.5f is left at 0.97 of the cut-off", nm, in)
		}
		if out := o.MTF(1.03*end, 30); out > 1e-3 { // interpolation and the rim's cells
			t.Errorf("%g nm: %.5f is left beyond the cut-off of %.1f cycles per degree", nm, out, end)
		}
	}
}
