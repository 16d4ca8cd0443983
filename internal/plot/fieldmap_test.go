package plot

import (
	"image"
	"math"
	"strings"
	"testing"
)

func fieldMap() *FieldMap {
	return &FieldMap{
		Title: "What is lost", HalfDeg: 30, EndDB: 30, EveryDB: 5, Left: "nose side", Right: "temple side",
		Value: func(x, y float64) float64 {
			if math.Hypot(x, y) > 25 {
				return math.NaN()
			}
			if x > 3 && y > 3 {
				return 22
			}
			return 0
		},
		Deeper: func(x, y float64) bool { return x > 3 && y > 3 },
		Blind:  func(x, y float64) bool { return math.Hypot(x-15, y+1.5) < 3 },
		Tested: func(x, y float64) bool { return math.Hypot(x, y) < 21 },
		Marks:  []FieldMark{{9, 9, "-22"}, {-9, -9, "0"}},
	}
}

// A loss to the right and up of fixation is drawn to the right and up, warm; what
// is unknown has another colour than no loss, and nothing is near black.
func TestAFieldIsDrawnAsThePatientSeesIt(t *testing.T) {
	c := newCanvas(600, 600, paper)
	fieldMap().draw(c, image.Rect(0, 0, 600, 600))
	at := func(x, y float64) (r, b int) {
		f := frameOf{image.Rect(0, 0, 600, 600), 30}
		p := f.at(x, y)
		v := c.img.NRGBAAt(int(p.x), int(p.y))
		return int(v.R), int(v.B)
	}
	for _, k := range []struct {
		x, y float64
		warm bool
	}{{12, 6, true}, {-12, 6, false}, {12, -8, false}, {-12, -6, false}} {
		if r, b := at(k.x, k.y); (r > b+40) != k.warm {
			t.Errorf("at (%g, %g): red %d, blue %d, want warm %v", k.x, k.y, r, b, k.warm)
		}
	}
	none, _ := at(-12, 6)
	if unknown, _ := at(-26, 4); none-unknown < 5 {
		t.Errorf("unknown looks like no loss (%d, %d)", unknown, none)
	}
}

func TestADoubtIsColdAndALossIsWarm(t *testing.T) {
	m := fieldMap()
	p := Diverging()
	if loss := m.ink(p, 20); loss.R <= loss.B {
		t.Errorf("a loss is %v", loss)
	}
	m.Doubt = true
	if doubt := m.ink(p, 20); doubt.R >= doubt.B {
		t.Errorf("a doubt is %v", doubt)
	}
	if m.ink(p, 40) != m.ink(p, 30) {
		t.Error("beyond its end the scale goes on")
	}
}

func TestNoTextOfAFieldPageIsCut(t *testing.T) {
	page := &FieldPage{Title: "A field", Words: []string{"Whose it is."}, Notes: []string{"A limit."}}
	page.Rows = []FieldRow{{Name: "Right eye", Words: []string{"A test."}, Maps: []*FieldMap{fieldMap(), fieldMap()}}}
	c, err := page.draw()
	if err != nil {
		t.Fatal(err)
	}
	if len(*c.texts) < 20 {
		t.Fatalf("only %d texts", len(*c.texts))
	}
	for i, a := range *c.texts {
		if !a.box.In(a.clip) {
			t.Errorf("%q takes %v of %v", a.text, a.box, a.clip)
		}
		for _, b := range (*c.texts)[:i] {
			if a.box.Overlaps(b.box) {
				t.Errorf("%q is written over %q", a.text, b.text)
			}
		}
	}
}

func TestAFieldPageRefusesWhatItCannotDraw(t *testing.T) {
	for name, spoil := range map[string]func(p *FieldPage){
		"at least one field": func(p *FieldPage) { p.Rows = nil },
		"one or two maps":    func(p *FieldPage) { p.Rows[0].Maps = nil },
		"above 0":            func(p *FieldPage) { p.Rows[0].Maps[0].EndDB = math.NaN() },
		"no values":          func(p *FieldPage) { p.Rows[0].Maps[0].Value = nil },
	} {
		p := &FieldPage{Rows: []FieldRow{{Name: "Right eye", Maps: []*FieldMap{fieldMap()}}}}
		spoil(p)
		if _, err := p.Draw(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}
