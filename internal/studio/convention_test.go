//go:build !race

package studio

import (
	"math"
	"testing"

	"simview/internal/light"
)

func TestAPostOnTheRightAndAboveLandsOnTheRightAndAbove(t *testing.T) {
	// A small bright ball 10 degrees to the right and one 5 degrees up.
	glow := &Material{Surface: Surface{Glow: Grey(100)}}
	ten, five := math.Tan(10*math.Pi/180), math.Tan(5*math.Pi/180)
	w := NewWorld([]Body{{Ball{V3{10 * ten, 0, 10}, 0.02}, glow}, {Ball{V3{0, 10 * five, 10}, 0.02}, glow}}, nil, nil)
	g := light.GridAround(0, 0, 240, 240, 0.1)
	m := Take(w, Camera{}, g, 4, 1).Picture()
	for _, want := range [][2]float64{{10, 0}, {0, 5}} {
		i, j := g.Pixel(want[0], want[1])
		if v := m.R[int(math.Round(j))*m.W+int(math.Round(i))]; v < 10 {
			t.Errorf("at %v degrees: %g cd/m2, want the bright post", want, v)
		}
	}
	i, j := g.Pixel(-10, 0)
	if v := m.R[int(math.Round(j))*m.W+int(math.Round(i))]; v != 0 {
		t.Errorf("on the left: %g cd/m2, want nothing", v)
	}
}

func TestLookingUpIsPositiveAndTurningRightIsPositive(t *testing.T) {
	if d := (Camera{PitchDeg: 10}).Ray(0, 0); d.Y <= 0 || d.X != 0 {
		t.Errorf("pitch 10 looks along %v, want up", d)
	}
	if d := (Camera{YawDeg: 10}).Ray(0, 0); d.X <= 0 || d.Y != 0 {
		t.Errorf("yaw 10 looks along %v, want to the right", d)
	}
}

func TestEqualStepsOfThePictureAreEqualAngles(t *testing.T) {
	c := Camera{Eye: V3{1, 2, 3}, PitchDeg: -12, YawDeg: 30}
	straight := c.Ray(0, 0)
	for _, r := range []float64{0.01, 5, 15, 40} {
		d := c.Ray(r*0.6, r*0.8)
		got := math.Atan2(d.Cross(straight).Len(), d.Dot(straight)) * 180 / math.Pi
		if math.Abs(got-r) > 1e-9 {
			t.Errorf("%g degrees from the centre: %g", r, got)
		}
		x, y, m := c.Place(c.Eye.Add(d.Mul(7)))
		if math.Hypot(x-r*0.6, y-r*0.8) > 1e-9 || math.Abs(m-7) > 1e-9 {
			t.Errorf("there and back: %g, %g at %g m", x, y, m)
		}
	}
}
