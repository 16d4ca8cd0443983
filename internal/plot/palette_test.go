package plot

import (
	"math"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

// Pairs 1, 7, 13, 19 and 25 of the test data of Sharma, Wu and Dalal 2005, Color
// Res Appl 30:21 (from memory): two colours in Lab and their CIEDE2000.
var published = []struct {
	a, b lab
	want float64
}{
	{lab{50, 2.6772, -79.7751}, lab{50, 0, -82.7485}, 2.0425},
	{lab{50, 0, 0}, lab{50, -1, 2}, 2.3669},
	{lab{50, -0.001, 2.49}, lab{50, 0.0009, -2.49}, 4.8045},
	{lab{50, 2.5, 0}, lab{58, 24, 15}, 19.4535},
	{lab{60.2574, -34.0099, 36.2677}, lab{60.4626, -34.1751, 39.4387}, 1.2644},
}

func TestTheColourDifferenceIsThePublishedOne(t *testing.T) {
	const printed = 2e-4 // half of the last printed digit, and as much for the way through linear light
	for _, p := range published {
		if got := 100 * p.a.colour().DistanceCIEDE2000(p.b.colour()); math.Abs(got-p.want) > printed {
			t.Errorf("CIEDE2000 of %v and %v = %.4f, want %.4f", p.a, p.b, got, p.want)
		}
	}
}

// evenness is how far a step may be from the mean step of its palette.
const evenness = 0.10

func TestEqualStepsLookEquallyLarge(t *testing.T) {
	for name, p := range map[string]*Palette{"diverging": Diverging(), "glow": Glow()} {
		for _, n := range []int{10, 24, 64} {
			var steps []float64
			sum := 0.0
			for i := range n {
				d := p.exact(float64(i) / float64(n)).DistanceCIEDE2000(p.exact(float64(i+1) / float64(n)))
				steps, sum = append(steps, d), sum+d
			}
			for i, d := range steps {
				if off := d/(sum/float64(n)) - 1; math.Abs(off) > evenness {
					t.Errorf("%s, %d steps: step %d is %+.0f %% off the mean", name, n, i, 100*off)
				}
			}
		}
	}
}

// A colour that a screen cannot show would be cut, and its step with it.
func TestEveryColourCanBeShown(t *testing.T) {
	for name, p := range map[string]*Palette{"diverging": Diverging(), "glow": Glow()} {
		for i := range 201 {
			if c := p.exact(float64(i) / 200); !c.IsValid() {
				t.Errorf("%s at %.3f: %v lies outside what a screen shows", name, float64(i)/200, c)
			}
		}
	}
}

func lightness(c colorful.Color) float64 { l, _, _ := c.Lab(); return 100 * l }

func TestLightnessTellsTheSize(t *testing.T) {
	glow, d := Glow(), Diverging()
	for i := range 100 {
		a, b := float64(i)/100, float64(i+1)/100
		if lightness(glow.exact(b)) <= lightness(glow.exact(a)) {
			t.Errorf("glow: not lighter at %.2f than at %.2f", b, a)
		}
		if lightness(d.exact(.5+b/2)) >= lightness(d.exact(.5+a/2)) || lightness(d.exact(.5-b/2)) >= lightness(d.exact(.5-a/2)) {
			t.Errorf("diverging: not darker at ±%.2f than at ±%.2f", b, a)
		}
	}
}

func TestTheDivergingPaletteIsEvenHanded(t *testing.T) {
	const likeness = 4 // lightness units: below what tells two patches apart at a glance (our choice)
	d := Diverging()
	for i := range 21 {
		a, b := lightness(d.exact(.5+float64(i)/40)), lightness(d.exact(.5-float64(i)/40))
		if math.Abs(a-b) > likeness {
			t.Errorf("at ±%.2f the lightness is %.1f and %.1f", float64(i)/20, a, b)
		}
	}
	_, a, b := d.exact(.5).Lab()
	if math.Hypot(a, b) > .03 {
		t.Errorf("the middle has colour: a %.3f, b %.3f", a, b)
	}
}
