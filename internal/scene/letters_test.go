package scene

import (
	"math"
	"testing"

	"simview/internal/light"
)

// Chart letters stand on a square of five strokes (ISO 8596 for the ring with a
// gap, ANSI Z80.21 for the ten letters; both from memory).

// curveTol is the error of the area of a ring in square strokes: circles are drawn
// with at most 720 chords, each missing (2 pi / 720)^2 / 6 of its area, 1.27e-5 of
// pi (2.5^2 - 1.5^2).
const curveTol = 1.7e-4

func outlineArea(polygons [][]pt) (sum float64) {
	for _, p := range polygons {
		a := 0.0
		for i, q := range p {
			n := p[(i+1)%len(p)]
			a += q.x*n.y - n.x*q.y
		}
		sum += math.Abs(a) / 2
	}
	return sum
}

func TestEveryLetterFillsASquareOfFiveStrokes(t *testing.T) {
	for _, r := range SloanLetters {
		polygons, err := letterOutline(r, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := pt{9, 9}, pt{-9, -9}
		for _, p := range polygons {
			for _, q := range p {
				lo, hi = pt{min(lo.x, q.x), min(lo.y, q.y)}, pt{max(hi.x, q.x), max(hi.y, q.y)}
			}
		}
		want := pt{5, 5}
		if r == 'C' { // its gap cuts the ring's right end: sqrt(2.5^2 - 0.5^2) from the middle
			want.x = 2.5 + math.Sqrt(6)
		}
		for _, e := range []float64{lo.x, lo.y, hi.x - want.x, hi.y - want.y} {
			if math.Abs(e) > 1e-3 {
				t.Errorf("%c reaches from %v to %v, want 0 to %v strokes", r, lo, hi, want)
				break
			}
		}
	}
}

// The ring of ISO 8596 has an outer diameter of five strokes, an inner one of
// three, and a gap one stroke wide with parallel sides:
//
//	A = pi (2.5^2 - 1.5^2) - integral of sqrt(2.5^2 - y^2) - sqrt(1.5^2 - y^2), |y| < 1/2
func TestTheCIsTheRingOfISO8596(t *testing.T) {
	gap, n := 0.0, 10_000
	for i := range n {
		y := (float64(i)+0.5)/float64(n) - 0.5
		gap += (math.Sqrt(6.25-y*y) - math.Sqrt(2.25-y*y)) / float64(n)
	}
	c, err := letterOutline('C', 1e-6)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := outlineArea(c), math.Pi*4-gap; math.Abs(got-want) > curveTol {
		t.Errorf("area %.6f square strokes, want %.6f", got, want)
	}
	o, err := letterOutline('O', 1e-6)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := outlineArea(o), math.Pi*4; math.Abs(got-want) > curveTol {
		t.Errorf("the O has %.6f square strokes, want %.6f", got, want)
	}
	// on the picture: the gap is one stroke, a fifth of the height
	s := mustParse(t, "  - letters: {letters: C, at: [0, 0], logmar: 0, cdm2: 0}\n")
	img := s.Draw(light.GridAround(1.9/60, 0, 1, 600, 0.005/60)) // a column of 3 minutes through the gap, inside the ring
	open := 0.0
	for _, v := range img.R {
		open += float64(v) / 100 * 0.005
	}
	if math.Abs(open-1) > 1e-3 {
		t.Errorf("the gap is %.4f minutes of arc wide at logMAR 0, want 1", open)
	}
}

func TestAStrokeIsAFifthOfTheHeightToAThousandthOfAMinute(t *testing.T) {
	const step = 0.01 // minutes of arc; a pixel at an edge holds its share
	for _, logMAR := range []float64{0, 0.3, 1} {
		want := math.Pow(10, logMAR)
		s := mustParse(t, "  - letters: {letters: H, at: [0, 0], logmar: "+plain(logMAR)+", cdm2: 0}\n")
		sum := func(img *light.Image) (v float64) {
			for _, l := range img.R {
				v += (1 - float64(l)/100) * step
			}
			return v
		}
		column := s.Draw(light.GridAround(-2*want/60, 0, 1, int(7*want/step), step/60))
		row := s.Draw(light.GridAround(0, 1.5*want/60, int(7*want/step), 1, step/60))
		bar := s.Draw(light.GridAround(0, 0, 1, int(7*want/step), step/60))
		// float32 keeps 1e-7 of each of at most 7000 samples
		for name, c := range map[string]struct{ got, want float64 }{
			"stem": {sum(column), 5 * want}, "two stems": {sum(row), 2 * want}, "bar": {sum(bar), want},
		} {
			if math.Abs(c.got-c.want) > 1e-3 {
				t.Errorf("logMAR %g: %s %.5f minutes of arc, want %.5f", logMAR, name, c.got, c.want)
			}
		}
	}
}

func TestPrintOnAPlaneHasItsSizeAtItsDistance(t *testing.T) {
	// an l and an x of 1.95 mm at 0.6 m: the x is atan(1.95/600) high
	s := mustParse(t, "  - group: {plane: {origin_m: [0, 0, 0.6]}, shapes: [{text: {lines: [x], at: [0, 0], x_height: 0.00195, cdm2: 0}}]}\n")
	const step = 0.02
	img := s.Draw(light.GridAround(0.1, 0.1, int(18/step), int(18/step), step/60))
	want := math.Atan(1.95/600) * 180 * 60 / math.Pi
	if got := float64(inkRows(img)) * step; math.Abs(got-want) > 3*step { // edges to a sample, and the font's own rounding
		t.Errorf("the x is %.3f minutes of arc high, want %.3f", got, want)
	}
}
