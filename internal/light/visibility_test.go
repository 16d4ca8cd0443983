package light

import (
	"math"
	"testing"
)

// nightRoad is four decades of luminance with a lamp.
func nightRoad() *Image {
	m := NewImage(GridAround(0, 0, 240, 180, 1.0/30))
	for k := range m.R {
		v := float32(0.01 * math.Pow(10, 2*float64(k%m.W)/float64(m.W)+0.5*float64(k/m.W)/float64(m.H)))
		m.R[k], m.G[k], m.B[k] = v, v, v
	}
	for k := range 20 {
		at := 90*m.W + 100 + k
		m.R[at], m.G[at], m.B[at] = 1e4, 1e4, 1e4
	}
	return m
}

func visibility(t *testing.T, m *Image) Tone {
	t.Helper()
	tone, err := ToneFor(m, "visibility", 0.5)
	if err != nil {
		t.Fatal(err)
	}
	return tone
}

// Pieces of the threshold curve meet: the published constants have two to four
// digits, which leaves steps below 0.012 log units (at -0.0184).
func TestThresholdCurveHasNoSteps(t *testing.T) {
	for _, x := range []float64{-3.94, -1.44, -0.0184, 1.9} {
		near(t, "joint", logThreshold(x+1e-9), logThreshold(x-1e-9), 0.012)
	}
	// Weber's law by day: 10^-1.255 = 5.6 % at any luminance (Ward 1997, from memory).
	near(t, "by day", math.Pow(10, logThreshold(3)-3), 0.0556, 1e-4)
}

// The condition of the published method: what differs by n thresholds in the
// world differs by no more than n on the screen, its own reflection included.
// tolerance: a bin is finite, 7 decades / 200.
func TestVisibilityShowsNoContrastStrongerThanItWas(t *testing.T) {
	for _, m := range []*Image{nightRoad(), dayPage()} {
		tone := visibility(t, m)
		const tolerance = 1.05
		for x := tone.adjusted.low + 0.01; x < math.Log10(tone.WhiteCdM2)-0.02; x += 0.01 {
			l, h := math.Pow(10, x), math.Pow(10, x+0.01)
			sl, sh := onScreen(tone, l), onScreen(tone, h)
			world := (h - l) / math.Pow(10, logThreshold(x))
			screen := (sh - sl) / math.Pow(10, logThreshold(math.Log10(sl)))
			if screen > tolerance*world {
				t.Fatalf("at %.3g cd/m²: %.3g thresholds shown as %.3g", l, world, screen)
			}
			if sh <= sl {
				t.Fatalf("at %.3g cd/m²: the curve does not rise", l)
			}
		}
	}
}

func onScreen(tone Tone, l float64) float64 {
	return screenBlack + tone.Display(l)*(screenWhite-screenBlack)
}

func dayPage() *Image {
	m := uniform(GridAround(0, 0, 60, 60, 0.05), [3]float64{127, 127, 127})
	for i := range 600 {
		m.R[i], m.G[i], m.B[i] = 6, 6, 6
	}
	return m
}

// A page by day: contrast of paper and ink is less than the screen holds, so the
// curve may follow the limit all the way and must not lift the ink to grey.
func TestVisibilityOfADayPageKeepsPaperWhiteAndInkDark(t *testing.T) {
	tone := visibility(t, dayPage())
	near(t, "white", tone.WhiteCdM2, 127, 1e-3)
	near(t, "paper", tone.Display(127), 1, 1e-9)
	if ink := tone.Display(6); ink > 6.0/127 {
		t.Errorf("ink shown as %v of paper, was %v", ink, 6.0/127)
	}
}

// White is the brightest square degree: 20 samples of 1e4 in 900, the rest below
// 1 cd/m²; the lamp itself is above and counts as clipped.
func TestVisibilityTakesWhiteFromASquareDegree(t *testing.T) {
	m := nightRoad()
	tone := visibility(t, m)
	near(t, "white", tone.WhiteCdM2, 20*1e4/900, 2)
	near(t, "clipped", tone.ClippedShare(m), 20.0/float64(m.Len()), 1e-9)
	near(t, "name and white", tone.Display(tone.WhiteCdM2), 1, 1e-9)
}

// Point by point: the slope never passes the limit there, and a place between
// two points is shown between them.
func TestVisibilityFollowsItsRule(t *testing.T) {
	tone := visibility(t, nightRoad())
	a := tone.adjusted
	for i := 1; i < toneBins; i++ {
		x := a.low + float64(i)*a.step
		slope := (a.light[i+1] - a.light[i]) / a.step
		if limit := visibleSlope(x+a.step/2, a.light[i+1]); slope > limit*(1+1e-9) || slope <= 0 {
			t.Fatalf("slope %v at %v, limit %v", slope, x, limit)
		}
		// One point halfway lies between its neighbours.
		mid := a.display(math.Pow(10, x+a.step/2))
		if lo, hi := emitted(a.light[i]), emitted(a.light[i+1]); !(mid > lo && mid < hi) {
			t.Fatalf("display %v not between %v and %v", mid, lo, hi)
		}
	}
}

func TestVisibilityRefusesABlackView(t *testing.T) {
	if tone, err := ToneFor(NewImage(GridAround(0, 0, 4, 4, 1)), "visibility", 1); err == nil {
		t.Errorf("got %+v", tone)
	}
}

func TestBlackStaysBlackAndDarkGoesOnBelowTheLowestPoint(t *testing.T) {
	tone := visibility(t, nightRoad())
	near(t, "black", tone.Display(0), 0, 0)
	low := math.Pow(10, tone.adjusted.low)
	near(t, "half of the lowest", tone.Display(low/2), tone.Display(low)/2, 1e-12)
}
