package plot

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

// diagram has a logarithmic and a straight axis and one curve y = x.
func diagram() Graph {
	return Graph{
		Title:  "a line",
		X:      Axis{Label: "angle", From: 0.01, To: 100, Log: true, Ticks: Decades(0.01, 100, 1)},
		Y:      Axis{Label: "share", From: 0, To: 100, Ticks: []Tick{{At: 0, Words: "0"}, {At: 100, Words: "100"}}},
		Curves: []Curve{{X: []float64{0.01, 1, 100}, Y: []float64{0, 50, 100}, Ink: 4}},
	}
}

// On a logarithmic axis equal factors are equal lengths: 1 lies halfway between a
// hundredth and a hundred; rightwards and upwards is more.
func TestACurveGoesThroughItsPlaces(t *testing.T) {
	g := diagram()
	c := newCanvas(700, 500, paper)
	r := image.Rect(0, 0, 700, 500)
	g.draw(c, r)
	const edge = 1 // CIEDE2000: a piece may cover a pixel in two strokes
	left, right, top, bottom := graphLeft, 700-graphRight, graphTop, 500-graphBottom
	for _, at := range []image.Point{
		{(left + right) / 2, (top + bottom) / 2},
		{left + (right-left)/4, top + (bottom-top)*3/4},
		{left + (right-left)*3/4, top + (bottom-top)/4},
	} {
		if got := c.img.NRGBAAt(at.X, at.Y); apart(got, inks[4]) > edge {
			t.Errorf("at %v: %v, want the curve's %v", at, got, inks[4])
		}
	}
	if got := c.img.NRGBAAt(left+(right-left)/4, top+(bottom-top)/4); got == inks[4] {
		t.Error("the curve falls")
	}
}

func TestDecadesAreThePowersOfTenWithin(t *testing.T) {
	got := Decades(1e-3, 1e8, 2)
	if len(got) != 6 || got[0].At != 0.01 || got[0].Power != "−2" || math.Abs(got[5].At-1e8) > 1 || got[5].Power != "8" {
		t.Errorf("%+v", got)
	}
}

// What is not a number, or below zero on a logarithmic axis, leaves a gap.
func TestACurveIsInterruptedWhereThereIsNoValue(t *testing.T) {
	g := diagram()
	g.Curves = []Curve{{X: []float64{0.01, 1, -1, 10, 100}, Y: []float64{50, 50, 50, 50, 50}, Ink: 1}}
	c := newCanvas(700, 500, paper)
	g.draw(c, image.Rect(0, 0, 700, 500))
	row := (graphTop + 500 - graphBottom) / 2
	width := 700 - graphLeft - graphRight
	if got := c.img.NRGBAAt(graphLeft+width*5/8, row); got == inks[1] {
		t.Error("the gap is drawn")
	}
	if got := c.img.NRGBAAt(graphLeft+width*3/8, row); got != inks[1] {
		t.Errorf("the piece before the gap: %v", got)
	}
}

func lightPage() *LightPage {
	p := &LightPage{Title: "An eye", Words: []string{"Pupil 5 mm."}, Notes: []string{"A limit."}}
	for i, name := range []string{"reference eye: none of the causes", "Displaced lens", "Leftover cylinder", "Irregular cornea", "Scattered light", "all causes together"} {
		p.Keys = append(p.Keys, Key{Name: name, Ink: i})
	}
	p.Keys = append(p.Keys, Key{Name: "published", Ink: 7, Dash: 4})
	for range 4 {
		p.Graphs = append(p.Graphs, diagram())
	}
	return p
}

func TestNoTextOfALightPageIsCutOrWrittenOverAnother(t *testing.T) {
	c, err := lightPage().draw()
	if err != nil {
		t.Fatal(err)
	}
	texts := *c.texts
	if len(texts) < 40 {
		t.Fatalf("only %d texts", len(texts))
	}
	for i, a := range texts {
		if !a.box.In(a.clip) {
			t.Errorf("%q takes %v of %v", a.text, a.box, a.clip)
		}
		for _, b := range texts[:i] {
			if a.box.Overlaps(b.box) {
				t.Errorf("%q is written over %q", a.text, b.text)
			}
		}
	}
}

func TestALightPageRefusesWhatItCannotDraw(t *testing.T) {
	for name, spoil := range map[string]func(p *LightPage){
		"no diagrams":      func(p *LightPage) { p.Graphs = nil },
		"too many":         func(p *LightPage) { p.Graphs = append(p.Graphs, p.Graphs...) },
		"zero on a log":    func(p *LightPage) { p.Graphs[0].X.From = 0 },
		"backwards":        func(p *LightPage) { p.Graphs[1].Y.To = -1 },
		"not a number":     func(p *LightPage) { p.Graphs[1].Y.To = math.NaN() },
		"one value short":  func(p *LightPage) { p.Graphs[2].Curves[0].Y = nil },
		"no such colour":   func(p *LightPage) { p.Graphs[3].Curves[0].Ink = 8 },
		"key of no colour": func(p *LightPage) { p.Keys[0].Ink = -1 },
	} {
		p := lightPage()
		spoil(p)
		if _, err := p.Draw(); err == nil || !strings.Contains(err.Error(), ":") && !strings.Contains(err.Error(), "page") {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// Neighbouring curves differ by at least 12 in CIEDE2000, for which 2 to 3 is
// just seen side by side; and all stand out from the panel.
func TestColoursOfCurvesAreToldApart(t *testing.T) {
	for i, a := range inks {
		for j, b := range inks[:i] {
			if d := apart(a, b); d < 12 {
				t.Errorf("colours %d and %d differ by %.1f", i, j, d)
			}
		}
		if d := apart(a, panel); d < 25 {
			t.Errorf("colour %d differs from the panel by %.1f", i, d)
		}
	}
}

// The bar is as long as it says at the density that the file states: pixels times
// 25.4 over dots an inch, to half a pixel.
func TestTheCheckBarIsAsLongAsItSays(t *testing.T) {
	const mm = 50.0
	m, err := CheckBar(mm, "words below")
	if err != nil {
		t.Fatal(err)
	}
	row, first, last := barTop+barHeight/2, -1, -1
	for x := range m.Rect.Dx() {
		if m.NRGBAAt(x, row) == ink {
			if first < 0 {
				first = x
			}
			last = x
		}
	}
	if got := float64(last-first+1) * 25.4 / BarDPI; math.Abs(got-mm) > 0.5*25.4/BarDPI+1e-9 {
		t.Errorf("%.3f mm", got)
	}
	for _, bad := range []float64{0, 5, 300, math.NaN()} {
		if _, err := CheckBar(bad, ""); err == nil {
			t.Errorf("%v mm was drawn", bad)
		}
	}
}

func apart(a, b color.NRGBA) float64 {
	x, _ := colorful.MakeColor(a)
	y, _ := colorful.MakeColor(b)
	return 100 * x.DistanceCIEDE2000(y)
}
