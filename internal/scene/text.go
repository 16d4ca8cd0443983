package scene

import (
	"fmt"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// fontUnits is the size at which outlines are taken, in units of 1/64 each, so
// that rounding is far below any pixel.
const fontUnits = 1024

// typeface is a font with its letters on an em of 1.
type typeface struct {
	font    *sfnt.Font
	xHeight float64 // of the small x, in em
}

var typefaces = sync.OnceValue(func() map[string]*typeface {
	out := map[string]*typeface{}
	for name, ttf := range map[string][]byte{
		"regular": goregular.TTF, "bold": gobold.TTF, "italic": goitalic.TTF, "mono": gomono.TTF,
	} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic("scene: text: the embedded font does not parse: " + err.Error())
		}
		t := &typeface{font: f}
		box, _, _ := t.bounds('x')
		t.xHeight = box
		out[name] = t
	}
	return out
})

// bounds returns the height of a character above the baseline and its advance.
func (t *typeface) bounds(r rune) (height, advance float64, err error) {
	var b sfnt.Buffer
	i, err := t.font.GlyphIndex(&b, r)
	if err != nil || i == 0 {
		return 0, 0, fmt.Errorf("text: the font has no character %q", r)
	}
	box, adv, err := t.font.GlyphBounds(&b, i, fixed.I(fontUnits), font.HintingNone)
	return -em(box.Min.Y), em(adv), err
}

func em(v fixed.Int26_6) float64 { return float64(v) / 64 / fontUnits }

// glyph returns the outline of a character on an em of 1, curves in pieces
// within tol, and its advance.
func (t *typeface) glyph(b *sfnt.Buffer, r rune, tol float64) ([][]pt, float64) {
	i, err := t.font.GlyphIndex(b, r)
	if err != nil {
		return nil, 0
	}
	adv, _ := t.font.GlyphAdvance(b, i, fixed.I(fontUnits), font.HintingNone)
	segs, err := t.font.LoadGlyph(b, i, fixed.I(fontUnits), nil)
	if err != nil {
		return nil, em(adv)
	}
	pieces := 2
	for pieces < 16 && 0.06/float64(pieces*pieces) > tol {
		pieces++
	}
	var out [][]pt
	for _, s := range segs {
		out = appendSegment(out, s, pieces)
	}
	return out, em(adv)
}

// appendSegment adds one step of an outline; a move begins a new contour.
func appendSegment(out [][]pt, s sfnt.Segment, pieces int) [][]pt {
	at := func(i int) pt { return pt{em(s.Args[i].X), -em(s.Args[i].Y)} }
	if s.Op == sfnt.SegmentOpMoveTo {
		return append(out, []pt{at(0)})
	}
	last := &out[len(out)-1]
	from := (*last)[len(*last)-1]
	switch s.Op {
	case sfnt.SegmentOpLineTo:
		*last = append(*last, at(0))
	case sfnt.SegmentOpQuadTo:
		for k := 1; k <= pieces; k++ {
			t := float64(k) / float64(pieces)
			*last = append(*last, mix(mix(from, at(0), t), mix(at(0), at(1), t), t))
		}
	case sfnt.SegmentOpCubeTo:
		for k := 1; k <= pieces; k++ {
			t := float64(k) / float64(pieces)
			ab, bc, cd := mix(from, at(0), t), mix(at(0), at(1), t), mix(at(1), at(2), t)
			*last = append(*last, mix(mix(ab, bc, t), mix(bc, cd, t), t))
		}
	}
	return out
}

func mix(a, b pt, t float64) pt { return pt{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)} }

// width returns the length of a line in em.
func (t *typeface) width(line string) float64 {
	w := 0.0
	for _, r := range line {
		_, a, _ := t.bounds(r)
		w += a
	}
	return w
}
