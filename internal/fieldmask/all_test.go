//go:build !race

package fieldmask

import (
	"math"
	"slices"
	"testing"

	"simview/internal/unit"
)

// Every field of the open data set goes through the estimate behind the surface,
// and every fortieth through the drawn surface: finite, between the neighbours'
// measurements, apart at the nasal midline, without step elsewhere, and its
// spread finite and positive.
func TestAllRealFieldsGiveASoundSurface(t *testing.T) {
	ages, fields := realFields(t, 1480)
	every := 1
	if testing.Short() {
		every = 10
	}
	for i := 0; i < len(fields); i += every {
		f := fields[i]
		f.Side = unit.Side(i % 2) // half of them as if they were left eyes
		if f.Side == unit.Left {
			for k := range f.Points {
				f.Points[k].At.X *= -1
			}
		}
		e, err := newEvidence(seenOf(f, ages[i]), nil)
		if err != nil {
			t.Fatalf("eye %d: %v", i, err)
		}
		p, err := e.posterior()
		if err != nil {
			t.Fatalf("eye %d: %v", i, err)
		}
		soundEstimate(t, i, p)
		if i%(10*every) == 0 {
			apartAtTheNose(t, i, p)
		}
		if i%(40*every) == 0 {
			s := mustSurface(t, f)
			soundSurface(t, i, s)
		}
	}
}

// soundEstimate looks at one estimate, x to the temple.
func soundEstimate(t *testing.T, eye int, p *posterior) {
	t.Helper()
	room, inside := make([]float64, len(p.all)), newHull(p.all)
	for x := -25.0; x <= 21; x += 5.1 {
		for y := -17.0; y <= 17; y += 4.9 {
			if inside.distance(x, y) > 0 {
				continue
			}
			v := p.estimate(x, y, room)
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, s := range p.all {
				same := s.y*y > 0 || x > 0
				if same && math.Hypot(s.x-x, s.y-y) < 15 { // two and a half spacings
					lo, hi = min(lo, s.td), max(hi, s.td)
				}
			}
			if !(v >= lo-1e-9 && v <= hi+1e-9) {
				t.Fatalf("eye %d at (%.1f, %.1f): %v dB outside %v to %v", eye, x, y, v, lo, hi)
			}
		}
	}
}

// apartAtTheNose makes one half of a field 10 dB worse: two degrees above the
// nasal midline the estimate follows the upper half and not the lower.
func apartAtTheNose(t *testing.T, eye int, p *posterior) {
	t.Helper()
	room := make([]float64, len(p.all))
	worse := func(sign float64) *posterior {
		all := slices.Clone(p.all)
		for i := range all {
			if all[i].y*sign > 0 {
				all[i].td -= 10
			}
		}
		e, err := newEvidence(all, nil)
		if err != nil {
			t.Fatal(err)
		}
		out, err := e.posterior()
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	own, other := worse(1), worse(-1)
	for _, x := range []float64{-21, -15, -9, -3} {
		was := p.estimate(x, 2, room)
		follows, crosses := was-own.estimate(x, 2, room), was-other.estimate(x, 2, room)
		if follows < 6.5 || math.Abs(crosses) > 2 { // of 10; the rest is the general level of the eye
			t.Fatalf("eye %d at (%v, 2): 10 dB more in its own half add %.1f dB, in the other half %.1f", eye, x, follows, crosses)
		}
	}
}

// soundSurface looks at one surface as it is drawn.
func soundSurface(t *testing.T, eye int, s *Surface) {
	t.Helper()
	nose := -temple(s.side)
	for x := -26.0; x <= 26; x += 2 {
		for _, y := range []float64{-14, -5, 5, 14} {
			v, step := s.LossDB(x, y), math.Abs(s.LossDB(x, y)-s.LossDB(x+surfaceStep, y))
			if !(v >= 0 && v <= MaxDB) || step > 2*spanDB/(fadeSpacings*6)*surfaceStep {
				t.Fatalf("eye %d at (%v, %v): %v dB, a step of %v", eye, x, y, v, step)
			}
		}
	}
	if v := s.SD(14*nose, 7); !(v > 0.1 && v < 10) {
		t.Fatalf("eye %d: a standard deviation of %v dB", eye, v)
	}
	if low, high := s.Interval(9, 9); !(low >= 0 && high >= low && s.LossDB(9, 9) >= low-1e-3 && s.LossDB(9, 9) <= high+1e-3) {
		t.Fatalf("eye %d: loss %v outside its interval %v to %v", eye, s.LossDB(9, 9), low, high)
	}
}
