package light

import (
	"math"
	"sync"
	"testing"

	"simview/internal/unit"
)

// The ring's integral over solid angle is 1 (Spencer et al. 1995: their weights
// add to 1); the published constants give 1.0005, small angles another 0.05 %.
func TestLensRingHoldsAllItsLight(t *testing.T) {
	for _, nm := range []float64{450, 568, 650} {
		near(t, "integral", hemisphere(func(deg float64) float64 { return LensRing(deg, nm) }), 1, 0.003)
	}
}

func TestLensRingStandsAtThreeDegreesRedOutside(t *testing.T) {
	peak := func(nm float64) (at float64) {
		for deg := 0.0; deg < 6; deg += 0.001 {
			if LensRing(deg, nm) > LensRing(at, nm) {
				at = deg
			}
		}
		return at
	}
	near(t, "568 nm", peak(568), 3, 0.001)
	if !(peak(650) > peak(530) && peak(530) > peak(450)) {
		t.Error("the ring is not red outside")
	}
	// A grating whose order at 568 nm stands at 3 degrees puts 450 nm at
	// asin(450/568 sin 3°) = 2.376 degrees.
	near(t, "450 nm", peak(450), 2.376, 0.002)
}

// Weights of Spencer et al. 1995: 0 at 1.9 mm, 0.033 at 4.9 mm; 0.016 between.
func TestLensRingNeedsAWidePupil(t *testing.T) {
	for _, c := range [][2]float64{{1, 0}, {1.9, 0}, {3.4, 0.016}, {4.9, 0.033}, {7, 0.033}} {
		near(t, "share", LensRingShare(c[0]), c[1], 0.0006)
	}
}

// The ring of a lamp in a picture holds the share of the lamp's light that was
// asked for, per primary; 1 % for samples of 0.05 degrees.
func TestRingOfALampHoldsItsShare(t *testing.T) {
	out := GridAround(0, 0, 280, 280, 0.05)
	lamp := Lamp{At: unit.SightPoint{X: 0.3, Y: -0.4}, Lux: [3]float64{2, 1, 0.5}}
	AddLensRing(out0(out), nil, 1, 0.03)
	m := out0(out)
	AddLensRing(m, []Lamp{lamp}, 0.8, 0.03)
	sr := math.Pow(out.StepDeg*math.Pi/180, 2)
	for p, plane := range m.Planes() {
		var sum float64
		for k, v := range plane {
			x, y := m.Centre(k%m.W, k/m.W)
			sum += float64(v) * sr * sinc(math.Hypot(x, y)*math.Pi/180)
		}
		nearShare(t, "light", sum, 0.8*0.03*lamp.Lux[p], 0.01)
	}
}

func out0(g Grid) *Image { return NewImage(g) }

// Needles move light and add none: over the table the mean factor is 1, to the
// 1/sqrt(number of speckles) that a random pattern allows (about 170 across).
func TestNeedlesAddNoLight(t *testing.T) {
	c := needles5(t)
	near(t, "reach", c.ReachDeg(), 512*555e-6/5/3*180/math.Pi, 1e-9)
	for p, f := range c.factor {
		var sum, low float64
		for _, v := range f {
			sum += float64(v)
			low = min(low, float64(v))
		}
		near(t, []string{"red", "green", "blue"}[p], sum/float64(len(f)), 1, 0.02)
		if low < 0 {
			t.Errorf("factor %v below zero", low)
		}
	}
	for _, f := range c.At(30, 0) {
		near(t, "far away", f, 1, 0)
	}
	near(t, "reach in half the pupil", c.InPupil(2.5).ReachDeg(), 512*555e-6/2.5/3*180/math.Pi, 1e-9)
}

// A needle is long and thin: at a degree from the lamp the pattern changes along
// a circle within some λ/D (0.38 minutes at 5 mm) and along a radius only within
// the spread of a primary's wavelengths, here several times slower.
func TestNeedlesPointAwayFromTheLamp(t *testing.T) {
	c := needles5(t)
	const shift, r = 0.4 / 60, 0.8
	var along, across float64
	for k := range 2000 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 2000)
		a := c.At(r*cos, r*sin)[1]
		along += math.Abs(c.At((r+shift)*cos, (r+shift)*sin)[1] - a)
		across += math.Abs(c.At(r*cos-shift*sin, r*sin+shift*cos)[1] - a)
	}
	if across < 2*along {
		t.Errorf("changes across %v, along %v", across, along)
	}
}

// Each wave draws the same pattern at an angle that grows with it: the red
// pattern read at 632/539 of a place is most like the green one there.
func TestNeedlesAreRedOutside(t *testing.T) {
	c := needles5(t)
	like := func(s float64) (sum float64) {
		for k := range 4000 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 4000)
			for r := 0.3; r < 0.8; r += 0.1 {
				sum += (c.At(r*cos, r*sin)[1] - 1) * (c.At(s*r*cos, s*r*sin)[0] - 1)
			}
		}
		return sum
	}
	if out, in := like(1.12), like(1/1.12); out < 3*math.Abs(in) {
		t.Errorf("likeness outward %v, inward %v", out, in)
	}
}

// Drawn into a picture, light round the lamp stays: 1 % in all, and never below 0.
func TestNeedlesInAPictureKeepItsLight(t *testing.T) {
	out := GridAround(0, 0, 220, 220, 1.0/60)
	lamps := []Lamp{greyLamp(0, 0, 0.1)}
	g := GlareForAge(60, 0.5)
	f, a := UnitVeils(out, nil, [3]float64{}, lamps, 0.5)
	m := Retina(NewImage(out), f, a, g)
	var before, after float64
	for _, v := range m.G {
		before += float64(v)
	}
	needles5(t).Add(m, lamps, g)
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	for _, v := range m.G {
		after += float64(v)
	}
	nearShare(t, "light", after, before, 0.01)
}

var madeNeedles = sync.OnceValue(func() *Needles { return NewNeedles(5, 1) })

// needles5 are those of a 5 mm pupil, made once.
func needles5(t *testing.T) *Needles {
	t.Helper()
	if testing.Short() {
		t.Skip("three primaries in 64 wavelengths")
	}
	return madeNeedles()
}
