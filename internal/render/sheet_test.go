//go:build !race

package render

import (
	"image"
	"image/color"
	"strings"
	"testing"

	"simview/internal/light"
)

var linear100 = light.Tone{Name: "linear", WhiteCdM2: 100}

func TestVisibleNeedsFivePercentOverFortySquareMinutes(t *testing.T) {
	g := light.GridAround(0, 0, 60, 40, arcmin)
	a := painted(g, func(_, _ float64) float64 { return 20 })
	differ := func(n int, by float32) *light.Image {
		b := painted(g, func(_, _ float64) float64 { return 20 })
		for i := range n {
			b.R[i], b.G[i], b.B[i] = 20+by, 20+by, 20+by
		}
		return b
	}
	for _, c := range []struct {
		n    int
		by   float32
		want bool
	}{{0, 0, false}, {39, 40, false}, {40, 40, true}, {2400, 1, false}, {400, 10, true}, {400, -10, true}} {
		if got := Visible(a, differ(c.n, c.by), linear100); got != c.want {
			t.Errorf("%d samples %g cd/m² apart: visible is %v", c.n, c.by, got)
		}
	}
	// the same area on a grid four times finer is sixteen times the samples
	f := light.GridAround(0, 0, 60, 40, arcmin/4)
	fine := painted(f, func(_, _ float64) float64 { return 20 })
	other := painted(f, func(_, _ float64) float64 { return 60 })
	for i := 40 * 16; i < other.Len(); i++ {
		other.R[i], other.G[i], other.B[i] = 20, 20, 20
	}
	if !Visible(fine, other, linear100) {
		t.Error("forty square minutes on a fine grid are not visible")
	}
}

func TestTheWindowGoesToTheQuietCornerAndHidesNotItsOwnPlace(t *testing.T) {
	g := light.GridAround(0, 0, 600, 400, arcmin)
	for _, c := range []struct {
		name         string
		busyX, busyY float64 // a chequered corner
		want         corner
	}{
		{"busy upper left", -1, 1, corner{true, true}},
		{"busy lower right", 1, -1, corner{false, true}},
	} {
		wide := painted(g, func(x, y float64) float64 {
			if x*c.busyX > 0 && y*c.busyY > 0 && (int(x*60+600)+int(y*60+600))%2 == 0 {
				return 90
			}
			return 20
		})
		window := light.NewImage(light.GridAround(0, 0, 200, 120, arcmin/4))
		if got := quietest(wide, window, linear100, nil); got != c.want {
			t.Errorf("%s: window at %+v, want %+v", c.name, got, c.want)
		}
	}
	wide := painted(g, func(_, _ float64) float64 { return 20 })
	for _, k := range corners {
		x, y := -4.0, 2.5
		if k.right {
			x = 4
		}
		if k.bottom {
			y = -2.5
		}
		window := light.NewImage(light.GridAround(x, y, 200, 120, arcmin/4))
		at := quietest(wide, window, linear100, nil).place(image.Pt(300, 200), image.Pt(100, 60))
		if at.Overlaps(source(wide.Grid, window.Grid)) {
			t.Errorf("the window covers the place at (%g, %g) it magnifies", x, y)
		}
	}
	lost := func(x, y float64) float64 { // lower right
		if x > 0 && y < 0 {
			return 20
		}
		return 0
	}
	window := light.NewImage(light.GridAround(0, 0, 200, 120, arcmin/4))
	if got := quietest(wide, window, linear100, lost); got == (corner{true, true}) {
		t.Error("the window hides the lost field")
	}
}

func TestAWindowLargerThanItsPictureIsStillShown(t *testing.T) {
	wide := painted(light.GridAround(0, 0, 120, 80, arcmin), func(_, _ float64) float64 { return 20 })
	window := painted(light.GridAround(0, 0, 440, 300, arcmin/4), func(_, _ float64) float64 { return 20 })
	h, err := Hang(wide, window, "linear", 100, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := h.Compose(wide, window).Rect.Size(); got != image.Pt(60, 40) {
		t.Errorf("picture of %v", got)
	}
}

func TestTheOutlineLiesRoundThePlaceThatIsMagnified(t *testing.T) {
	wide := light.GridAround(0, 0, 600, 400, arcmin)
	got := source(wide, light.GridAround(1, -0.5, 240, 120, arcmin/4)) // 1 by 0.5 degrees
	// 30 samples of the sheet a degree; the centre is (150, 100)
	if want := image.Rect(165, 108, 195, 123); got != want {
		t.Errorf("outline %v, want %v", got, want)
	}
}

func longSheet() Sheet {
	pic := image.NewNRGBA(image.Rect(0, 0, 300, 200))
	long := "24-2 mean deviation −5.9 dB, 10-2 mean deviation −11.0 dB, worst lower nasal (mean −17.3 dB)"
	p := Panel{Name: "A cause with a name that is far too long", Amount: long, Notes: long + "; " + long, Hidden: true, Pic: pic}
	s := Sheet{
		Title: "What each cause alone would make the right eye see, in many words",
		Sub:   strings.Repeat("Complaint: lamps have tails and print is missing. ", 6),
		Rows:  []Row{{Heading: strings.Repeat("Harbour road at night, at 40 m; ", 5), Panels: []Panel{p, p, p, p, p}}},
		Foot:  []string{strings.Repeat("Illustrations for discussion. ", 20)},
	}
	for range 9 {
		s.Checks = append(s.Checks, Check{Name: "other eye covered", Note: strings.Repeat("the trouble stays ", 6)})
	}
	return s
}

func TestNoTextIsCutOrRunsOutOfTheSheet(t *testing.T) {
	m := longSheet().Draw()
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			inside := x >= margin-2 && x < m.Rect.Dx()-margin+2 && y >= margin-2 && y < m.Rect.Dy()-margin+2
			if !inside && m.NRGBAAt(x, y) != paper {
				t.Fatalf("ink at (%d, %d) of %v, outside the margins", x, y, m.Rect.Size())
			}
		}
	}
}

func TestACaptionStaysAboveItsOwnPanel(t *testing.T) {
	s := longSheet()
	for _, p := range s.Rows[0].Panels {
		for _, l := range p.caption(300) {
			for _, r := range l {
				if r.x+r.width() > 300 {
					t.Errorf("%q ends %d pixels to the right of its panel", r.text, r.x+r.width()-300)
				}
			}
		}
	}
	var all strings.Builder
	for _, l := range s.Rows[0].Panels[0].caption(300) {
		for _, r := range l {
			all.WriteString(r.text)
		}
	}
	p := s.Rows[0].Panels[0]
	for _, want := range []string{p.Name, "not visible here", p.Amount, p.Notes} {
		if !strings.Contains(strings.ReplaceAll(all.String(), " ", ""), strings.ReplaceAll(want, " ", "")) {
			t.Errorf("the caption lacks %q", want)
		}
	}
}

func TestWrappingKeepsEveryWordWithinTheWidth(t *testing.T) {
	text := "worst lower nasal (mean −17.3 dB); anextraordinarilylongwordthatdoesnotfitanywhereatall; +0.29/−0.70×67 D"
	for _, width := range []int{120, 200, 400, 2000} {
		lines := textStyle.Wrap(text, width)
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
			t.Errorf("width %d: letters were lost: %q", width, got)
		}
		for _, l := range lines {
			if textStyle.Width(l) > width {
				t.Errorf("width %d: %q is %d wide", width, l, textStyle.Width(l))
			}
		}
	}
}

func TestEveryCharacterOfCaptionsHasAGlyph(t *testing.T) {
	for _, s := range []style{titleStyle, headStyle, nameStyle, textStyle} {
		for _, r := range "abcXYZ0123456789 +−-–/×°±²³µ·…\"'()[];:,.%<>≤≥åäöéüß" {
			if !s.Has(r) {
				t.Errorf("%+v: no glyph for %q", s, r)
			}
		}
	}
}

func TestACheckNotDoneIsLoud(t *testing.T) {
	s := Sheet{Rows: []Row{{Panels: []Panel{{Pic: image.NewNRGBA(image.Rect(0, 0, 300, 20))}}}}, Checks: []Check{{Name: "pinhole", Done: true}}}
	if inked(s.Draw(), loud) {
		t.Error("a check that is done is loud")
	}
	s.Checks[0].Done = false
	if !inked(s.Draw(), loud) {
		t.Error("a check that is not done is not loud")
	}
}

func inked(m *image.NRGBA, c color.NRGBA) bool {
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			if m.NRGBAAt(x, y) == c {
				return true
			}
		}
	}
	return false
}
