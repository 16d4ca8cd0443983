package light

import (
	"math"
	"testing"
)

// wave is a picture whose value at (x, y) degrees is known.
func wave(g Grid) *Image {
	m := NewImage(g)
	for k := range m.R {
		x, y := g.Centre(k%g.W, k/g.W)
		m.R[k], m.G[k], m.B[k] = float32(waveAt(x, y)), float32(x), float32(y)
	}
	return m
}

func waveAt(x, y float64) float64 { return 2 + math.Sin(2*math.Pi*x/3)*math.Cos(2*math.Pi*y/4) }

// Catmull-Rom at 30 samples per period: error about (2π/30)³/16 of the amplitude.
func TestResamplingKeepsPlacesAndValues(t *testing.T) {
	m := wave(GridAround(1, -2, 80, 60, 0.1))
	out := m.Resample(GridAround(1.03, -1.98, 130, 90, 0.037))
	for k := range out.R {
		x, y := out.Centre(k%out.W, k/out.W)
		near(t, "value", float64(out.R[k]), waveAt(x, y), 1e-3)
		near(t, "x", float64(out.G[k]), x, 1e-5)
		near(t, "y", float64(out.B[k]), y, 1e-5)
	}
}

func TestResamplingToTheSameGridChangesNothing(t *testing.T) {
	m := wave(GridAround(0, 0, 20, 10, 0.1))
	out := m.Resample(m.Grid)
	for k := range m.R {
		near(t, "value", float64(out.R[k]), float64(m.R[k]), 1e-6)
	}
}

func TestAveragingKeepsLightAndPlace(t *testing.T) {
	m := wave(GridAround(0.7, 0.3, 40, 24, 0.05))
	out, err := m.Average(4)
	if err != nil {
		t.Fatal(err)
	}
	for k := range out.R {
		x, y := out.Centre(k%out.W, k/out.W)
		near(t, "x", float64(out.G[k]), x, 1e-6)
		near(t, "y", float64(out.B[k]), y, 1e-6)
	}
	for _, k := range []int{0, -1, 7} {
		if _, err := m.Average(k); err == nil {
			t.Errorf("averaged by %d", k)
		}
	}
}

func TestCropTakesTheSamePlaceOrRefuses(t *testing.T) {
	m := wave(GridAround(0, 0, 40, 30, 0.1))
	g := Grid{10, 5, 0.1, m.LeftDeg + 0.7, m.TopDeg - 1.3}
	out, err := m.Crop(g)
	if err != nil {
		t.Fatal(err)
	}
	for k := range out.R {
		x, y := g.Centre(k%g.W, k/g.W)
		near(t, "x", float64(out.G[k]), x, 1e-6)
		near(t, "y", float64(out.B[k]), y, 1e-6)
	}
	for _, bad := range []Grid{
		{10, 5, 0.1, m.LeftDeg + 0.75, m.TopDeg - 1.3}, // half a pixel off
		{10, 5, 0.05, m.LeftDeg + 0.7, m.TopDeg - 1.3}, // another step
		{41, 5, 0.1, m.LeftDeg, m.TopDeg},              // too wide
		{10, 5, 0.1, m.LeftDeg - 0.1, m.TopDeg},        // left of it
		{10, 5, 0.1, math.NaN(), m.TopDeg},
	} {
		if _, err := m.Crop(bad); err == nil {
			t.Errorf("cropped to %+v", bad)
		}
	}
}
