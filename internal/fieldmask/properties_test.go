package fieldmask

import (
	"math"
	"runtime"
	"slices"
	"testing"

	"simview/internal/csf"
	"simview/internal/light"
)

// The change of one dB's hundredth: gains move by less than 0.01, so no pixel by
// more than that share of the scene's range.
func TestAHundredthOfADecibelIsNotSeen(t *testing.T) {
	m := street(0.1)
	out, _ := See(lit(m), uniform(0.01), Options{})
	for q, v := range m.G {
		if math.Abs(float64(out.G[q]-v)) > 0.01*110 {
			t.Fatalf("pixel %d went from %v to %v", q, v, out.G[q])
		}
	}
}

// Where no loss lies within half a period of the lowest band the picture stays,
// to 1/255 of its white.
func TestFarFromAnyLossThePictureStays(t *testing.T) {
	m := street(0.05)
	hole := func(x, y float64) float64 { return 27 * smoothStep((3-math.Hypot(x-4, y+2))/0.8) }
	out, _ := See(lit(m), hole, Options{})
	for q, v := range m.G {
		x, y := m.Centre(q%m.W, q/m.W)
		if math.Hypot(x-4, y+2) > 3+0.5/lowestBand && math.Abs(float64(out.G[q]-v)) > 110.0/255 {
			t.Fatalf("(%.1f, %.1f) went from %v to %v", x, y, v, out.G[q])
		}
	}
}

func TestAPixelOfGazeMovesThePictureLittle(t *testing.T) {
	if testing.Short() {
		t.Skip("fine pictures")
	}
	const step = 0.05
	m := street(step)
	arc := func(x, y float64) float64 {
		r := math.Hypot(x, y)
		return 25 * smoothStep((r-2)/2) * smoothStep((1-y)/2)
	}
	a, _ := See(lit(m), arc, Options{Gaze: pt(1, 0)})
	b, _ := See(lit(m), arc, Options{Gaze: pt(1+step, 0)})
	diffs := make([]float64, len(a.G))
	for q, v := range a.G {
		diffs[q] = math.Abs(float64(v - b.G[q]))
	}
	slices.Sort(diffs)
	// the loss moves by at most 25 dB × 1.5 / 2 degrees × 0.05 degrees = 0.94 dB,
	// the gain by 3 × 0.94 / 10 × ln 10 / 4 = 0.16 at its steepest, of 84 from ink to paper
	if worst := diffs[len(diffs)-1]; worst > 0.16*84 {
		t.Errorf("a step of one pixel changes %v cd/m²", worst)
	}
	if typical := diffs[len(diffs)*99/100]; typical > 110.0/255*4 {
		t.Errorf("a hundredth of the pixels change by more than %v cd/m²", typical)
	}
}

func TestTheNumberOfCoresChangesNoByte(t *testing.T) {
	m := street(0.1)
	loss := func(x, y float64) float64 { return 22 * smoothStep((2-y)/3) }
	was := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(was)
	one, _ := See(lit(m), loss, Options{})
	runtime.GOMAXPROCS(4)
	four, _ := See(lit(m), loss, Options{})
	for c, p := range one.Planes() {
		if !slices.Equal(p, four.Planes()[c]) {
			t.Fatal("one and four cores give different pictures")
		}
	}
}

// Colours of one luminance fade where the loss is deep, as detail does, and their
// mean stays.
func TestColourFadesToo(t *testing.T) {
	g := light.GridAround(10, 0, 240, 160, 0.05)
	m := light.NewImage(g)
	for q := range m.R {
		x, _ := g.Centre(q%g.W, q/g.W)
		c := 0.3 * math.Cos(2*math.Pi*2*x)
		m.R[q] = float32(50 * (1 + c))
		m.G[q] = float32(50 * (1 - c*light.WeightR/light.WeightG))
		m.B[q] = 50
	}
	out, _ := See(lit(m), uniform(20), Options{})
	red := &light.Image{Grid: g, R: out.R, G: out.R, B: out.R}
	if c := gratingContrast(red, 2, 10, 0, 3); c > 0.03 {
		t.Errorf("red bars of contrast 0.3 keep %.3f under 20 dB", c)
	}
	if v := mean(out.R); math.Abs(float64(v)-50) > 0.25 {
		t.Errorf("the mean of red went from 50 to %v", v)
	}
	same, _ := See(lit(m), NoLoss, Options{})
	if !slices.Equal(same.R, m.R) {
		t.Error("without loss colour must stay")
	}
}

// With the light on the retina kept, the pupil plays no part: a scene twice as
// bright through half the area gives the same picture, twice as bright.
func TestThePupilPlaysNoPartAtTheSameLightOnTheRetina(t *testing.T) {
	if testing.Short() {
		t.Skip("four pictures")
	}
	const tol = 1e-3 // float32 through transforms
	m := street(0.1)
	double := clone(m)
	for _, p := range double.Planes() {
		for q := range p {
			p[q] *= 2
		}
	}
	for _, model := range csf.Models() {
		opt := Options{Model: model, NormalPeriphery: true}
		a, _ := See(Light{m, Adaptation(m), 12}, uniform(8), opt)
		b, _ := See(Light{double, Adaptation(double), 6}, uniform(8), opt)
		for q, v := range a.G {
			if math.Abs(float64(b.G[q]/2-v)) > tol*110 {
				t.Fatalf("%s: pixel %d is %v and %v", model.Key(), q, v, b.G[q]/2)
			}
		}
	}
}

// In the dark of a night road the model that knows it shows less than by day.
func TestDimLightTakesDetailWithTheModelThatKnowsIt(t *testing.T) {
	left := func(model csf.Model, pupil float64) float64 {
		m := grating(3, 0.1, 8, 0)
		out, _ := See(Light{m, Adaptation(m), pupil}, NoLoss, Options{Model: model, NormalPeriphery: true})
		return gratingContrast(out, 3, 8, 0, 2)
	}
	if day, night := left(csf.Barten{}, 12), left(csf.Barten{}, 0.02); night > day/2 {
		t.Errorf("contrast %.3f by day, %.3f with a six-hundredth of the light", day, night)
	}
	if day, night := left(csf.WatsonAhumada{}, 12), left(csf.WatsonAhumada{}, 0.02); day != night {
		t.Errorf("a model of one light gives %.4f and %.4f", day, night)
	}
}
