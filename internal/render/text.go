package render

import (
	"image"
	"image/color"
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// style is a face at a size in pixels.
type style struct {
	bold bool
	px   float64
}

var faces struct {
	sync.Mutex
	made map[style]font.Face
}

func (s style) face() font.Face {
	faces.Lock()
	defer faces.Unlock()
	if f, ok := faces.made[s]; ok {
		return f
	}
	data := goregular.TTF
	if s.bold {
		data = gobold.TTF
	}
	parsed, err := opentype.Parse(data)
	if err != nil {
		panic("render: embedded font: " + err.Error())
	}
	f, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: s.px, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic("render: embedded font: " + err.Error())
	}
	if faces.made == nil {
		faces.made = map[style]font.Face{}
	}
	faces.made[s] = f
	return f
}

// write puts one line of text with its baseline at y.
func write(dst *image.NRGBA, s style, ink color.Color, x, y int, text string) {
	d := font.Drawer{Dst: dst, Src: image.NewUniform(ink), Face: s.face(), Dot: fixed.P(x, y)}
	d.DrawString(text)
}

func (s style) width(text string) int { return font.MeasureString(s.face(), text).Ceil() }

// wrap breaks a text into lines no wider than width pixels, a word that is
// wider by itself also within.
func (s style) wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && s.width(next) > width {
			lines = append(lines, line)
			next = word
		}
		for utf8.RuneCountInString(next) > 1 && s.width(next) > width {
			head := s.fitting(next, width)
			lines, next = append(lines, next[:head]), next[head:]
		}
		line = next
	}
	return append(lines, line)
}

// fitting is how many bytes of a word, at least one letter, are no wider than
// width pixels.
func (s style) fitting(word string, width int) int {
	end := 0
	for k, r := range word {
		next := k + utf8.RuneLen(r)
		if k > 0 && s.width(word[:next]) > width {
			break
		}
		end = next
	}
	return end
}
