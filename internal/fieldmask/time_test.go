//go:build !race

package fieldmask

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"simview/internal/unit"
)

// meanLoss is the mean loss over the tested area, from places a degree apart.
func meanLoss(s interface{ LossDB(x, y float64) float64 }, tested *Surface) float64 {
	sum, n := 0.0, 0.0
	for x := -27.0; x <= 27; x++ {
		for y := -21.0; y <= 21; y++ {
			if tested.Tested(x, y) {
				sum, n = sum+s.LossDB(x, y), n+1
			}
		}
	}
	return sum / n
}

// hole is 16 dB lost within 7 degrees of (-12, 9), nothing elsewhere.
func hole(x, y float64) float64 {
	if math.Hypot(x+12, y-9) < 7 {
		return -16
	}
	return 0
}

func TestAFieldDeepensWhereItIsHarmed(t *testing.T) {
	f := patternField(t, "24-2", unit.Right, TotalDeviation, hole)
	f.Tests = 20
	s := mustSurface(t, f)
	later, err := s.After(5, -0.40)
	if err != nil {
		t.Fatal(err)
	}
	const coarse = 0.1 // dB: places a degree apart stand for the area
	if got := meanLoss(later, s) - meanLoss(s, s); math.Abs(got-2) > coarse {
		t.Errorf("the mean loss rose by %.2f dB, want 5 x 0.40", got)
	}
	deeper := func(x, y float64) float64 { return later.LossDB(x, y) - s.LossDB(x, y) }
	inside, border, far := deeper(-12, 9), deeper(-4, 9), deeper(15, 15)
	if !(inside > 1.5*border && border > 0.5 && far == 0) {
		t.Errorf("deeper by %.2f dB inside, %.2f at the border, %.2f far off; the border must grow and far places stay", inside, border, far)
	}
	if d := deeper(-12, -3); d > 0.2*inside {
		t.Errorf("the other half of the field lost %.2f dB across the nasal midline", d)
	}
	if s.Changed() != "" || !strings.Contains(later.Changed(), "after 5 years at -0.40 dB per year") {
		t.Errorf("the field says %q", later.Changed())
	}
}

func TestAPatternTooSmallForItsRateSaysSo(t *testing.T) {
	f := patternField(t, "24-2", unit.Right, TotalDeviation, hole)
	f.Tests = 20
	s := mustSurface(t, f)
	later, err := s.After(5, -2.63)
	if err != nil {
		t.Fatal(err)
	}
	var got, want float64
	words := later.Changed()
	i := strings.Index(words, "of which ")
	if i < 0 {
		t.Fatalf("13 dB of mean loss came from a tenth of the field: %q", words)
	}
	if _, err := fmt.Sscanf(words[i:], "of which %f of %f dB", &got, &want); err != nil {
		t.Fatal(words, err)
	}
	if rose := meanLoss(later, s) - meanLoss(s, s); math.Abs(rose-got) > 0.15 || want < 13.1 || want > 13.2 { // one decimal, and places a degree apart
		t.Errorf("%q, but the mean loss rose by %.2f dB", words, rose)
	}
}

func TestMoreYearsNeverGiveBackLoss(t *testing.T) {
	s := mustSurface(t, judged(t)[5])
	before := s
	for years := 1.0; years <= 5; years += 2 {
		later, err := s.After(years, -2.63)
		if err != nil {
			t.Fatal(err)
		}
		for x := -24.0; x <= 24; x += 3 {
			for y := -18.0; y <= 18; y += 3 {
				a, b, most := before.LossDB(x, y), later.LossDB(x, y), s.SensitivityDB(x, y)+s.LossDB(x, y)
				if b < a-1e-4 || s.Known(x, y) && b > most+0.01 && b > s.LossDB(x, y)+1e-4 {
					t.Fatalf("at (%v, %v): %v dB after %v years, %v before, %v to lose", x, y, b, years, a, most)
				}
			}
		}
		before = later
	}
	same, err := s.After(0, -1)
	if err != nil || !slices.Equal(same.loss, s.loss) {
		t.Errorf("no time changes nothing (error %v)", err)
	}
}

func TestTimeIsRefusedBeyondWhatIsKnown(t *testing.T) {
	s := mustSurface(t, patternField(t, "24-2", unit.Right, TotalDeviation, hole))
	whole := mustSurface(t, patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return 0 }))
	later, _ := s.After(1, -1)
	for want, f := range map[string]func() (*Surface, error){
		"field: years must be 0 to 5 (got 6)":                                                                                    func() (*Surface, error) { return s.After(6, -1) },
		"field: years must be 0 to 5 (got NaN)":                                                                                  func() (*Surface, error) { return s.After(math.NaN(), -1) },
		"field: the rate of change must be -6 to 0 dB per year (got 1)":                                                          func() (*Surface, error) { return s.After(1, 1) },
		"field: a field without loss has no pattern that could deepen":                                                           func() (*Surface, error) { return whole.After(1, -1) },
		"field: only a field as measured is carried on (this is the field after 1 years at -1.00 dB per year)":                   func() (*Surface, error) { return later.After(1, -1) },
		"field: equally likely fields are drawn from a field as measured (this is the field after 1 years at -1.00 dB per year)": func() (*Surface, error) { return later.Draw(1, 1) },
	} {
		if _, err := f(); err == nil || err.Error() != want {
			t.Errorf("error %v, want %s", err, want)
		}
	}
}

// The quantiles that the assumed distributions give, worked out with scipy from
// the numbers printed in the sources.
func TestRatesFollowFromThePrintedNumbers(t *testing.T) {
	z := []float64{0, 0.67449, 1.28155}
	lognormal := func(m, s, shift, z float64) float64 { return -(math.Exp(m+s*z) - shift) }
	for i, want := range []func(z float64) float64{
		func(z float64) float64 { return lognormal(math.Log(0.5406), 1.2763, 0.1406, z) }, // median -0.40, mean -1.08, IQR 1.05
		func(z float64) float64 { return lognormal(math.Log(0.62), math.Sqrt(2*math.Log(0.80/0.62)), 0, z) },
		func(z float64) float64 { return -0.05 - 0.95/1.7507*z }, // 4 % faster than -1
	} {
		g := RateGroups()[i]
		for k, got := range []float64{g.Median, g.FasterQuarter, g.FastestTenth} {
			if math.Abs(got-want(z[k])) > 6e-3 { // two decimals
				t.Errorf("%s: %v, want %.3f", g.Name, got, want(z[k]))
			}
		}
		if g.Source == "" || g.Assumed == "" {
			t.Errorf("%s: names no source", g.Name)
		}
	}
	// the shifted lognormal gives back what was printed
	m, s, shift := math.Log(0.5406), 1.2763, 0.1406
	mean := -(math.Exp(m+s*s/2) - shift)
	iqr := lognormal(m, s, shift, -0.67449) - lognormal(m, s, shift, 0.67449)
	if math.Abs(mean+1.08) > 0.01 || math.Abs(iqr-1.05) > 0.01 {
		t.Errorf("mean %.3f and interquartile range %.3f, printed -1.08 and 1.05", mean, iqr)
	}
}
