package light

import (
	"math"
	"strings"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"pgregory.net/rapid"
)

var allCurves = []Tone{
	{Name: "linear", WhiteCdM2: 100},
	{Name: "photographic", WhiteCdM2: 100, MidCdM2: 5, Curve: Photographic},
	func() Tone {
		t, _ := visibilityFor(uniform(GridAround(0, 0, 4, 4, 1), [3]float64{100, 100, 100}))
		return t
	}(),
}

func TestToneShowsBlackAsBlackAndWhiteAsWhite(t *testing.T) {
	for _, tone := range allCurves {
		near(t, "black", tone.Display(0), 0, 0)
		near(t, "white", tone.Display(100), 1, 1e-12)
		last := -1.0
		for l := 0.0; l < 1000; l += 0.5 {
			if d := tone.Display(l); d <= last {
				t.Fatalf("%v: not rising at %v", tone.Curve, l)
			} else {
				last = d
			}
		}
	}
	// Reinhard 2002 by hand: x = 1, w = 20: 1 (1 + 1/400)/2 = 0.50125.
	near(t, "photographic", allCurves[1].Display(5), 0.50125, 1e-12)
}

func TestTheWhiteOfABrightSceneIsWrittenOut(t *testing.T) {
	view := uniform(GridAround(0, 0, 4, 4, 1), [3]float64{2612, 2612, 2612})
	for _, curve := range []string{"linear", "visibility"} {
		tone, err := ToneFor(view, curve, 1000)
		if want := curve + ", white 2610 cd/m²"; err != nil || tone.Name != want {
			t.Errorf("%q, %v; want %q", tone.Name, err, want)
		}
	}
}

// Hue: after the tone the colour lies on the straight line between its own
// colour and grey, and its luminance is the curve's, whatever the gamut does.
func TestToneKeepsHueAndLuminance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tone := rapid.SampledFrom(allCurves).Draw(t, "tone")
		v := rapid.SliceOfN(rapid.Float32Range(0, 120), 3, 3).Draw(t, "rgb")
		l := WeightR*v[0] + WeightG*v[1] + WeightB*v[2]
		d := tone.Display(float64(l))
		if d >= 1 || l < 1e-3 {
			t.Skip()
		}
		r, g, b := tone.RGB(v[0], v[1], v[2])
		if low, top := min(r, g, b), max(r, g, b); low < -1e-6 || top > 1+1e-6 {
			t.Fatalf("outside the display: %v %v %v", r, g, b)
		}
		if got := float64(WeightR*r + WeightG*g + WeightB*b); math.Abs(got-d) > 1e-5 {
			t.Fatalf("luminance %v, curve %v", got, d)
		}
		// (r-d) : (g-d) : (b-d) as before the tone: cross products vanish.
		e, o := [3]float64{float64(v[0] - l), float64(v[1] - l), float64(v[2] - l)}, [3]float64{float64(r) - d, float64(g) - d, float64(b) - d}
		for i := range 3 {
			j := (i + 1) % 3
			if cross := e[i]*o[j] - e[j]*o[i]; math.Abs(cross) > 1e-4*(1+math.Abs(e[i])+math.Abs(e[j])) {
				t.Fatalf("hue turned: %v to %v", e, o)
			}
		}
	})
}

// A saturated lamp well below white keeps its hue angle in CIE L*u*v*, where
// additive mixing with white is a straight line; limiting each channel by
// itself would turn it by tens of degrees. go-colorful does the conversion.
func TestBrightColouredLampKeepsItsHueAngle(t *testing.T) {
	tone := Tone{Name: "linear", WhiteCdM2: 100}
	before := colorful.LinearRgb(0.9, 0.3, 0.025)
	r, g, b := tone.RGB(180, 60, 5)
	after := colorful.LinearRgb(float64(r), float64(g), float64(b))
	hue := func(c colorful.Color) float64 {
		_, u, v := c.Luv()
		return math.Atan2(v, u) * 180 / math.Pi
	}
	near(t, "hue angle", hue(after), hue(before), 0.5)
	clipped := colorful.LinearRgb(1, 0.6, 0.05)
	if math.Abs(hue(clipped)-hue(before)) < 10 {
		t.Error("this colour cannot tell limiting by channel from keeping hue")
	}
}

func TestToneIsChosenFromTheReferenceView(t *testing.T) {
	page := uniform(GridAround(0, 0, 100, 100, 0.01), [3]float64{127, 127, 127})
	for i := range 3000 {
		page.R[i], page.G[i], page.B[i] = 6, 6, 6
	}
	tone, err := ToneFor(page, "photographic", 100)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "white is the paper", tone.WhiteCdM2, 127, 1e-3)
	near(t, "nothing clipped", tone.ClippedShare(page), 0, 0)
	for i := range 20 { // lamps: 0.2 % of the view
		page.R[i], page.G[i], page.B[i] = 1e6, 1e6, 1e6
	}
	if tone, err = ToneFor(page, "linear", 100); err != nil {
		t.Fatal(err)
	}
	near(t, "lamps do not darken the page", tone.WhiteCdM2, 127, 1e-3)
	near(t, "the lamps are clipped", tone.ClippedShare(page), 0.002, 1e-9)
	if tone, err = ToneFor(page, "photographic", 0.5); err != nil {
		t.Fatal(err)
	}
	near(t, "night white is ten times the adaptation", tone.WhiteCdM2, 5, 1e-12)
}

func TestToneRefusesWhatItCannotExpose(t *testing.T) {
	grey := uniform(GridAround(0, 0, 4, 4, 1), [3]float64{1, 1, 1})
	black := NewImage(grey.Grid)
	bad := uniform(grey.Grid, [3]float64{math.NaN(), 1, 1})
	for _, c := range []struct {
		m     *Image
		kind  string
		adapt float64
	}{{grey, "film", 1}, {grey, "linear", 0}, {grey, "linear", math.NaN()}, {grey, "linear", math.Inf(1)}, {black, "linear", 10}, {bad, "linear", 1}, {NewImage(Grid{}), "linear", 10}} {
		if tone, err := ToneFor(c.m, c.kind, c.adapt); err == nil {
			t.Errorf("%v, %v: got %+v", c.kind, c.adapt, tone)
		}
	}
}

func TestASickPictureIsNamedByPlaceAndChannel(t *testing.T) {
	m := NewImage(GridAround(0, 0, 4, 2, 1))
	if err := m.Check(); err != nil {
		t.Error(err)
	}
	for _, v := range []float32{float32(math.NaN()), float32(math.Inf(1)), -1} {
		m.G[7] = v // column 3, row 1: x = 1.5, y = -0.5
		if err := m.Check(); err == nil || !strings.Contains(err.Error(), "green value at (1.50, -0.50)") {
			t.Errorf("%v: %v", v, err)
		}
	}
}
