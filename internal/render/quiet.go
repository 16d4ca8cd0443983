package render

import (
	"image"
	"math"

	"simview/internal/light"
	"simview/internal/unit"
)

// lossWeight is how much 10 dB of lost field weighs against the detail of an
// average place when a corner for the window is chosen; own choice.
const (
	lossWeight = 1.0
	usualStep  = 0.01 // between neighbours on the display, in a picture with some detail
)

// quietest picks the corner of the wide picture that holds least, of the scene
// (detail of the reference view) and of the lost field, and does not hide the
// place that the window magnifies.
func quietest(wide, window *light.Image, tone light.Tone, lost func(xDeg, yDeg float64) float64) corner {
	pic := image.Pt(wide.W/shrink, wide.H/shrink)
	inset := image.Pt(window.W/shrink, window.H/shrink)
	from := source(wide.Grid, window.Grid)
	best, least := corners[0], math.Inf(1)
	for _, c := range corners {
		at := c.place(pic, inset)
		score := busyness(wide, tone, lost, at)
		if at.Overlaps(from) {
			score += 1e6
		}
		if score < least {
			best, least = c, score
		}
	}
	return best
}

// busyness is the mean size of the steps between neighbours on the display,
// plus the weight of the field lost there.
func busyness(m *light.Image, tone light.Tone, lost func(xDeg, yDeg float64) float64, at image.Rectangle) float64 {
	var sum, n float64
	for j := at.Min.Y; j < at.Max.Y; j += 4 {
		for i := at.Min.X; i < at.Max.X; i += 4 {
			k := j*shrink*m.W + i*shrink
			sum += math.Abs(coded(tone, m.G[k])-coded(tone, m.G[k+1])) / usualStep
			if lost != nil {
				sum += lossWeight * lost(m.Centre(i*shrink, j*shrink)) / 10
			}
			n++
		}
	}
	return sum / n
}

// Visible reports whether two pictures of one grid differ for the eye once
// shown: see [Differ].
func Visible(a, b *light.Image, tone light.Tone) bool {
	return Differ(tone.Encode(a), tone.Encode(b), a.StepDeg)
}

// Differ reports whether two display pictures of one size, each sample stepDeg
// degrees wide, differ in their luma by more than 5 % of the display's range over
// at least 40 square minutes of arc. What the dither adds, 1/255, is far below.
func Differ(a, b *image.NRGBA, stepDeg float64) bool {
	const step, area = 0.05 * 255, 40
	count := 0
	for i := 0; i < len(a.Pix); i += 4 {
		if d := luma(a.Pix[i:]) - luma(b.Pix[i:]); d > step || d < -step {
			count++
		}
	}
	return float64(count)*math.Pow(unit.Degrees(stepDeg).Arcmin(), 2) >= area
}

// luma weights the coded primaries as linear light is weighted.
func luma(p []uint8) float32 {
	return light.WeightR*float32(p[0]) + light.WeightG*float32(p[1]) + light.WeightB*float32(p[2])
}

// coded is the display's signal, 0 to 1, for a luminance in cd/m².
func coded(tone light.Tone, l float32) float64 {
	return light.Encode(min(1, max(0, tone.Display(float64(l)))))
}
