package scenes

import (
	"math"
	"testing"
)

func TestTheLadderHasOneLampInEachDecade(t *testing.T) {
	lamps := get(t, "lamp-ladder").Lamps
	if len(lamps) != 6 {
		t.Fatalf("%d lamps, want one from 0.1 down to 0.000001 lux", len(lamps))
	}
	for i, l := range lamps {
		if want := math.Pow(10, -1-float64(i)); math.Abs(l.Illuminance()/want-1) > 1e-6 {
			t.Errorf("lamp %d gives %g lux, want %g", i, l.Illuminance(), want)
		}
	}
}

// What is written below the rungs: E = I / d^2, and for a star of magnitude m
// E = 2.54e-6 x 10^(-0.4 m) lux (astronomical tables, from memory).
func TestWhatTheLadderComparesGivesAsMuch(t *testing.T) {
	lamps := get(t, "lamp-ladder").Lamps
	for i, e := range []float64{250.0 / 50 / 50, 225.0 / 150 / 150, 5.0 / 70 / 70, 25.0 / 500 / 500, 10.0 / 1000 / 1000, 2.54e-6 * math.Pow(10, -0.4)} {
		if got := lamps[i].Illuminance(); math.Abs(got/e-1) > 0.05 { // rounded for reading
			t.Errorf("rung %d: %g lux, compared with %g", i, got, e)
		}
	}
}

func TestPointsHaveTheirLightAndPairsComeCloserByHalf(t *testing.T) {
	lamps := get(t, "points").Lamps
	if len(lamps) != 5+10+9+1 {
		t.Fatalf("%d lamps, want 5 alone, 10 in pairs, 9 in a row and a bright one", len(lamps))
	}
	for i, l := range lamps {
		want := 1e-4
		if i >= 15 {
			want = 3e-5
		}
		if i == 24 {
			want = 1e-3
		}
		if e := l.Illuminance(); math.Abs(e/want-1) > 1e-6 {
			t.Errorf("%s gives %g lux, want %g", l.Name, e, want)
		}
	}
	for i, want := range []float64{40, 20, 10, 5, 2.5} {
		a, b := lamps[5+2*i], lamps[6+2*i]
		if got := float64(b.At.X-a.At.X) * 60; math.Abs(got-want) > 1e-3 || a.At.Y != b.At.Y { // six decimals of a degree
			t.Errorf("pair %d is %.4f minutes of arc apart, want %g", i, got, want)
		}
	}
}
