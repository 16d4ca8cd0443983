//go:build !race

package fieldmask

import (
	"math"
	"os"
	"slices"
	"testing"
)

// judged are the fields that the surface did not learn from (rows 741 to 1480)
// with a mean deviation of -5 to -20 dB.
func judged(t testing.TB) []Field {
	fields, _ := judgedAtAges(t)
	return fields
}

// judgedAtAges are the same with their ages in years.
func judgedAtAges(t testing.TB) (fields []Field, ages []float64) {
	t.Helper()
	age, all := realFields(t, 1480)
	for i, f := range all[740:] {
		if md := f.MeanDeviation(); md >= -20 && md <= -5 {
			f.Tests = seriesTests
			fields, ages = append(fields, f), append(ages, age[740+i])
		}
	}
	if len(fields) < 200 {
		t.Fatalf("only %d fields to judge by", len(fields))
	}
	return fields, ages
}

// seriesTests is what the open fields are worth: intercepts of a regression over
// a series, taken as the mean of ten tests (chosen on rows 1 to 740).
const seriesTests = 10

// tally gathers errors.
type tally struct{ sum, held, n float64 }

func (a *tally) add(p Prediction) {
	a.sum += (p.Point.DB - p.DB) * (p.Point.DB - p.DB)
	if p.Point.DB >= p.Low && p.Point.DB <= p.High {
		a.held++
	}
	a.n++
}

func (a tally) rms() float64   { return math.Sqrt(a.sum / a.n) }
func (a tally) share() float64 { return a.held / a.n }

// Outside the project: the fields of an open data set that the covariance was
// not learned from. 3.5 and 4.0 dB were reached by best linear prediction on
// the same halves; a stationary kernel reaches 3.6 and 4.2.
func TestAMeasuredPlaceLeftOutIsPredictedFromTheOthers(t *testing.T) {
	var all, near tally
	var byLevel [4]tally
	fields, ages := judgedAtAges(t)
	for i, f := range fields {
		pred, err := f.LeaveOneOut(ages[i])
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pred {
			all.add(p)
			if math.Abs(float64(p.Point.At.Y)) < 4 {
				near.add(p)
			}
			byLevel[min(int(math.Max(-p.DB, 0)/6), 3)].add(p)
		}
	}
	t.Logf("%.0f places: %.2f dB, %.2f near the midline, %.1f %% held", all.n, all.rms(), near.rms(), 100*all.share())
	// testdata/fields/learn_prior.py works out the same with numpy, from
	// tables that are not yet rounded to what is embedded
	if math.Abs(all.rms()-3.387) > 0.001 || math.Abs(near.rms()-3.839) > 0.001 || math.Abs(all.share()-0.9099) > 0.0005 {
		t.Errorf("%.4f and %.4f dB, %.4f held; numpy gives 3.387, 3.839 and 0.9099", all.rms(), near.rms(), all.share())
	}
	if all.rms() > 3.5 || near.rms() > 4.0 {
		t.Errorf("off by %.2f dB, near the midline %.2f; at most 3.5 and 4.0", all.rms(), near.rms())
	}
	if s := all.share(); s < 0.87 || s > 0.93 {
		t.Errorf("the 90 %% interval holds %.1f %%", 100*s)
	}
	for i, a := range byLevel { // three standard deviations of a share over some hundred independent places, and the difference of the two halves
		t.Logf("estimate -%d dB and worse: %.0f places, %.1f %% held", 6*i, a.n, 100*a.share())
		if s := a.share(); s < 0.83 || s > 0.97 {
			t.Errorf("estimates about -%d dB: the 90 %% interval holds %.1f %%", 6*i+3, 100*s)
		}
	}
}

// The long way, through what is drawn: a field without the place, and the
// surface of the rest read where it was.
func TestThePlaceIsPredictedByASurfaceThatNeverSawIt(t *testing.T) {
	var all, near tally
	fields, ages := judgedAtAges(t)
	places, eyes := 7, 6 // every seventh place of every sixth field
	if os.Getenv("SIMVIEW_LONG") != "" {
		places, eyes = 1, 1
	}
	for i := 0; i < len(fields); i += eyes {
		full := seenOf(fields[i], ages[i])
		for k := i / eyes % places; k < len(full); k += places {
			rest := slices.Delete(slices.Clone(full), k, k+1)
			p, m := mustPosterior(t, rest, nil), full[k]
			got := p.estimate(m.x, m.y, make([]float64, len(rest)))
			pred := Prediction{Point: fields[i].Points[k], DB: got}
			all.add(pred)
			if math.Abs(m.y) < 4 {
				near.add(pred)
			}
		}
	}
	t.Logf("%.0f places: %.2f dB, %.2f near the midline", all.n, all.rms(), near.rms())
	most, mostNear := 3.5, 4.0
	if eyes > 1 {
		most, mostNear = 3.8, 4.6 // three standard errors of a root mean square over some hundred places of 47 eyes
	}
	if all.rms() > most || near.rms() > mostNear {
		t.Errorf("off by %.2f dB, near the midline %.2f; at most %v and %v", all.rms(), near.rms(), most, mostNear)
	}
}
