package scenes

import (
	"fmt"
	"math"
	"testing"

	"simview/internal/light"
	"simview/internal/scene"
)

// patch returns the least and the greatest luminance of a part of a scene.
func patch(s *scene.Scene, x, y, width, height, stepArcmin float64) (lo, hi float64) {
	step := stepArcmin / 60
	lo = math.Inf(1)
	for _, v := range s.Draw(light.GridAround(x, y, int(width/step), int(height/step), step)).Luminance(nil) {
		lo, hi = min(lo, float64(v)), max(hi, float64(v))
	}
	return lo, hi
}

// weber is the contrast of a dark letter on its card: (L_card - L_letter) / L_card.
func weber(letter, card float64) float64 { return (card - letter) / card }

// roundTol is the error of contrast from luminance kept in float32.
const roundTol = 1e-6

func TestFaintLettersHaveTheContrastOfTheirCard(t *testing.T) {
	s := get(t, "letters-faint")
	for _, c := range []struct{ x, y, want float64 }{{-2.36, 2.1, 0.25}, {2.36, 2.1, 0.10}, {-2.36, -2.12, 0.05}, {2.36, -2.12, 0.025}} {
		// the first row, 0.4176 degrees high, from 1.70 above the card's middle down
		lo, hi := patch(s, c.x, c.y+1.70-0.2088, 3.9, 0.4, 0.5)
		if got := weber(lo, hi); math.Abs(got-c.want) > roundTol {
			t.Errorf("card at (%g, %g): contrast %g, want %g", c.x, c.y, got, c.want)
		}
	}
}

func TestFadingLettersFallByThreeTwentiethsOfALogUnit(t *testing.T) {
	s := get(t, "letters-fading")
	for k := 1; k <= 16; k++ {
		x, y := -8.88+5.92*float64((k-1)%4), 5.5-3.45*float64((k-1)/4)
		lo, hi := patch(s, x, y, 4.4, 1.2, 1)
		if got, want := -math.Log10(weber(lo, hi)), 0.15*float64(k); math.Abs(got-want) > 1e-3 { // the file gives four decimals of 119.5
			t.Errorf("triplet %d: contrast 10^-%.4f, want 10^-%.2f", k, got, want)
		}
	}
}

// inked returns the height of the rows of a patch that hold ink, in minutes of arc.
func inked(s *scene.Scene, x, y, width, height, card float64) float64 {
	const step = 0.1 // minutes of arc
	img := s.Draw(light.GridAround(x, y, int(width*60/step), int(height*60/step), step/60))
	rows := 0
	for j := range img.H {
		for _, v := range img.G[j*img.W : (j+1)*img.W] {
			if float64(v) < card*(1-1e-5) {
				rows++
				break
			}
		}
	}
	return float64(rows) * step
}

// Letters of logMAR a are 5 x 10^a minutes of arc high (ISO 8596, ANSI Z80.21,
// from memory). Rows are counted in tenths of a minute, each end may add one.
func TestRowsOfFaintLettersHaveTheirSizes(t *testing.T) {
	s := get(t, "letters-faint")
	y := 2.1 + 1.70
	for i := range 8 {
		want := 5 * math.Pow(10, 0.7-0.1*float64(i))
		h := want / 60
		if got := inked(s, -2.36, y-h/2, 1.5*h, h*1.5, 160); math.Abs(got-want) > 0.2 {
			t.Errorf("row %d: %.2f minutes of arc, want %.2f", i, got, want)
		}
		y -= h + h/math.Pow(10, 0.1)
	}
	fading := get(t, "letters-fading")
	if got := inked(fading, -8.88, 5.5, 1.5, 1.6, 120); math.Abs(got-75) > 0.2 {
		t.Errorf("fading letters: %.2f minutes of arc, want 75", got)
	}
	// 1.25 degrees at 1 m
	if mm := 2 * math.Tan(75.0/2/60*math.Pi/180) * fading.DistanceM * 1000; math.Abs(mm-21.8) > 0.05 {
		t.Errorf("that is %.2f mm, the file says 21.8", mm)
	}
}

// runs counts how often a line of luminances falls below the middle of 4 and
// 120 cd/m².
func runs(v []float32) (n int) {
	for i := range v {
		if v[i] < 62 && v[(i+len(v)-1)%len(v)] >= 62 {
			n++
		}
	}
	return n
}

func TestTheStarHas36PairsAllTheWayIn(t *testing.T) {
	s := get(t, "targets")
	for _, r := range []float64{3.0, 1.0, 0.3} {
		img := s.Draw(light.GridAround(-4.3, 0.55, 820, 820, r/400))
		round := make([]float32, 3600)
		for i := range round {
			a := 2 * math.Pi * float64(i) / float64(len(round))
			x, y := img.Pixel(-4.3+r*math.Cos(a), 0.55+r*math.Sin(a))
			round[i] = img.G[int(y+0.5)*img.W+int(x+0.5)]
		}
		if n := runs(round); n != 36 {
			t.Errorf("at %g degrees from its middle the star has %d dark sectors, want 36", r, n)
		}
	}
}

func TestBarsHaveTheirCyclesPerDegree(t *testing.T) {
	s := get(t, "targets")
	for i, f := range []float64{3, 6, 12, 24} {
		x := -1.35 + 1.25*float64(i)
		n := math.Floor(0.9*f + 0.5)
		upright := s.Draw(light.GridAround(x+n/f/2, -2.6, int(n/f*7200+0.5), 1, 1.0/7200)).Luminance(nil)
		level := s.Draw(light.GridAround(x+0.45, -4.35+n/f/2, 1, int(n/f*7200+0.5), 1.0/7200)).Luminance(nil)
		for name, v := range map[string][]float32{"upright": upright, "level": level} {
			mean := 0.0
			for _, l := range v {
				mean += float64(l) / float64(len(v))
			}
			// half dark, half light: the mean of 4 and 120; both ends are found to a sample
			if got := runs(v); float64(got) != n || math.Abs(mean-62) > 1 {
				t.Errorf("%s bars of %g: %d of them over %.3f degrees with mean %.2f cd/m²", name, f, got, n/f, mean)
			}
		}
	}
}

func TestTheSpokesOfTheFanLieAtTheirAngles(t *testing.T) {
	s := get(t, "targets")
	img := s.Draw(light.GridAround(3.15, 2.55, 1000, 1000, 1.0/360))
	for d := 0; d < 360; d += 15 {
		for _, c := range []struct{ off, want float64 }{{0, 4}, {7.5, 120}} {
			a := (float64(d) + c.off) * math.Pi / 180
			x, y := img.Pixel(3.15+1.3*math.Cos(a), 2.55+1.3*math.Sin(a))
			if got := float64(img.G[int(y+0.5)*img.W+int(x+0.5)]); math.Abs(got-c.want) > 1e-3 {
				t.Errorf("fan at %g degrees: %g cd/m², want %g", float64(d)+c.off, got, c.want)
			}
		}
	}
}

func TestTheScreenShinesAndItsPrintHasThePrintedSize(t *testing.T) {
	s := get(t, "screen-mail")
	if white := near(s, 13, -4); math.Abs(white-250) > 1e-3 {
		t.Errorf("white %g cd/m², want 250", white)
	}
	// small x of 1.95 mm at 0.6 m
	if x := math.Atan(0.00195/s.DistanceM) * 180 * 60 / math.Pi; fmt.Sprintf("%.0f", x) != "11" {
		t.Errorf("the print is %.2f minutes of arc high, the file says 11", x)
	}
}

func TestAFairDayIsAsBrightAsOne(t *testing.T) {
	mean := func(s *scene.Scene, x, y, size float64) float64 {
		sum, img := 0.0, s.Draw(light.GridAround(x, y, 60, 60, size/60))
		for _, v := range img.Luminance(nil) {
			sum += float64(v) / float64(img.Len())
		}
		return sum
	}
	// Sky by day has some 2000 to 8000 cd/m², ground and leaves a few hundred to
	// some thousand (common handbook values, from memory).
	for _, c := range []struct {
		id, what     string
		x, y, lo, hi float64
	}{
		{"street-day", "sky", 4, 8, 2000, 8000},
		{"street-day", "road in the sun", 1, -5, 500, 1500},
		{"street-day", "road in the shade", -4, -5.4, 200, 700},
		{"fence", "sky", 8, 8, 2000, 8000},
		{"fence", "meadow and slats", 6, -2, 300, 1500},
	} {
		if got := mean(get(t, c.id), c.x, c.y, 2); got < c.lo || got > c.hi {
			t.Errorf("%s: %s has %.0f cd/m², want %g to %g", c.id, c.what, got, c.lo, c.hi)
		}
	}
}
