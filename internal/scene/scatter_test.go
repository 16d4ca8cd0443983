package scene

import (
	"math"
	"strings"
	"testing"

	"simview/internal/light"
)

// strewnParts is a complete scene with the part leaf, ready for shapes.
var strewnParts = strings.Replace(head, "shapes:\n", "parts:\n  leaf:\n    - rect: {at: [-0.05, 0], size: [0.1, 0.1], cdm2: 10}\nshapes:\n", 1)

func TestScatteredThingsStayInTheirAreaAndHaveTheirRanges(t *testing.T) {
	s := &scatterShape{At: xy{-3, -2}, Size: xy{4, 2}, Round: true, Count: 4000, Seed: 5, Scales: xy{0.5, 2}, Dims: xy{0.1, 10}}
	meanX, meanY, logScale, mirrored := 0.0, 0.0, 0.0, 0
	for _, k := range s.copies() {
		if r := math.Hypot((k.at[0]+1)/2, k.at[1]+1); r > 1 {
			t.Fatalf("a copy lies at %v, outside the ellipse", k.at)
		}
		if k.scale[1] < 0.5 || k.scale[1] > 2 || math.Abs(k.scale[0]) != k.scale[1] || k.dim < 0.1 || k.dim > 10 {
			t.Fatalf("a copy has scale %v and dim %g", k.scale, k.dim)
		}
		meanX, meanY, logScale = meanX+k.at[0]/4000, meanY+k.at[1]/4000, logScale+math.Log(k.scale[1])/4000
		if k.scale[0] < 0 {
			mirrored++
		}
	}
	// Means of 4000 draws: half axes 2 and 1 have rms 1 and 0.5, equal ratios have
	// mean log 0 and rms ln 4/sqrt(12) = 0.4; errors over sqrt(4000), times 4.
	if math.Abs(meanX+1) > 0.063 || math.Abs(meanY+1) > 0.032 || math.Abs(logScale) > 0.026 || math.Abs(float64(mirrored)-2000) > 127 {
		t.Errorf("means (%.3f, %.3f), log scale %.3f, %d mirrored", meanX, meanY, logScale, mirrored)
	}
}

func TestTheSameSeedScattersTheSame(t *testing.T) {
	draw := func(seed string) *light.Image {
		s, err := Parse("t.yaml", []byte(strewnParts+"  - scatter: {part: leaf, at: [-5, -4], size: [10, 8], count: 50, seed: "+seed+"}\n"))
		if err != nil {
			t.Fatal(err)
		}
		return s.Draw(s.Grid(0.05))
	}
	a, b, c := draw("1"), draw("1"), draw("2")
	differ := false
	for i, v := range a.R {
		if v != b.R[i] {
			t.Fatal("one seed gives two pictures")
		}
		differ = differ || v != c.R[i]
	}
	if !differ {
		t.Error("another seed gives the same picture")
	}
}

func TestBelowAHorizonNearThingsAreLargeAndLow(t *testing.T) {
	horizon := 1.0
	s := &scatterShape{At: xy{-5, -9}, Size: xy{10, 9.5}, Count: 3000, Seed: 6, Scales: xy{2, 2}, Horizon: &horizon}
	far, last := 0, math.Inf(1)
	for _, k := range s.copies() {
		if k.at[1] > last {
			t.Fatal("a copy that stands lower is drawn before a higher one")
		}
		last = k.at[1]
		// size goes with the depression below the horizon, 10 degrees at the bottom
		if want := 2 * (1 - k.at[1]) / 10; math.Abs(k.scale[1]-want) > 1e-9 {
			t.Fatalf("at %g degrees the scale is %g, want %g", k.at[1], k.scale[1], want)
		}
		if 1/(1-k.at[1]) > (1/0.5+1/10.0)/2 { // the farther half of the distances, h / depression
			far++
		}
	}
	if math.Abs(float64(far)-1500) > 4*math.Sqrt(750) { // binomial, four standard deviations
		t.Errorf("%d of 3000 lie in the farther half, want 1500", far)
	}
}

func TestALampAddsItsOwnLight(t *testing.T) {
	lamps := "lamps:\n  - {name: a, at: [1, 0.5], lux: 0.002, diameter_arcmin: 12}\n  - {name: b, at: [-2, 0], lux: 0.01, tint: \"#ff4000\"}\n"
	s, err := Parse("t.yaml", []byte(strings.Replace(head, "lamps: []\n", lamps, 1)+"  - rect: {at: [-20, -20], size: [40, 40], cdm2: 0}\n"))
	if err != nil {
		t.Fatal(err)
	}
	img := s.Draw(s.Grid(0.01))
	s.Light(img, math.Inf(1))
	// E = sum of L over the solid angle of a sample; a disc in chords lacks 1e-4.
	sample := math.Pow(0.01*math.Pi/180, 2)
	for _, c := range []struct{ x, want float64 }{{1, 0.002}, {-2, 0.01}} {
		part, err := img.Crop(light.Grid{W: 80, H: 400, StepDeg: 0.01, LeftDeg: c.x - 0.4, TopDeg: 2})
		if err != nil {
			t.Fatal(err)
		}
		got := 0.0
		for _, v := range part.Luminance(nil) {
			got += float64(v) * sample
		}
		if math.Abs(got/c.want-1) > 1e-3 {
			t.Errorf("the lamp at %g gives %g lux, want %g", c.x, got, c.want)
		}
	}
	low := s.Draw(s.Grid(0.01))
	s.Light(low, 30)
	if v := at(low, -2, 0); math.Abs(v-30) > 1e-4 {
		t.Errorf("a red lamp limited to 30 has R = %g", v)
	}
}

func TestTheRangeIsThatOfTheSurfacesInTheFrame(t *testing.T) {
	s := mustParse(t, "  - rect: {at: [-2, -2], size: [1, 1], cdm2: 3}\n  - rect: {at: [20, 0], size: [1, 1], cdm2: 9000}\n")
	if lo, hi := s.Range(); math.Abs(lo-3) > 1e-6 || math.Abs(hi-100) > 1e-6 {
		t.Errorf("range %g to %g cd/m², want 3 to 100: what lies beyond the frame does not count", lo, hi)
	}
}

// The sun's disc is 0.533 degrees wide (its mean over the year, from memory).
func TestTheLimitsAreThoseOfTheSun(t *testing.T) {
	ground := sunCdM2 * solidAngle(0.533*60)
	if math.Abs(ground-1.09e5) > 1e3 || sunLux < ground || sunLux > 1.25*ground {
		t.Errorf("a disc of %g cd/m² gives %.3g lux; the limit for a lamp is %g", sunCdM2, ground, sunLux)
	}
}
