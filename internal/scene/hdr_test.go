package scene

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"

	"simview/internal/light"
)

// ramp is a picture from 1e-3 to 1e4 cd/m² with colours that change slowly.
func ramp(w, h int) *light.Image {
	m := light.NewImage(light.Grid{W: w, H: h, StepDeg: 1})
	for i := range m.R {
		x, y := float64(i%w)/float64(w), float64(i/w)/float64(h)
		l := math.Pow(10, -3+7*x)
		m.R[i], m.G[i], m.B[i] = float32(l*(1+0.3*y)), float32(l), float32(l*(1.2-0.4*y))
	}
	return m
}

func storedRamp(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WritePicture(&b, ramp(w, h)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestAStoredPictureKeepsLuminanceToHalfAPercentAndColour(t *testing.T) {
	want := ramp(120, 80)
	got, err := readPicture(storedRamp(t, 120, 80))
	if err != nil {
		t.Fatal(err)
	}
	const (
		halfStep = 0.005 // (1.01 - 1) / 2, and 1e-5 for what it is rounded from
		// Shares of about 1/3 are kept in steps of 1/255; the errors of two of
		// them meet in green and through it in the luminance. Two samples each
		// way have one colour: the ramp's changes by 0.3/80 a row.
		colour = 3*0.5*3/shareSteps + halfStep + 0.3/80
	)
	lg, lw := got.Luminance(nil), want.Luminance(nil)
	for i := range lg {
		if e := math.Abs(float64(lg[i]/lw[i]) - 1); e > halfStep+1e-5 {
			t.Fatalf("sample %d: %g cd/m², stored from %g: off by %.2f %%", i, lg[i], lw[i], 100*e)
		}
		for c, p := range got.Planes() {
			if e := math.Abs(float64(p[i]/want.Planes()[c][i]) - 1); e > colour {
				t.Fatalf("sample %d primary %d off by %.2f %%", i, c, 100*e)
			}
		}
	}
}

func TestWhatCannotBeStoredIsRefused(t *testing.T) {
	odd := light.NewImage(light.Grid{W: 3, H: 2, StepDeg: 1})
	bright := ramp(4, 4)
	bright.G[3] = 1e9
	dark := ramp(4, 4)
	dark.R[2] = -1
	for want, m := range map[string]*light.Image{"even": odd, "too bright": bright, "from zero up": dark} {
		if err := WritePicture(&bytes.Buffer{}, m); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v", want, err)
		}
	}
}

const pictureScene = `title: a
good_for: b
distance_m: 1
width_deg: 12
height_deg: 8
adapt_cdm2: 1
surround_cdm2: 1
pupil: bright
window: {width_deg: 1, height_deg: 1}
shapes:
  - picture: {file: a.png, at: [-6, -4], size: [12, 8]}
`

func pictured(text string, data []byte) (*Scene, error) {
	return ParseWith("a.yaml", []byte(text), Pictures{Open: func(string) ([]byte, error) { return data, nil }})
}

func TestAPictureKeepsItsLightAtAnyStep(t *testing.T) {
	s, err := pictured(pictureScene, storedRamp(t, 120, 80))
	if err != nil {
		t.Fatal(err)
	}
	stored, _ := readPicture(storedRamp(t, 120, 80))
	whole := 0.0
	for _, v := range stored.Luminance(nil) {
		whole += float64(v) / float64(stored.Len())
	}
	for _, step := range []float64{0.01, 0.07, 0.1, 0.25, 1, 4} {
		m := s.Draw(light.GridAround(0, 0, int(12/step+0.5), int(8/step+0.5), step))
		sum := 0.0
		for _, v := range m.Luminance(nil) {
			sum += float64(v) * step * step / 12 / 8
		}
		// The picture goes on as a straight line between samples and is
		// mirrored at its rim; the grid of 0.07 misses a strip of 0.03 degrees
		// at the bright side, which holds 3.5 % of the light.
		tol := 1e-3
		if step == 0.07 {
			tol = 0.04
		}
		if math.Abs(sum/whole-1) > tol {
			t.Errorf("step %g: mean %g cd/m², want %g", step, sum, whole)
		}
	}
}

func TestAPictureIsBrightOnItsRightAndRowsRunDown(t *testing.T) {
	s, err := pictured(pictureScene, storedRamp(t, 120, 80))
	if err != nil {
		t.Fatal(err)
	}
	m := s.Draw(s.Grid(0.1))
	if l, r := m.G[0], m.G[m.W-1]; r < 1000*l {
		t.Errorf("left %g, right %g", l, r)
	}
	top, bottom := m.R[60]/m.G[60], m.R[(m.H-1)*m.W+60]/m.G[(m.H-1)*m.W+60]
	if !(top < bottom) { // red grows down the rows of the ramp
		t.Errorf("red over green %g above, %g below", top, bottom)
	}
}

func TestAPictureThatCannotBeUsedNamesItsLine(t *testing.T) {
	sound := storedRamp(t, 120, 80)
	var photo bytes.Buffer
	if err := png.Encode(&photo, image.NewRGBA(image.Rect(0, 0, 12, 12))); err != nil {
		t.Fatal(err)
	}
	in := func(old, to string) string { return strings.Replace(pictureScene, old, to, 1) }
	for _, c := range []struct {
		text, want string
		data       []byte
	}{
		{pictureScene, "not a stored picture", photo.Bytes()},
		{pictureScene, "not a PNG", []byte("P6")},
		{pictureScene, "broken", sound[:len(sound)/2]},
		{in("12, 8]", "12, 9]"), "do not have the shape", sound},
		{in("12, 8]", "12, 8.002]"), "do not have the shape", sound}, // two and a half samples in ten thousand
		{in("a.png", "../a.png"), "plain name", sound},
		{in("12, 8]", "12, 0]"), "above 0", sound},
		{in("- picture: {file: a.png, at: [-6, -4], size: [12, 8]}", "- group: {shapes: [{picture: {file: a.png, size: [12, 8]}}]}"), "only among", sound},
	} {
		_, err := pictured(c.text, c.data)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "a.yaml:11:") {
			t.Errorf("want %q at line 11, got %v", c.want, err)
		}
	}
	if _, err := Parse("a.yaml", []byte(pictureScene)); err == nil || !strings.Contains(err.Error(), "no folder") {
		t.Errorf("got %v", err)
	}
}
