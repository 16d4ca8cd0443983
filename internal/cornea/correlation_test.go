package cornea_test

import (
	"math"
	"testing"

	"simview/internal/cornea"
)

// correlation returns the mean product of heights r mm apart, over that of a
// height with itself, in the middle of the zone and over all directions.
func correlation(s *cornea.Surface, q cornea.Irregularity, r float64) float64 {
	var with, self float64
	const step = 0.05
	for x := -0.5 * q.ZoneRadiusMM; x <= 0.5*q.ZoneRadiusMM; x += step {
		for y := -0.5 * q.ZoneRadiusMM; y <= 0.5*q.ZoneRadiusMM; y += step {
			sin, cos := math.Sincos(40 * (x + 1.7*y))
			h := s.HeightUM(q.CentreXMM+x, q.CentreYMM+y)
			with += h * s.HeightUM(q.CentreXMM+x+r*cos, q.CentreYMM+y+r*sin)
			self += h * h
		}
	}
	return with / self
}

// seeded makes n surfaces that differ in their seed only, 0 to n - 1.
func seeded(t *testing.T, q cornea.Irregularity, n int) []*cornea.Surface {
	t.Helper()
	all := make([]*cornea.Surface, n)
	for i := range all {
		q.Seed = uint64(i)
		all[i] = surface(t, q)
	}
	return all
}

// meanCorrelation is that of several surfaces of one kind.
func meanCorrelation(all []*cornea.Surface, q cornea.Irregularity, r float64) (c float64) {
	for _, s := range all {
		c += correlation(s, q, r) / float64(len(all))
	}
	return c
}

// Waves in all directions with periods from g/1.4 to 1.4 g, evenly in their
// logarithm, have the correlation
//
//	C(r) = mean over the periods p of J0(2π r / p)
//
// (Bessel's function as the mean of plane waves over direction: any textbook).
// 0.1: 64 waves a surface, eight surfaces, leave 0.03 to 0.05 of chance.
func TestTheAutocorrelationOfGrainIsThatOfItsPeriods(t *testing.T) {
	const tol, grain = 0.1, 0.25
	q := sample(cornea.Grain)
	q.GrainMM = grain
	all := seeded(t, q, 8)
	for _, lag := range []float64{0.15, 0.25, 0.38, 0.5, 0.75, 1.1, 1.5} {
		got, want := meanCorrelation(all, q, lag*grain), 0.0
		for i := range 100 {
			want += math.J0(2*math.Pi*lag/math.Pow(1.4, 2*(float64(i)+.5)/100-1)) / 100
		}
		near(t, "correlation", got, want, tol)
	}
}

// Lines a grain apart repeat: at right angles to them the correlation has its
// first maximum at one grain; over all directions it is J0 again, with its
// first maximum at 7.016 / 2π = 1.12 grains and its first minimum at 3.832 / 2π
// = 0.61 (zeros of J1). Bending the lines moves these by less than a tenth.
func TestFingerprintLinesAreAGrainApart(t *testing.T) {
	const grain = 0.25
	q := sample(cornea.Fingerprint)
	q.GrainMM = grain
	all := seeded(t, q, 6)
	curve := func(lag float64) float64 { return meanCorrelation(all, q, lag*grain) }
	least, lowAt, most, highAt := 1.0, 0.0, -1.0, 0.0
	for lag := 0.4; lag < 0.85; lag += 0.05 {
		if c := curve(lag); c < least {
			least, lowAt = c, lag
		}
	}
	for lag := 0.85; lag < 1.45; lag += 0.05 {
		if c := curve(lag); c > most {
			most, highAt = c, lag
		}
	}
	near(t, "first minimum", lowAt, 0.61, 0.06)
	near(t, "first maximum", highAt, 1.12, 0.11)
	if !(most > 0.1 && least < -0.2) {
		t.Errorf("the lines do not repeat: correlation %.2f, then %.2f", least, most)
	}
}

// No two dots merge: from the top of each, the nearest other top is at least
// 0.65 grains away (0.6 where the slope of a neighbour shifts a top).
func TestDotsStandApart(t *testing.T) {
	q := sample(cornea.Dots)
	q.GrainMM = 0.25
	s := surface(t, q)
	var tops [][2]float64
	const h = 0.01
	for x := -1.2; x <= 1.2; x += h {
		for y := -1.2; y <= 1.2; y += h {
			if px, py := q.CentreXMM+x, q.CentreYMM+y; s.HeightUM(px, py) > 0 && highest(s, px, py, h) {
				tops = append(tops, [2]float64{x, y})
			}
		}
	}
	for i, a := range tops {
		for _, b := range tops[:i] {
			if d := math.Hypot(a[0]-b[0], a[1]-b[1]); d < 0.6*q.GrainMM {
				t.Errorf("tops %.3f mm apart at (%.2f, %.2f)", d, a[0], a[1])
			}
		}
	}
}

// The zone fades: half of the height is left where the window is a half, at 85 %
// of the radius, and nothing at its edge. Taken over many seeds, as root mean
// square in narrow rings against the middle; 0.08 is what a handful of bumps in
// a ring leave to chance.
func TestTheEdgeOfTheZoneIsSoft(t *testing.T) {
	for _, k := range cornea.Kinds() {
		q := sample(k)
		q.GrainMM = 0.25
		all := seeded(t, q, 8)
		ring := func(at float64) float64 {
			sum, n := 0.0, 0.0
			for _, s := range all {
				for a := range 180 {
					sin, cos := math.Sincos(2 * math.Pi * float64(a) / 180)
					for _, d := range []float64{-0.02, -.01, 0, .01, 0.02} {
						r := (at + d) * q.ZoneRadiusMM
						h := s.HeightUM(q.CentreXMM+r*cos, q.CentreYMM+r*sin)
						sum, n = sum+h*h, n+1
					}
				}
			}
			return math.Sqrt(sum / n)
		}
		whole := (ring(0.45) + ring(0.55) + ring(0.65)) / 3
		near(t, string(k)+" at 85 %", ring(0.85)/whole, 0.5, 0.08)
		if r := ring(0.97) / whole; r > 0.06 {
			t.Errorf("%s: %.2f of the height is left at the edge", k, r)
		}
	}
}
