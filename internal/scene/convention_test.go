package scene

import (
	"math"
	"testing"

	"simview/internal/light"
)

// at returns the light of the pixel that holds a direction.
func at(img *light.Image, x, y float64) float64 {
	i, j := img.Pixel(x, y)
	return float64(img.R[int(math.Round(j))*img.W+int(math.Round(i))])
}

func TestRightIsPlusXAndUpIsPlusY(t *testing.T) {
	s := mustParse(t, "  - rect: {at: [2, 1], size: [1, 1], cdm2: 0}\n")
	img := s.Draw(s.Grid(0.1))
	if at(img, 2.45, 1.45) != 0 || at(img, -2.45, 1.45) != 100 || at(img, 2.45, -1.45) != 100 {
		t.Error("a shape at (+2.5, +1.5) is not drawn to the right and up")
	}
	if img.R[(8*10/2-15)*100+74] != 0 {
		t.Error("rows do not run down: y = +1.5 is not above the middle row")
	}
}

func TestLettersAreNotMirrored(t *testing.T) {
	// The stem of the K is on its left, the arms of it on its right; the Z goes
	// up to the right; the gap of the C is on the right.
	s := mustParse(t, "  - letters: {letters: KZC, at: [0, 0], logmar: 1, cdm2: 0}\n")
	img := s.Draw(s.Grid(0.01))
	h := LetterArcmin(1) / 60
	box := func(k int, u, v float64) float64 { // letter k, place on its 5 x 5 box
		return at(img, (-2.5+2*float64(k)+u/5)*h, (v/5-0.5)*h)
	}
	for _, c := range []struct {
		what string
		got  float64
		want float64
	}{
		{"K stem", box(0, 0.5, 4.5), 0},
		{"K right of its arms", box(0, 4.5, 2.5), 100},
		{"Z upper part of its diagonal", box(1, 3.5, 3.5), 0},
		{"Z below it on the right", box(1, 4.2, 2), 100},
		{"C gap", box(2, 4.5, 2.5), 100},
		{"C opposite", box(2, 0.5, 2.5), 0},
	} {
		if math.Abs(c.got-c.want) > 1 {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
}

func TestTextReadsFromLeftToRightAndLinesRunDown(t *testing.T) {
	s := mustParse(t, `  - text: {lines: ["L", "."], at: [0, 0], x_height: 1, cdm2: 0}`+"\n")
	img := s.Draw(s.Grid(0.02))
	upper, lower := 0.0, 0.0
	for j := range img.H {
		for i := range img.W {
			if v := 100 - float64(img.R[j*img.W+i]); j < img.H/2 {
				upper += v
			} else {
				lower += v
			}
		}
	}
	if !(upper > lower && lower > 0) {
		t.Error("the second line does not lie under the first")
	}
	if at(img, 0.25, 1.2) != 0 || at(img, 0.9, 1.2) != 100 {
		t.Error("the stem of the L is not on its left")
	}
}

func TestAPlaneIsSeenFromTheEye(t *testing.T) {
	// Level ground 1.5 m below the eye: a point 15 m ahead and 3 m to the right
	// lies atan(3/15) right and atan(1.5/15) down to first order.
	q := seen(xyz{3, -1.5, 15})
	r := math.Atan(math.Hypot(0.2, 0.1)) * 180 / math.Pi
	if math.Abs(math.Hypot(q.x, q.y)-r) > 1e-12 || math.Abs(q.y/q.x+0.5) > 1e-12 || q.x < 0 {
		t.Errorf("(3, -1.5, 15) m is seen at (%g, %g)", q.x, q.y)
	}
	s := mustParse(t, "  - group: {plane: {origin_m: [0, -1.5, 0], up: [0, 0, 1]}, shapes: [{rect: {at: [0.5, 20], size: [2, 10], cdm2: 0}}]}\n")
	img := s.Draw(s.Grid(0.02))
	if at(img, 2.4, -3.6) != 0 || at(img, -2.4, -3.6) != 100 || at(img, 2.4, 3.6) != 100 {
		t.Error("ground to the right is not drawn to the right and down")
	}
}

func TestTheNightFlagMeansTheDimPupil(t *testing.T) {
	if mustParse(t, "  - rect: {at: [0, 0], size: [1, 1], cdm2: 1}\n").Night {
		t.Error("pupil: bright must not be a night scene")
	}
}
