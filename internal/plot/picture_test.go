package plot

import (
	"image"
	"image/color"
	"math"
	"strings"
	"sync"
	"testing"

	"simview/internal/raytrace"
	"simview/internal/unit"
)

// A path a r² over a pupil of radius R has the mean a R²/2, the RMS a R²/√12 and
// the largest size a R²/2 (integrals over a disc).
func TestAMapHasTheMomentsOfItsPath(t *testing.T) {
	m := mapOf(t, func(x, y float64) float64 { return .5*(x*x+y*y) + 7 }, 6)
	const sampled = .02 // of 4.5 µm: 200 samples across miss up to one sample at the rim
	near(t, "RMS", m.RMSUM, 4.5/math.Sqrt(12), 4.5*sampled)
	near(t, "largest", m.MaxUM, 2.25, 4.5*sampled)
	near(t, "in the middle", m.PathUM[100*200+100], -2.25, 4.5*sampled)
	if !math.IsNaN(m.PathUM[0]) {
		t.Error("the corner outside the pupil holds a number")
	}
}

func TestAMapRefusesWhatIsNoPath(t *testing.T) {
	flat := func(float64, float64) float64 { return 0 }
	for name, f := range map[string]func() (*Map, error){
		"no pupil":    func() (*Map, error) { return NewMap(flat, 0, nil, 100) },
		"NaN pupil":   func() (*Map, error) { return NewMap(flat, math.NaN(), nil, 100) },
		"few samples": func() (*Map, error) { return NewMap(flat, 5, nil, 3) },
		"path is NaN": func() (*Map, error) { return NewMap(func(x, _ float64) float64 { return math.Sqrt(x) }, 5, nil, 100) },
		"path is +Inf": func() (*Map, error) {
			return NewMap(func(x, _ float64) float64 { return 1 / math.Max(0, x) }, 5, nil, 100)
		},
	} {
		if _, err := f(); err == nil || !strings.HasPrefix(err.Error(), "wavefront map: ") {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// TestAMapLeavesOutWhatLiesBesideALens: of a path that is large only there nothing
// counts, and those pixels are hatched, not coloured.
func TestAMapLeavesOutWhatLiesBesideALens(t *testing.T) {
	path := func(_, y float64) float64 { return math.Min(0, y) * 9 }
	covered := func(_, y float64) bool { return y >= 0 }
	m, err := NewMap(path, 6, covered, 200)
	if err != nil {
		t.Fatal(err)
	}
	if m.RMSUM != 0 || m.MaxUM != 0 || !math.IsNaN(m.PathUM[150*200+100]) || math.IsNaN(m.PathUM[50*200+100]) {
		t.Errorf("RMS %g, largest %g", m.RMSUM, m.MaxUM)
	}
	c := newCanvas(200, 200, panel)
	m.draw(c, image.Rect(0, 0, 200, 200), 2, .5)
	hatched, bare := 0, 0
	for i := 60; i < 140; i++ {
		switch c.img.NRGBAAt(i, 150) {
		case pastInk:
			hatched++
		case paper:
			bare++
		}
	}
	if hatched == 0 || hatched+bare != 80 || c.img.NRGBAAt(100, 50) == paper {
		t.Errorf("%d hatched, %d bare of 80", hatched, bare)
	}
	if _, err := NewMap(path, 6, func(_, _ float64) bool { return false }, 200); err == nil {
		t.Error("a map of no place passed")
	}
}

func TestALineLiesWhereThePathPassesAMultiple(t *testing.T) {
	plain, lined := newCanvas(200, 200, paper), newCanvas(200, 200, paper)
	m := mapOf(t, func(x, _ float64) float64 { return x }, 6)
	m.draw(plain, plain.img.Rect, 4, math.Inf(1))
	m.draw(lined, lined.img.Rect, 4, 1)
	darker := 0
	for x := 4; x < 196; x++ {
		if lined.img.NRGBAAt(x, 97).G < plain.img.NRGBAAt(x, 97).G {
			darker++
			at := (float64(x)+.5)/200*6 - 3
			if off := math.Abs(at - math.Round(at)); off > .04 {
				t.Errorf("a line at %.3f µm", at)
			}
		}
	}
	if darker != 5 { // -2, -1, 0, 1, 2
		t.Errorf("%d lines, want 5", darker)
	}
}

func TestAScaleBarIsAsLongAsItSays(t *testing.T) {
	c := newCanvas(300, 60, color.White)
	c.scaleBar(color.Black, 20, 40, 2.5, 80, "2.5 mm")
	dark := 0
	for x := range 300 {
		if c.img.NRGBAAt(x, 40).R < 128 {
			dark++
		}
	}
	if math.Abs(float64(dark)-2.5*80) > 3 { // the end strokes are 2 pixels thick
		t.Errorf("the bar is %d pixels long, want 200", dark)
	}
}

func TestALineIsAsThickAsItSays(t *testing.T) {
	for _, width := range []float64{1, 1.5, 3, 6} {
		c := newCanvas(100, 100, color.White)
		c.stroke(color.Black, width, []pixel{{-10, 20.3}, {30, 40}, {31, 40.5}, {120, 85}})
		for _, x := range []int{10, 45, 70, 95} {
			got := 0.0
			for y := range 100 {
				got += 1 - float64(c.img.NRGBAAt(x, y).R)/255
			}
			dx, dy := 40.0, 19.7
			if x > 31 {
				dx, dy = 89, 44.5
			}
			near(t, "ink in a column", got, width*math.Hypot(dx, dy)/dx, .06*width+.03)
		}
	}
}

func TestRoundNumbersReachWhatTheyAreFor(t *testing.T) {
	for v := .0013; v < 5000; v *= 1.37 {
		if n := niceAbove(v); n < v || n > 2*v {
			t.Errorf("above %g: %g", v, n)
		}
		if n := niceLength(v); n > v || n < v/2.5001 {
			t.Errorf("at most %g: %g", v, n)
		}
	}
}

var shared struct {
	once   sync.Once
	spread *Spread
}

func page(t *testing.T, side unit.Side, meridian unit.Degrees) *Page {
	e, half := implant(t), math.Sqrt(.5)
	wave := func(x, y float64) float64 { return .1*x*x*y + .3*x*y }
	shared.once.Do(func() { shared.spread = spreadOf(t, wave, 5) })
	row := func(name string, at raytrace.DisplacedLens) Row {
		spots, err := NewSpots(wave, 5, nil)
		if err != nil {
			t.Fatal(err)
		}
		return Row{Name: name, Section: section(t, subject(t, e, at, meridian)), Map: mapOf(t, wave, 5), Spread: shared.spread, Spots: spots}
	}
	last := row("All causes together", raytrace.DisplacedLens{})
	last.Section, last.Words = nil, []string{strings.Repeat("a cause with a long name and its amount, ", 4), "another"}
	return &Page{
		Side: side, Title: "An eye", Words: []string{strings.Repeat("many words ", 40)}, Notes: []string{strings.Repeat("a limit ", 60)},
		Rows: []Row{row("In its place", raytrace.DisplacedLens{}), row("As measured", towardsDeg(1, -half, half)), last},
	}
}

func TestNoTextIsCutOrWrittenOverAnother(t *testing.T) {
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		for _, meridian := range []unit.Degrees{90, 135, 180} {
			s, err := page(t, side, meridian).sheet()
			if err != nil {
				t.Fatal(err)
			}
			texts := *s.c.texts
			if len(texts) < 40 {
				t.Fatalf("only %d texts", len(texts))
			}
			for i, a := range texts {
				if !a.box.In(a.clip) {
					t.Errorf("%v eye, %v: %q takes %v of %v", side, meridian, a.text, a.box, a.clip)
				}
				for _, b := range texts[:i] {
					if a.box.Overlaps(b.box) {
						t.Errorf("%v eye, %v: %q is written over %q", side, meridian, a.text, b.text)
					}
				}
			}
		}
	}
}

// Whichever way the lens is shifted, its name stands beyond the end that stands
// out, that of its place at the other end.
func TestTheLensIsNamedWhereItStandsOut(t *testing.T) {
	for _, up := range []float64{1, -1} {
		p := page(t, unit.Right, 90)
		p.Rows[1].Section = section(t, subject(t, implant(t), towardsDeg(.8, 0, up), 90))
		s, err := p.sheet()
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]int{}
		for _, w := range *s.c.texts {
			at[w.text] = w.box.Min.Y
		}
		if lens, place := at["lens"], at["its place"]; lens == 0 || place == 0 || (lens < place) != (up > 0) {
			t.Errorf("shifted %+g: lens named at row %d, its place at row %d", up, lens, place)
		}
	}
}

func TestThePageHoldsThePictures(t *testing.T) {
	p := page(t, unit.Right, 135)
	m, err := p.Draw()
	if err != nil {
		t.Fatal(err)
	}
	if m.Rect.Min != (image.Point{}) || m.Rect.Dx() != pageWidth {
		t.Errorf("the page is %v", m.Rect)
	}
	for name, bad := range map[string]*Page{
		"no rows":    {Title: "x"},
		"no map":     {Rows: []Row{{Section: p.Rows[0].Section, Spread: p.Rows[0].Spread}}},
		"no section": {Rows: []Row{{Map: p.Rows[0].Map, Spread: p.Rows[0].Spread}}},
	} {
		if _, err := bad.Draw(); err == nil || !strings.HasPrefix(err.Error(), "page: ") {
			t.Errorf("%s: error %v", name, err)
		}
	}
}
