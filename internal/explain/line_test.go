package explain

import (
	"math"
	"testing"

	"simview/internal/cause"
	"simview/internal/doubt"
)

// TestOneCauseIsAsUnsureAsItsMeasurement: with one cause there are two states, which
// hold no bend, but the noise of the refraction still moves what is read.
func TestOneCauseIsAsUnsureAsItsMeasurement(t *testing.T) {
	f := surrogate(t, parsed(t, pupils, natural, leftover))
	l := f.lines[Letters]
	// 1 line of letters for 0.1 to 0.5 of log10 of the ratio: slopes of published sets,
	// -0.3 to -0.6 (from memory), wide enough for a cylinder alone.
	if l.slope > -0.1 || l.slope < -1 || l.bend != 0 {
		t.Errorf("line %+v", l)
	}
	x := f.measuredValues()
	base := f.effective(x)
	x[1] -= 0.25 // a stronger cylinder
	if more := f.headlines(f.at(x, base)[Letters])[0] - f.headlines(f.full[Letters])[0]; more < 0.02 {
		t.Errorf("a cylinder of 0.25 D more costs %v", more)
	}
}

// TestStatesThatAreAlikeTakeTheUsualLine: a field that is whole where the eye reads
// changes no letter, but it may be less whole than measured. A tenth of the ratio costs
// 1/2.98 logMAR (Ravikumar2011).
func TestStatesThatAreAlikeTakeTheUsualLine(t *testing.T) {
	f := &fast{}
	x, h := []float64{-0.5, -0.5, -0.49}, []float64{0.1, 0.1, 0.1}
	if got := f.fit(Letters, x, h).rise(0, -1); math.Abs(got-1/2.98) > 1e-12 {
		t.Errorf("letters %v", got)
	}
	if got := f.fit(Contrast, x, h).rise(0, -1); got != 1 {
		t.Errorf("contrast %v", got)
	}
}

// TestALossOfTenDecibelsTakesATenthOfTheContrast in the fast number: a decibel of
// perimetry is a tenth of a log unit (its definition, common practice), and only sets with the
// field lose it.
func TestALossOfTenDecibelsTakesATenthOfTheContrast(t *testing.T) {
	still, err := doubt.NewSurface(nil, [][]float64{{-0.5}})
	if err != nil {
		t.Fatal(err)
	}
	f := &fast{
		g: &engine{ids: []cause.ID{cause.Field}}, places: []place{{0, suited}, {1, suited}}, keyOf: []int{0, 0},
		in: []input{{reach: reading}}, surface: still,
	}
	const rounding = 1e-12
	if got := f.effective([]float64{10}); math.Abs(got[0]+0.5) > rounding || math.Abs(got[1]+1.5) > rounding {
		t.Errorf("%v, want -0.5 and one log unit less", got)
	}
}
