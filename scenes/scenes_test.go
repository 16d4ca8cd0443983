package scenes

import (
	"math"
	"strings"
	"testing"

	"simview/internal/light"
	"simview/internal/scene"
)

func get(t *testing.T, id string) *scene.Scene {
	t.Helper()
	s, err := Builtin(id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// near returns the luminance at a direction, averaged over a tenth of a minute
// of arc.
func near(s *scene.Scene, x, y float64) float64 {
	return float64(s.Draw(light.GridAround(x, y, 1, 1, 0.1/60)).Luminance(nil)[0])
}

func TestAllScenesAreThereAndHaveSenseOfSize(t *testing.T) {
	list, err := Builtins()
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != len(ids) {
		t.Fatalf("%d scenes, want %d", len(list), len(ids))
	}
	for _, s := range list {
		img := s.Draw(s.Grid(0.1))
		for i, v := range img.Luminance(nil) {
			if !(v > 0) || math.IsInf(float64(v), 0) {
				t.Fatalf("%s: luminance %g at sample %d", s.ID, v, i)
			}
		}
	}
}

func TestAnUnknownSceneNamesTheKnown(t *testing.T) {
	_, err := Builtin("beach")
	if err == nil || !strings.Contains(err.Error(), "letters, letters-faint, letters-fading") {
		t.Errorf("got %v", err)
	}
}

func TestTheChartIsLitAndItsLettersHaveContrast(t *testing.T) {
	s := get(t, "letters")
	paper, ink := near(s, 4, 0), near(s, 3.1, 3.15) // between rows; in the stem of a letter R
	if math.Abs(paper-160) > 0.01 {
		t.Errorf("chart %g cd/m², want 160", paper)
	}
	// Letter contrast at least 85 % (ANSI Z80.21, from memory).
	if c := (paper - ink) / paper; c < 0.85 {
		t.Errorf("letter contrast %.2f", c)
	}
	if s.DistanceM != 4 || s.Night {
		t.Error("the chart stands at 4 m in a bright room")
	}
}

func TestThePageIsPaperInAnOffice(t *testing.T) {
	s := get(t, "tide-table")
	// 500 lx on paper of reflectance 0.8 give E rho / pi = 127 cd/m²; ink of
	// reflectance 0.05 gives 8.
	paper := 0.0
	img := s.Draw(light.GridAround(11, 9.5, 60, 30, 1.0/60))
	for _, v := range img.Luminance(nil) {
		paper += float64(v) / float64(img.Len())
	}
	// The grain of the paper is 0.8 %; its mean over a degree is within 1 %.
	if want := 500 * 0.8 / math.Pi; math.Abs(paper/want-1) > 0.01 {
		t.Errorf("paper %g cd/m², want %g", paper, want)
	}
	if ink, want := near(s, 0, 7.755), 500*0.05/math.Pi; math.Abs(ink/want-1) > 0.01 {
		t.Errorf("ink %g cd/m², want %g", ink, want)
	}
}

func TestTheHarbourHasLampsOverFiveDecades(t *testing.T) {
	s := get(t, "harbour-night")
	lo, hi, inWindow := math.Inf(1), 0.0, []light.Lamp{}
	for _, l := range s.Lamps {
		e := l.Illuminance()
		lo, hi = min(lo, e), max(hi, e)
		w := s.Window
		if math.Abs(float64(l.At.X)-w.XDeg) < w.WidthDeg/2 && math.Abs(float64(l.At.Y)-w.YDeg) < w.HeightDeg/2 {
			inWindow = append(inWindow, l)
		}
	}
	if lo < 0.99e-5 || lo > 2e-5 || hi < 0.8e-1 || hi > 1.2e-1 {
		t.Errorf("lamps give %g to %g lux, want about 1e-5 to 1e-1", lo, hi)
	}
	main := 0
	for i, a := range inWindow {
		if e := a.Illuminance(); e > 0.7e-4 && e < 2e-4 {
			main++
		}
		for _, b := range inWindow[:i] {
			if d := math.Hypot(float64(a.At.X-b.At.X), float64(a.At.Y-b.At.Y)); d < 0.7 {
				t.Errorf("%s and %s are only %.2f degrees apart", a.Name, b.Name, d)
			}
		}
	}
	if main < 4 {
		t.Errorf("%d lamps of about 1e-4 lux in the window, want at least 4", main)
	}
}

func TestIntensityFallsWithTheSquareOfTheDistance(t *testing.T) {
	// 215 cd at 46 m (and 3.25 m to the side, 0.85 m below): E = I / d^2.
	s := get(t, "harbour-night")
	l := s.Lamps[0]
	want := 215 / (46*46 + 3.25*3.25 + 0.85*0.85)
	if math.Abs(l.Illuminance()/want-1) > 1e-5 {
		t.Errorf("%s gives %g lux, want %g", l.Name, l.Illuminance(), want)
	}
	if l.At.X >= 0 || l.At.Y >= 0 {
		t.Error("the oncoming car is not on the left, its lamps not below the eye")
	}
}

func TestTheNightIsAsDarkAsANightIs(t *testing.T) {
	s := get(t, "harbour-night")
	if !s.Night {
		t.Error("the harbour road needs the dim pupil")
	}
	if sky := over(s, 5, 9, 4, 2); sky < 0.005 || sky > 0.02 {
		t.Errorf("sky %g cd/m², want about 0.01", sky)
	}
	// Lit roads have 0.5 to 1 cd/m² on average (EN 13201-2 classes M3 to M5, from memory).
	if road := over(s, 0, -7, 8, 3); road < 0.4 || road > 1.2 {
		t.Errorf("road %g cd/m², want 0.5 to 1", road)
	}
}

func TestNoLampStandsInTheRaster(t *testing.T) {
	// A beam of 0.1 lx within its disc of 10 minutes of arc would be 1.5e4 cd/m².
	s := get(t, "harbour-night")
	for _, v := range s.Draw(s.Grid(0.05)).Luminance(nil) {
		if v > 10 {
			t.Fatalf("a surface of %g cd/m² in the night", v)
		}
	}
}
