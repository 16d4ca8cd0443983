//go:build !race

package fieldmask

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"simview/internal/unit"
)

func mustPosterior(t *testing.T, all []seen, extra [][2]float64) *posterior {
	t.Helper()
	e, err := newEvidence(all, extra)
	if err != nil {
		t.Fatal(err)
	}
	p, err := e.posterior()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A place may be read from the surface, or be one of the places worked out
// together: two routes to the same mean and variance.
func TestAPlaceReadOrWorkedOutTogetherIsTheSame(t *testing.T) {
	f := judged(t)[7]
	ten := patternField(t, "10-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -x/2 + y/3 - 7 })
	for name, all := range map[string][]seen{"24-2": seenOf(f, 60), "10-2": seenOf(ten, 60)} {
		extra := [][2]float64{{-12, 6.5}, {0, 0}, {7.5, -1.3}, {-20, -0.3}, {26, 8}}
		read, joint := mustPosterior(t, all, nil), mustPosterior(t, all, extra)
		form, err := read.spreadForm()
		if err != nil {
			t.Fatal(err)
		}
		vec := mat.NewVecDense(len(read.places), nil)
		at := len(joint.places) - len(extra)
		for i, e := range extra {
			a, b := learned.m0+read.carried(e[0], e[1], read.gain), joint.at[at+i]
			v, w := read.variance(form, e[0], e[1], vec), joint.s.At(at+i, at+i)
			const rounding = 1e-6 // of numbers up to the level of the kernel, 1000, in sums of a hundred terms
			if math.Abs(a-b) > rounding || math.Abs(v-w) > rounding*10 {
				t.Errorf("%s at %v: %v and %v dB, variance %v and %v", name, e, a, b, v, w)
			}
		}
	}
}

// The short way to leave a place out (from the inverse) and the long one.
func TestLeavingOutByTheInverseIsLeavingOut(t *testing.T) {
	all := seenOf(judged(t)[2], 60)
	e, err := newEvidence(all, nil)
	if err != nil {
		t.Fatal(err)
	}
	noise := e.ownNoise()
	est, se, err := e.leftOut(noise)
	if err != nil {
		t.Fatal(err)
	}
	room := make([]float64, len(all))
	for _, i := range []int{0, 20, 33, 51} {
		rest := append(append([]seen(nil), all[:i]...), all[i+1:]...)
		less := append(append([]float64(nil), noise[:i]...), noise[i+1:]...)
		f, err := newEvidence(rest, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := &posterior{ground: f.ground, all: rest}
		k, err := f.withNoise(less)
		if err != nil || p.finish(f, k, k) != nil {
			t.Fatal("no posterior", err)
		}
		u := e.index[i] // the places of 24-2 come first, in either
		lo, hi := neighbourRange(all, all[i].x, all[i].y, i, room)
		if want := within(p.at[u], lo, hi); math.Abs(est[i]-want) > 1e-8 { // rounding
			t.Errorf("place %d: %v dB, left out for real %v", i, est[i], want)
		}
		if want := math.Sqrt(p.s.At(u, u) + noise[i]); math.Abs(se[i]-want) > 1e-8 {
			t.Errorf("place %d: error %v dB, left out for real %v", i, se[i], want)
		}
	}
}

// At the places of 24-2 the prior is the learned table, whatever else is asked
// for with them.
func TestThePriorIsTheLearnedTable(t *testing.T) {
	e, err := newEvidence([]seen{{x: 3, y: 3, spacing: 6}}, [][2]float64{{1, 1}, {-5, 7}})
	if err != nil {
		t.Fatal(err)
	}
	for i := range places52 {
		if math.Abs(e.mean[i]-learned.mean[i]) > 1e-8 { // rounding
			t.Fatalf("mean %d is %v, the table says %v", i, e.mean[i], learned.mean[i])
		}
		for j := range places52 {
			if got := e.cov.At(i, j) - freeVar; math.Abs(got-learned.cov[min(i, j)][max(i, j)]) > 1e-6 {
				t.Fatalf("covariance %d, %d is %v, the table says %v", i, j, got, learned.cov[i][j])
			}
		}
	}
	if v := e.cov.At(places52, places52); !(v > freeVar && v < 300) {
		t.Errorf("variance %v between the places", v)
	}
}

func TestOddSetsOfPlacesGiveASurfaceOrASentence(t *testing.T) {
	line := func(n int, dx, dy float64) Field {
		f := Field{Side: unit.Left, Pattern: "free", Kind: TotalDeviation, Source: "odd"}
		for i := range n {
			f.Points = append(f.Points, Point{At: pt(1+float64(i)*dx, 1+float64(i)*dy), DB: -float64(i % 20), Line: i + 2})
		}
		return f
	}
	for name, f := range map[string]Field{
		"in a row": line(4, 3, 0), "in a column": line(6, 0, -2), "nearly one place": line(4, 1e-7, 0), "far out": line(4, 29, -29), "many": line(400, 0.05, 0.04),
	} {
		s, err := NewSurface(60, 0, f)
		if err != nil {
			if err != errTooClose {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		for x := -30.0; x < 90; x += 7 {
			if v := s.LossDB(x, 1); !(v >= 0 && v < 20) {
				t.Errorf("%s: %v dB at x = %v", name, v, x)
			}
		}
		if low, high := s.Interval(1, 1); !(high >= low) {
			t.Errorf("%s: interval %v to %v", name, low, high)
		}
	}
	if _, err := NewSurface(60, 0, line(1001, 0.05, 0.04)); err == nil || err.Error() != "field: 1001 places; at most 1000 can be drawn together" {
		t.Errorf("a thousand and one places: %v", err)
	}
}
