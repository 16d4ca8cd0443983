package plot

import (
	"fmt"
	"image"
	"math"
)

// BarDPI is the density, dots an inch, that [CheckBar] is drawn for.
const BarDPI = 300

// The bar in pixels.
const (
	barMargin = 120
	barTop    = 150
	barHeight = 30
)

// barWords are larger than those of a screen: 11 points at [BarDPI].
var barWords = style{PX: 46}

// CheckBar returns a picture to print: a bar of mm millimetres, 20 to 180, with
// its length written above and words below. Printed at its true size the bar is
// as long as it says; measured with a ruler it shows what a printer did.
func CheckBar(mm float64, words string) (*image.NRGBA, error) {
	if !(mm >= 20 && mm <= 180) {
		return nil, fmt.Errorf("check bar: is %v mm long, expected 20 to 180", mm)
	}
	long := int(math.Round(mm / 25.4 * BarDPI))
	width := 2*barMargin + max(long, 1200)
	lines := barWords.Wrap(words, width-2*barMargin)
	const perLine = 64
	c := newCanvas(width, barTop+barHeight+barMargin+perLine*len(lines), panel)
	c.write(barWords, ink, barMargin, barTop-40, fmt.Sprintf("This bar is %g mm long.", mm))
	c.fill(ink, corners(image.Rect(barMargin, barTop, barMargin+long, barTop+barHeight)))
	for i, line := range lines {
		c.write(barWords, ink, barMargin, barTop+barHeight+80+i*perLine, line)
	}
	return c.img, nil
}
