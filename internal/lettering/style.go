package lettering

import (
	"image"
	"image/color"
	"image/draw"
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// Style is a face at a size in pixels. Its methods may be called by several
// goroutines at a time.
type Style struct {
	Bold bool
	PX   float64 // size of the em, above 0
}

// held is a face that serves one writer at a time.
type held struct {
	sync.Mutex
	font.Face
}

var faces sync.Map // Style to *held

// with runs f with the face while no one else uses it.
func (s Style) with(f func(font.Face)) {
	made, ok := faces.Load(s)
	if !ok {
		made, _ = faces.LoadOrStore(s, &held{Face: s.open()})
	}
	h := made.(*held)
	h.Lock()
	defer h.Unlock()
	f(h.Face)
}

// open makes the face; the fonts are part of the program, so that failing is a
// fault of the build.
func (s Style) open() font.Face {
	data := goregular.TTF
	if s.Bold {
		data = gobold.TTF
	}
	parsed, err := opentype.Parse(data)
	if err != nil {
		panic("lettering: embedded font: " + err.Error())
	}
	f, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: s.PX, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic("lettering: embedded font: " + err.Error())
	}
	return f
}

// Has reports whether the face can write the letter.
func (s Style) Has(r rune) (ok bool) {
	s.with(func(f font.Face) { _, ok = f.GlyphAdvance(r) })
	return ok
}

// Width returns the width of one line in pixels, rounded up.
func (s Style) Width(text string) (w int) {
	s.with(func(f font.Face) { w = font.MeasureString(f, text).Ceil() })
	return w
}

// Write puts one line of text that starts at x with its baseline at y, and
// returns the pixels its letters cover, those outside the picture too.
func (s Style) Write(dst draw.Image, ink color.Color, x, y int, text string) (covered image.Rectangle) {
	s.with(func(f font.Face) {
		d := font.Drawer{Dst: dst, Src: image.NewUniform(ink), Face: f, Dot: fixed.P(x, y)}
		box, _ := d.BoundString(text)
		d.DrawString(text)
		covered = image.Rect(box.Min.X.Floor(), box.Min.Y.Floor(), box.Max.X.Ceil(), box.Max.Y.Ceil())
	})
	return covered
}

// Wrap breaks a text into lines no wider than width pixels, at spaces, and a
// word that is wider by itself within. A line holds at least one letter.
func (s Style) Wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && s.Width(next) > width {
			lines = append(lines, line)
			next = word
		}
		for utf8.RuneCountInString(next) > 1 && s.Width(next) > width {
			head := s.fitting(next, width)
			if head == len(next) {
				break
			}
			lines, next = append(lines, next[:head]), next[head:]
		}
		line = next
	}
	return append(lines, line)
}

// fitting is how many bytes of a word, at least one letter, are no wider than
// width pixels.
func (s Style) fitting(word string, width int) int {
	end := 0
	for k, r := range word {
		next := k + utf8.RuneLen(r)
		if k > 0 && s.Width(word[:next]) > width {
			break
		}
		end = next
	}
	return end
}
