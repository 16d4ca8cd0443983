//go:build !race

package render

import (
	"image"
	"slices"
	"strings"
	"testing"

	"simview/internal/csf"
	"simview/internal/fieldmask"
	"simview/internal/light"
)

// lookAs is a stage of print-like waves seen through a field of 20 dB below.
func lookAs(t *testing.T, n Nerve, lossDB float64) (View, Picture) {
	t.Helper()
	st := drawn(t, paperScene(t, ""), light.GridAround(0, 0, 200, 160, 3*arcmin), waves(2, 0.4))
	v := View{Eye: state(3, nil), Manner: Manner{Nerve: n}}
	if lossDB > 0 {
		v.Eye.Field, v.Eye.FieldK = damagedBelow(t, lossDB), 1
	}
	pic, _, err := (&Theatre{Scene: st.Scene, Wide: st}).Look(v, spread(t, v.Eye))
	if err != nil {
		t.Fatal(err)
	}
	return v, pic
}

func TestNormalPeripheryTakesAwayWithoutAnyLossAndIsSaid(t *testing.T) {
	n := Nerve{NormalPeriphery: true}
	v, pic := lookAs(t, n, 0)
	if slices.Equal(pic.Seen.G, pic.Retina.G) {
		t.Error("nothing was taken away")
	}
	notes, err := v.Manner.Notes(v.Eye)
	if err != nil || !strings.Contains(strings.Join(notes, "; "), "normal periphery") {
		t.Errorf("notes %v, %v", notes, err)
	}
	if _, plain := lookAs(t, Nerve{}, 0); !slices.Equal(plain.Seen.G, plain.Retina.G) {
		t.Error("without it a full field must change nothing")
	}
}

func TestEveryWayToDrawALossIsSaidWithItsEvidence(t *testing.T) {
	for _, a := range fieldmask.Appearances() {
		if w := (Nerve{Appearance: a}).Words(); !strings.Contains(w, a.String()) || !strings.Contains(w, a.Evidence()) {
			t.Errorf("%s: %s", a.Key(), w)
		}
	}
	if w := (Nerve{Outline: true}).Words(); !strings.Contains(w, "where 6 dB or more are lost") {
		t.Errorf("the outline is not explained: %s", w)
	}
	if w := (Nerve{Model: csf.Barten{}}).Words(); !strings.Contains(w, "Barten 1999") {
		t.Errorf("the model is not named: %s", w)
	}
}

func TestTheOutlineRunsAlongTheBorderOfTheLossAndHatchesTheDeepPart(t *testing.T) {
	v, pic := lookAs(t, Nerve{Outline: true}, 25)
	tone := light.Tone{Name: "linear", WhiteCdM2: 200}
	was, now := tone.Encode(pic.Seen), tone.Encode(pic.Seen)
	v.DrawOutline(now, pic.Seen.Grid)
	changed := func(x, y float64) bool { return near3(was, now, pic.Seen.Grid, x, y) }
	loss := v.Eye.Loss()
	edge := 0.0 // where the loss reaches 6 dB on the way down
	for ; loss(0, edge) < 6; edge -= 0.01 {
		if edge < -4 {
			t.Fatal("no border")
		}
	}
	if !changed(0, edge) {
		t.Errorf("no line at the border, y = %.2f", edge)
	}
	if changed(0, edge+1) {
		t.Error("something was drawn above the border")
	}
	if !v.Eye.Field.AtLeast(0, -3.5) {
		t.Fatal("25 dB lost must be of unknown depth")
	}
	if slices.Equal(rowsOf(was, 150), rowsOf(now, 150)) { // y = -3.5
		t.Error("the deep part is not hatched")
	}
	v.Eye.Field = nil
	again := tone.Encode(pic.Seen)
	v.DrawOutline(again, pic.Seen.Grid)
	if !slices.Equal(again.Pix, was.Pix) {
		t.Error("without loss a line was drawn")
	}
}

// near3 reports whether two pictures differ within three pixels of a place.
func near3(a, b *image.NRGBA, g light.Grid, x, y float64) bool {
	u, v := g.Pixel(x, y)
	for j := int(v) - 3; j <= int(v)+3; j++ {
		for i := int(u) - 3; i <= int(u)+3; i++ {
			if a.NRGBAAt(i, j) != b.NRGBAAt(i, j) {
				return true
			}
		}
	}
	return false
}

func rowsOf(m *image.NRGBA, j int) []uint8 { return m.Pix[j*m.Stride : (j+2)*m.Stride] }
