package figure_test

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"

	"simview/internal/figure"
)

func drawn(t *testing.T, write func(*bytes.Buffer) error) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// inked is the mean column of the pixels in the colour of values.
func inked(m image.Image) (mean float64, n int) {
	for y := m.Bounds().Min.Y; y < m.Bounds().Max.Y; y++ {
		for x := m.Bounds().Min.X; x < m.Bounds().Max.X; x++ {
			r, g, b, _ := m.At(x, y).RGBA()
			if r>>8 == 0x0b && g>>8 == 0x4f && b>>8 == 0x6c {
				mean += float64(x)
				n++
			}
		}
	}
	return mean / float64(n), n
}

// TestMoreLiesFurtherRight: of two pictures with one axis the larger value is
// drawn further right; a third row keeps the axis.
func TestMoreLiesFurtherRight(t *testing.T) {
	at := func(v float64) float64 {
		b := figure.Bars{Title: "t", Unit: "u", Rows: []figure.Bar{{Name: "a", Value: v, Low: v, High: v, WideLow: -2, WideHigh: 2}}}
		x, n := inked(drawn(t, func(w *bytes.Buffer) error { return b.Write(w) }))
		if n == 0 {
			t.Fatal("nothing is drawn")
		}
		return x
	}
	a, b, c := at(-1), at(0), at(1)
	if !(a < b && b < c) || math.Abs((c-b)-(b-a)) > 2 { // pixels
		t.Errorf("-1, 0 and 1 lie at columns %.0f, %.0f, %.0f", a, b, c)
	}
}

func TestCurvesAreDrawnWhereTheyCanBe(t *testing.T) {
	l := figure.Lines{Title: "t", LogX: true, LogY: true, Curves: []figure.Line{{Name: "a", X: []float64{1, 2, 4, 8}, Y: []float64{100, 50, 10, 0}}}}
	if m := drawn(t, func(w *bytes.Buffer) error { return l.Write(w) }); m.Bounds().Dx() < 300 {
		t.Errorf("%v", m.Bounds())
	}
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	var b bytes.Buffer
	for want, err := range map[string]error{
		"nothing to draw":          figure.Bars{}.Write(&b),
		"must be finite":           figure.Bars{Rows: []figure.Bar{{Value: math.NaN()}}}.Write(&b),
		"there is nothing":         figure.Lines{}.Write(&b),
		"2 places and 1 values":    figure.Lines{Curves: []figure.Line{{X: []float64{1, 2}, Y: []float64{1}}}}.Write(&b),
		"figure \"x\": there is n": figure.Lines{Title: "x", LogY: true, Curves: []figure.Line{{X: []float64{1, 2}, Y: []float64{0, -1}}}}.Write(&b),
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}
