package cornea_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/cornea"
)

func film(t testing.TB, f cornea.Film) *cornea.TearFilm {
	t.Helper()
	out, err := cornea.NewTearFilm(f)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var dryish = cornea.Film{RMSUM: 0.4, GrainMM: 0.8, BreakupS: 8, Seed: 3}

// discRMS is read on a mesh of its own over the disc of the statement.
func discRMS(h func(x, y float64) float64) float64 {
	var sum, square, n float64
	for x := -cornea.FilmRadiusMM; x <= cornea.FilmRadiusMM; x += 0.037 {
		for y := -cornea.FilmRadiusMM; y <= cornea.FilmRadiusMM; y += 0.037 {
			if math.Hypot(x, y) <= cornea.FilmRadiusMM {
				v := h(x, y)
				sum, square, n = sum+v, square+v*v, n+1
			}
		}
	}
	return math.Sqrt(square/n - sum*sum/n/n)
}

// 0.03 of the largest: two patterns that are independent still share a few parts
// of a hundred of their strength by chance (some 30 grains across the disc give
// 1/30), and the lid's pattern rises a little out of the disc it was stated for.
func TestTheFilmIsAsUnevenAsItsCourseSays(t *testing.T) {
	const tol = 0.03
	f := film(t, dryish)
	for _, at := range []float64{0.01, 0.5, 1, 2, 4, 8, 12, 30} {
		got := discRMS(func(x, y float64) float64 { return f.HeightUM(x, y, at) })
		near(t, "RMS", got, dryish.RMSAtUM(at), tol*2*dryish.RMSUM)
	}
	near(t, "at breakup", dryish.RMSAtUM(dryish.BreakupS), dryish.RMSUM, 1e-6)
}

func TestTheFilmEvensOutAfterTheBlinkAndThenThinsUnevenly(t *testing.T) {
	best, at := math.Inf(1), 0.0
	for s := 0.1; s < 20; s += 0.1 {
		if r := dryish.RMSAtUM(s); r < best {
			best, at = r, s
		}
	}
	if at < 0.5 || at > 3 || best > 0.6*dryish.RMSAtUM(0.1) {
		t.Errorf("most even after %.1f s, %.3f µm; just after the blink %.3f", at, best, dryish.RMSAtUM(0.1))
	}
	if dryish.RMSAtUM(16) < 0.999*dryish.RMSAtUM(60) {
		t.Error("the film goes on thinning when there is none left")
	}
}

// A tenth of a second changes a height by far less than the unevenness itself:
// the steepest is a lid pattern that rises 1 mm/s, in which a grain of 0.8 mm
// has slopes of at most 2π/0.8 times its height.
func TestTheFilmChangesSmoothly(t *testing.T) {
	f := film(t, dryish)
	for at := 0.1; at < 20; at += 0.1 {
		d := math.Abs(f.HeightUM(0.3, -0.7, at+0.01) - f.HeightUM(0.3, -0.7, at))
		if d > 0.01*dryish.RMSUM*4*(1+2*math.Pi/0.8) {
			t.Errorf("after %.1f s: %g µm in a hundredth of a second", at, d)
		}
	}
}

func TestThePatternOfTheLidRisesAndThinPlacesStay(t *testing.T) {
	f := film(t, dryish)
	late := func(at, up float64) (c float64) { // correlation of the film at two times
		var aa, bb, ab float64
		for x := -2.5; x < 2.5; x += 0.1 {
			for y := -2.5; y < 2.5; y += 0.1 {
				a, b := f.HeightUM(x, y, at), f.HeightUM(x, y+up, 1.5*at)
				aa, bb, ab = aa+a*a, bb+b*b, ab+a*b
			}
		}
		return ab / math.Sqrt(aa*bb)
	}
	if c := late(8, 0); c < 0.99 {
		t.Errorf("8 and 12 s after the blink the film agrees by %.2f only", c)
	}
	// From 0.2 to 0.3 s it rises by exp(-0.2) - exp(-0.3) = 0.078 mm.
	if up, still, down := late(0.2, 0.078), late(0.2, 0), late(0.2, -0.078); up < 0.99 || still > up || down > still {
		t.Errorf("agreement when followed up %.3f, not followed %.3f, followed down %.3f", up, still, down)
	}
}

func TestAThickPlaceOfTheFilmDelaysTheLight(t *testing.T) {
	f := film(t, dryish)
	near(t, "path over height", f.PathUM(0.3, -0.7, 6)/f.HeightUM(0.3, -0.7, 6), -.336, 1e-12)
}

func TestAnotherSeedMakesAnotherFilm(t *testing.T) {
	other := dryish
	other.Seed++
	a, b := film(t, dryish), film(t, other)
	same := 0
	for i := range 50 {
		if x := 0.06 * float64(i); math.Abs(a.HeightUM(x, 0, 8)-b.HeightUM(x, 0, 8)) < 0.01 {
			same++
		}
	}
	if same > 10 || a.HeightUM(1, 1, 8) != film(t, dryish).HeightUM(1, 1, 8) {
		t.Errorf("%d of 50 heights are those of another seed", same)
	}
}

func TestImpossibleFilmsAreRefused(t *testing.T) {
	for want, change := range map[string]func(f *cornea.Film){
		"cornea: tear film uneven by 3 µm RMS: expected 0 to 2; the film itself is some 3 µm thick": func(f *cornea.Film) { f.RMSUM = 3 },
		"uneven by NaN":             func(f *cornea.Film) { f.RMSUM = math.NaN() },
		"breaks up after 0.5 s":     func(f *cornea.Film) { f.BreakupS = 0.5 },
		"breaks up after +Inf s":    func(f *cornea.Film) { f.BreakupS = math.Inf(1) },
		"grain of the tear film 0 ": func(f *cornea.Film) { f.GrainMM = 0 },
		"expected 0.15 to 4":        func(f *cornea.Film) { f.GrainMM = 5 },
	} {
		f := dryish
		change(&f)
		if _, err := cornea.NewTearFilm(f); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}
