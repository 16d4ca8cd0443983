package lettering_test

import (
	"bytes"
	"image"
	"image/color"
	"strings"
	"sync"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"simview/internal/lettering"
)

// picture writes one line into a fresh picture.
func picture(s lettering.Style, text string) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, 400, 60))
	s.Write(m, color.Black, 10, 40, text)
	return m
}

// TestSeveralWritersGetWhatOneGets: a face keeps a buffer, so writers that shared
// it unguarded would mix their letters.
func TestSeveralWritersGetWhatOneGets(t *testing.T) {
	s := lettering.Style{PX: 24}
	texts := []string{"harbour lights", "tide table", "wavefront, µm"}
	var group sync.WaitGroup
	for range 8 {
		for _, text := range texts {
			group.Go(func() {
				if !bytes.Equal(picture(s, text).Pix, picture(s, text).Pix) {
					t.Errorf("%q was written in two ways", text)
				}
			})
		}
	}
	group.Wait()
}

// TestALineStandsOnItsBaseline: H has nothing below it, g has, and neither
// starts left of x by more than a pixel of hinting.
func TestALineStandsOnItsBaseline(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 100, 60))
	s := lettering.Style{PX: 24, Bold: true}
	if b := s.Write(m, color.Black, 10, 40, "H"); b.Max.Y > 40 || b.Min.Y > 25 || b.Min.X < 9 || !b.Overlaps(m.Bounds()) {
		t.Errorf("H covers %v", b)
	}
	if b := s.Write(m, color.Black, 10, 40, "g"); b.Max.Y <= 41 {
		t.Errorf("g covers %v", b)
	}
}

// TestWidthsAreThoseOfTheFont: the advances of its table, unhinted, are met
// within half a pixel a letter.
func TestWidthsAreThoseOfTheFont(t *testing.T) {
	const text, px = "Displaced lens", 200
	parsed, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	f, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: px, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		t.Fatal(err)
	}
	got, want := lettering.Style{PX: px}.Width(text), font.MeasureString(f, text).Ceil()
	if d := got - want; d < -len(text)/2 || d > len(text)/2 {
		t.Errorf("%d pixels, the table says %d", got, want)
	}
}

func TestWrappedLinesFitAndLoseNothing(t *testing.T) {
	s := lettering.Style{PX: 20}
	const text = "a word, andaverylongwordwithoutanyspacethatmustbebroken, and the end"
	for _, width := range []int{40, 90, 200, 2000} {
		lines := s.Wrap(text, width)
		for _, l := range lines {
			if s.Width(l) > width {
				t.Errorf("width %d: %q is %d wide", width, l, s.Width(l))
			}
		}
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
			t.Errorf("width %d: became %q", width, got)
		}
	}
	if got := s.Wrap("W", 1); len(got) != 1 || got[0] != "W" {
		t.Errorf("one letter became %q", got)
	}
}
