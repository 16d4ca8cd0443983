package light

import (
	"math"
	"testing"
)

// Widths of a card on usual screens and the distances for 60 pixels a degree,
// computed outside this project from ISO/IEC 7810's 85.60 mm; whole pixels and mm.
func TestCardAndDistanceOfUsualScreens(t *testing.T) {
	for _, c := range []struct{ pitch, card, d60 float64 }{
		{.2767, 309, 951}, {.2331, 367, 801}, {.1554, 551, 534}, {.1614, 530, 555},
	} {
		pitch, err := PitchFromCard(c.card)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "pitch", pitch, c.pitch, c.pitch*0.5/c.card*1.3) // half a pixel of the card, and four digits
		d, err := TrueDistanceMM(c.pitch, 1.0/60)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "distance", d, c.d60, 0.6)
	}
}

// A letter of 5 minutes of arc, 5 samples at one minute: at the true distance its
// height in mm is that of the standard, d tan 5' (ISO 8596).
func TestALetterHasItsTrueSize(t *testing.T) {
	d, err := TrueDistanceMM(0.25, 1.0/60)
	if err != nil {
		t.Fatal(err)
	}
	nearShare(t, "letter", 5*0.25, d*math.Tan(5.0/60*math.Pi/180), 1e-5)
}

func TestTrueSizeRefusesWhatIsNoScreen(t *testing.T) {
	for _, px := range []float64{0, 49, 20000, math.NaN()} {
		if mm, err := PitchFromCard(px); err == nil {
			t.Errorf("%v pixels gave %v", px, mm)
		}
	}
	for _, c := range [][2]float64{{0, 0.01}, {11, 0.01}, {math.NaN(), 0.01}, {0.2, 0}, {0.2, 2}, {0.2, math.NaN()}} {
		if d, err := TrueDistanceMM(c[0], c[1]); err == nil {
			t.Errorf("%v gave %v", c, d)
		}
	}
}

// gauss is a viewer's transfer with an eye of its own kind.
func gauss(f float64) float64 { return math.Exp(-f * f / 400) }

// A grating of 4 cycles per degree, 8 % contrast: after the viewer's blur the
// sharpened one has its contrast back, to the rule's own shortfall, e² over mtf².
func TestASharpenedGratingHasItsContrastBackInTheViewersEye(t *testing.T) {
	const f, contrast, step = 4.0, 0.08, 1.0 / 60
	m := uniform(GridAround(0, 0, 240, 120, step), [3]float64{50, 50, 50})
	for k := range m.R {
		x, _ := m.Centre(k%m.W, k/m.W)
		v := float32(50 * (1 + contrast*math.Cos(2*math.Pi*f*x)))
		m.R[k], m.G[k], m.B[k] = v, v, v
	}
	m.R[0], m.G[0], m.B[0] = 70, 70, 70 // room above
	out, limited, err := ForViewer(m, gauss, 3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "limited", limited, 0, 1e-3)
	var sum, cos float64
	for i := 30; i < 210; i++ { // whole cycles, away from the edges
		x, _ := out.Centre(i, 60)
		v := float64(out.G[60*m.W+i])
		sum += v
		cos += 2 * v * math.Cos(2*math.Pi*f*x)
	}
	mean, got := sum/180, cos/sum*gauss(f)
	e := 3 - math.Sqrt(8)
	near(t, "mean", mean, 50, 0.1)
	near(t, "contrast in the viewer's eye", got, contrast*(1+e*e)/(1+e*e/(gauss(f)*gauss(f))), 0.02*contrast)
	near(t, "and so", got, contrast, 0.03*contrast)
}

// The gain never passes its bound and the picture never its own range; an even
// picture stays as it is.
func TestSharpeningStaysWithinItsBounds(t *testing.T) {
	for _, gain := range []float64{1.5, 3} {
		var top float64
		e := gain - math.Sqrt(gain*gain-1)
		for _, g := range viewerGains(64, 64, 1.0/120, gauss, e) {
			top = max(top, float64(g))
		}
		if top > gain*(1+1e-6) || top < 0.9*gain {
			t.Errorf("largest gain %v, bound %v", top, gain)
		}
	}
	m := uniform(GridAround(0, 0, 60, 50, 1.0/60), [3]float64{9, 5, 1})
	out, _, err := ForViewer(m, gauss, 2)
	if err != nil {
		t.Fatal(err)
	}
	for k := range out.R {
		near(t, "even", float64(out.R[k]), 9, 1e-4)
		near(t, "even", float64(out.B[k]), 1, 1e-4)
	}
	for j := range 50 {
		for i := range 30 {
			m.G[j*60+i] = 100
		}
	}
	out, limited, err := ForViewer(m, gauss, 3)
	if err != nil {
		t.Fatal(err)
	}
	if limited == 0 {
		t.Error("an edge at the end of the range was said to be sharpened in full")
	}
	for _, v := range out.G {
		if v < 0 || v > 100 {
			t.Fatalf("%v outside the picture's range", v)
		}
	}
}

func TestSharpeningRefusesBadNumbers(t *testing.T) {
	m := uniform(GridAround(0, 0, 4, 4, 1), [3]float64{1, 1, 1})
	for _, g := range []float64{1, 0, 4, math.NaN()} {
		if _, _, err := ForViewer(m, gauss, g); err == nil {
			t.Errorf("gain %v was taken", g)
		}
	}
	m.R[3] = float32(math.NaN())
	if _, _, err := ForViewer(m, gauss, 2); err == nil {
		t.Error("a sick picture was taken")
	}
}
