package light

import "testing"

func TestRightIsPlusXAndUpIsPlusYAndRowsRunDown(t *testing.T) {
	g := GridAround(2, 5, 10, 6, 0.5)
	x0, y0 := g.Centre(0, 0)
	x1, y1 := g.Centre(9, 5)
	if !(x1 > x0 && y1 < y0) {
		t.Errorf("first pixel at (%v, %v), last at (%v, %v)", x0, y0, x1, y1)
	}
	near(t, "middle x", (x0+x1)/2, 2, 1e-12)
	near(t, "middle y", (y0+y1)/2, 5, 1e-12)
	i, j := g.Pixel(g.Centre(3, 4))
	near(t, "column", i, 3, 1e-12)
	near(t, "row", j, 4, 1e-12)
}

func TestVeilOfALampUpAndRightIsBrightestThere(t *testing.T) {
	g := GridAround(0, 0, 41, 31, 0.5)
	f, a := UnitVeils(g, nil, [3]float64{}, []Lamp{greyLamp(6, 4, 1)}, 0.5)
	for _, m := range []*Image{f, a} {
		best := 0
		for k, v := range m.G {
			if v > m.G[best] {
				best = k
			}
		}
		x, y := g.Centre(best%g.W, best/g.W)
		near(t, "x", x, 6, 0.5)
		near(t, "y", y, 4, 0.5)
	}
}

func TestVeilOfASurfaceUpAndRightIsBrightestThere(t *testing.T) {
	coarse := NewImage(GridAround(0, 0, 61, 41, 0.1))
	coarse.G[5*61+50] = 1 // column 50: x = +2.0; row 5: y = +1.5
	out := GridAround(0.5, 0.4, 60, 50, 0.1)
	_, a := UnitVeils(out, coarse, [3]float64{}, nil, 0)
	best := 0
	for k, v := range a.G {
		if v > a.G[best] {
			best = k
		}
	}
	x, y := out.Centre(best%out.W, best/out.W)
	near(t, "x", x, 2, 0.1)
	near(t, "y", y, 1.5, 0.1)
	if a.R[best] != 0 || a.B[best] != 0 {
		t.Error("green light in another plane")
	}
}

func TestGreyOfALuminanceHasEqualPlanes(t *testing.T) {
	m := uniform(GridAround(0, 0, 1, 1, 1), [3]float64{7, 7, 7})
	near(t, "luminance", float64(m.Luminance(nil)[0]), 7, 1e-5)
	near(t, "lamp", greyLamp(0, 0, 3).Illuminance(), 3, 1e-12)
}
