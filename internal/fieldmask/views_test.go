//go:build !race

package fieldmask

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"simview/internal/unit"
)

// retested returns a field as one noisy test of it would come out.
func retested(f Field, rng *rand.Rand) Field {
	out := f
	out.Points = append([]Point(nil), f.Points...)
	for i, p := range f.Points {
		normal := float64(Normal(f.Side, p.At, 60))
		out.Points[i].DB = math.Max(p.DB+rng.NormFloat64()*RetestSD(normal+p.DB), -normal)
	}
	out.Tests = 1
	return out
}

// Real fields stand for the truth and are tested once more with the published
// retest noise: the surface must come nearer to the truth than the test itself,
// and its interval must hold 9 of 10.
func TestASurfaceIsNearerToTheTruthThanASingleTest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	raw, drawn, held, n := 0.0, 0.0, 0.0, 0.0
	for _, truth := range judged(t) {
		test := retested(truth, rng)
		e, err := newEvidence(seenOf(test, 60), nil)
		if err != nil {
			t.Fatal(err)
		}
		p, err := e.posterior()
		if err != nil {
			t.Fatal(err)
		}
		form, err := p.spreadForm()
		if err != nil {
			t.Fatal(err)
		}
		room, vec := make([]float64, len(p.all)), mat.NewVecDense(len(p.places), nil)
		for k, m := range p.all {
			want, got := truth.Points[k].DB, p.estimate(m.x, m.y, room)
			below, above := spreadAt(got)
			sd, pull := math.Sqrt(p.variance(form, m.x, m.y, vec)), p.carried(m.x, m.y, p.pull)
			below, above = below*sd-min(pull, 0), above*sd+max(pull, 0)
			raw += math.Pow(m.td-want, 2)
			drawn += math.Pow(got-want, 2)
			if want >= got-below && want <= got+above {
				held++
			}
			n++
		}
	}
	t.Logf("one test is off by %.2f dB, the surface by %.2f; the interval holds %.1f %%", math.Sqrt(raw/n), math.Sqrt(drawn/n), 100*held/n)
	if drawn > 0.64*raw { // a fifth less error than the test
		t.Errorf("the surface is off by %.2f dB, the test by %.2f", math.Sqrt(drawn/n), math.Sqrt(raw/n))
	}
	if s := held / n; s < 0.86 || s > 0.94 { // the truth here has noise of its own, which widens nothing
		t.Errorf("the interval holds %.1f %%", 100*s)
	}
}

// The formula of Henson2000 as quoted, evaluated by hand.
func TestRetestNoiseIsThePublishedFormula(t *testing.T) {
	for db, want := range map[float64]float64{33: 1.82, 30: 2.32, 25: 3.47, 20: 5.21, 18.25: 6, 10: 6, 0: 6, -2: 6} {
		if got := RetestSD(db); math.Abs(got-want) > 5.1e-3 { // the check values have two decimals
			t.Errorf("at %v dB: %.3f, want %.2f", db, got, want)
		}
	}
}

func TestEquallyLikelyFieldsSpreadAsTheSurfaceSays(t *testing.T) {
	var f Field
	for _, f = range judged(t) {
		if f.MeanDeviation() < -13 {
			break
		}
	}
	s := mustSurface(t, f)
	const views = 40
	type place struct{ x, y float64 }
	sum, sq, low, high := map[place]float64{}, map[place]float64{}, map[place]float64{}, map[place]float64{}
	var places []place
	for x := -18.0; x <= 18; x += 3 {
		for y := -13.5; y <= 15; y += 3 {
			if s.LossDB(x, y) > 8 { // well above 0, so that nothing is cut off
				places = append(places, place{x, y})
			}
		}
	}
	for k := range views {
		d, err := s.Draw(7, k)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range places {
			v := d.LossDB(p.x, p.y)
			if !(v >= 0) || math.IsInf(v, 0) {
				t.Fatalf("a drawn loss of %v", v)
			}
			sum[p] += v / views
			sq[p] += v * v / views
			lo, hi := s.Interval(p.x, p.y)
			if v < lo {
				low[p]++
			}
			if v > hi {
				high[p]++
			}
		}
	}
	var ratio, out float64
	for _, p := range places {
		ratio += math.Sqrt(sq[p]-sum[p]*sum[p]) / s.SD(p.x, p.y) / float64(len(places))
		out += (low[p] + high[p]) / views / float64(len(places))
	}
	t.Logf("%d places: spread %.2f of the SD, %.1f %% outside the interval", len(places), ratio, 100*out)
	if len(places) < 10 || ratio < 0.8 || ratio > 1.15 || out < 0.03 || out > 0.17 { // 40 views of some dozen correlated places; between drawn places the spread is a little small
		t.Errorf("%d places: spread %.2f of the SD, %.1f %% outside the interval, want 1 and 10 %%", len(places), ratio, 100*out)
	}
}

func TestTheSameSeedDrawsTheSameField(t *testing.T) {
	s := mustSurface(t, judged(t)[0])
	a, _ := s.Draw(7, 2)
	b, _ := s.Draw(7, 2)
	c, _ := s.Draw(7, 3)
	same, other := 0.0, 0.0
	for x := -20.0; x < 20; x += 2.5 {
		same += math.Abs(a.LossDB(x, 4) - b.LossDB(x, 4))
		other += math.Abs(a.LossDB(x, 4) - c.LossDB(x, 4))
	}
	if same != 0 || other == 0 {
		t.Errorf("same seed differs by %v dB, another number by %v", same, other)
	}
	if a.Changed() == "" || s.Changed() != "" {
		t.Error("a drawn field must say that it was drawn")
	}
	if _, err := a.Draw(1, 1); err == nil {
		t.Error("a drawn field was drawn again")
	}
	if !math.IsNaN(a.SD(3, 3)) {
		t.Error("a drawn field has no spread of its own")
	}
}

func TestTheSurfaceIsSurestWhereItWasTested(t *testing.T) {
	f := patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -6 })
	s := mustSurface(t, f)
	if at, between := s.SD(-9, 9), s.SD(-6, 6); !(at > 0.3 && at < between) {
		t.Errorf("SD %.2f dB at a tested place, %.2f between four", at, between)
	}
	if near, far := s.SD(9, 9), s.SD(9, 24); !(near < far) {
		t.Errorf("SD %.2f dB inside, %.2f at the edge", near, far)
	}
	if !math.IsNaN(s.SD(60, 0)) || s.Known(60, 0) || !s.Known(-9, 9) {
		t.Error("what was never tested is unknown")
	}
	deep := mustSurface(t, patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -18 }))
	if !(deep.SD(-6, 6) > 1.3*s.SD(-6, 6)) {
		t.Errorf("SD %.2f dB at -18 dB, %.2f at -6; deep loss is less sure", deep.SD(-6, 6), s.SD(-6, 6))
	}
}

func TestTheMapOfTheSurfaceHoldsWhatTheSurfaceSays(t *testing.T) {
	s := mustSurface(t, patternField(t, "24-2", unit.Left, TotalDeviation, upperLoss))
	var b strings.Builder
	if err := WriteMap(&b, s.Scaled(2), 3); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if lines[0] != "# left eye, x as-patient-sees" || len(lines) < 150 {
		t.Fatalf("%d lines, the first %q", len(lines), lines[0])
	}
	for _, l := range lines[2:] {
		var x, y, loss, sd, low, high float64
		var tested, atLeast int
		if n, err := fmt.Sscanf(l, "%f,%f,%f,%f,%f,%f,%d,%d", &x, &y, &loss, &sd, &low, &high, &tested, &atLeast); n != 8 {
			t.Fatal(l, err)
		}
		if math.Abs(loss-s.LossDB(x, y)) > 0.006 || !(sd > 0 && low <= high) || (tested == 1) != s.Tested(x, y) || (atLeast == 1) != s.AtLeast(x, y) { // two decimals
			t.Fatalf("%s: the surface says %v dB, tested %v", l, s.LossDB(x, y), s.Tested(x, y))
		}
	}
	if err := WriteMap(&b, s, 0.1); err == nil {
		t.Error("a step of 0.1 degrees was taken")
	}
	drawn, err := s.Draw(1, 1)
	if err != nil {
		t.Fatal(err)
	}
	if err := WriteMap(&b, drawn, 3); err == nil || !strings.Contains(err.Error(), "equally likely field 1 of seed 1") {
		t.Errorf("a drawn field has no map: %v", err)
	}
}
