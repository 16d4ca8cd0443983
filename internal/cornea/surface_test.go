package cornea_test

import (
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"simview/internal/cornea"
)

// sample is a surface like that of an old scar.
func sample(k cornea.Kind) cornea.Irregularity {
	return cornea.Irregularity{RMSUM: 0.8, GrainMM: 0.5, CentreXMM: 1.2, CentreYMM: -0.4, ZoneRadiusMM: 2, Seed: 7, Kind: k}
}

func surface(t testing.TB, q cornea.Irregularity) *cornea.Surface {
	t.Helper()
	s, err := cornea.NewSurface(q)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", what, got, want, tol)
	}
}

// moments returns mean and root mean square of the height over the zone, read
// on a mesh that has nothing to do with the stored one.
func moments(s *cornea.Surface, q cornea.Irregularity, step float64) (mean, rms float64) {
	n := 0.0
	for x := -q.ZoneRadiusMM; x <= q.ZoneRadiusMM; x += step {
		for y := -q.ZoneRadiusMM; y <= q.ZoneRadiusMM; y += step {
			if math.Hypot(x, y) <= q.ZoneRadiusMM {
				h := s.HeightUM(q.CentreXMM+x, q.CentreYMM+y)
				mean, rms, n = mean+h, rms+h*h, n+1
			}
		}
	}
	return mean / n, math.Sqrt(rms / n)
}

func TestTheRMSOverTheZoneIsTheStatedOne(t *testing.T) {
	// Between samples, cubic convolution at 5 samples per feature loses up to
	// 2 % of the height.
	const tol = 0.02
	for _, k := range cornea.Kinds() {
		q := sample(k)
		mean, rms := moments(surface(t, q), q, 0.0137)
		near(t, string(k)+" RMS", rms, q.RMSUM, tol*q.RMSUM)
		near(t, string(k)+" mean", mean, 0, tol*q.RMSUM)
	}
}

func TestTheSameSeedGivesTheSameSurfaceAndAnotherSeedAnother(t *testing.T) {
	for _, k := range cornea.Kinds() {
		q := sample(k)
		a, b := surface(t, q), surface(t, q)
		q.Seed++
		c := surface(t, q)
		differ := 0
		for i := range 100 {
			x, y := 1.2+0.015*float64(i)-0.75, -0.4+0.009*float64(i)-0.4
			if a.HeightUM(x, y) != b.HeightUM(x, y) {
				t.Fatalf("%s: same seed, other height", k)
			}
			if math.Abs(a.HeightUM(x, y)-c.HeightUM(x, y)) > 0.01 {
				differ++
			}
		}
		if differ < 50 {
			t.Errorf("%s: only %d of 100 heights differ with another seed", k, differ)
		}
	}
}

func TestPropertyOutsideTheZoneThereIsNothingAndInsideNoJumps(t *testing.T) {
	for _, k := range cornea.Kinds() {
		q := sample(k)
		s := surface(t, q)
		rapid.Check(t, func(t *rapid.T) {
			x, y := rapid.Float64Range(-6, 6).Draw(t, "x"), rapid.Float64Range(-6, 6).Draw(t, "y")
			h := s.HeightUM(x, y)
			// The samples nearest the edge lie within a step of it.
			if math.Hypot(x-q.CentreXMM, y-q.CentreYMM) > q.ZoneRadiusMM+0.1 && h != 0 {
				t.Fatalf("%s: height %g at (%g, %g), outside", k, h, x, y)
			}
			// Height of at most 5 RMS over a tenth of the grain: 80 µm/mm.
			if d := math.Abs(s.HeightUM(x+1e-6, y) - h); d > 80e-6 {
				t.Fatalf("%s: a jump of %g µm at (%g, %g)", k, d, x, y)
			}
		})
	}
}

// spectrum returns the strength of the height's wave of kx, ky cycles per mm
// over a square in the middle of the zone, tapered to nothing at its rim.
func spectrum(s *cornea.Surface, q cornea.Irregularity, kx, ky float64) float64 {
	var sum complex128
	const n = 60
	half := q.ZoneRadiusMM * 0.5
	for i := range n {
		for j := range n {
			u, v := (float64(i)+0.5)/n*2-1, (float64(j)+0.5)/n*2-1
			w := math.Cos(u*math.Pi/2) * math.Cos(v*math.Pi/2)
			h := s.HeightUM(q.CentreXMM+u*half, q.CentreYMM+v*half)
			sum += complex(w*h, 0) * cmplx.Rect(1, 2*math.Pi*half*(kx*u+ky*v))
		}
	}
	return real(sum)*real(sum) + imag(sum)*imag(sum)
}

// ring returns the mean of the spectrum over all directions.
func ring(s *cornea.Surface, q cornea.Irregularity, k float64) float64 {
	sum := 0.0
	for a := range 24 {
		sin, cos := math.Sincos(math.Pi * float64(a) / 24)
		sum += spectrum(s, q, k*cos, k*sin)
	}
	return sum / 24
}

func TestTheGrainIsTheDistanceFromBumpToBump(t *testing.T) {
	for _, k := range []cornea.Kind{cornea.Grain, cornea.Fingerprint} {
		for _, grain := range []float64{0.2, 0.4} {
			q := sample(k)
			q.GrainMM = grain
			s := surface(t, q)
			at := ring(s, q, 1/grain)
			for _, far := range []float64{0.45, 2.2} {
				if other := ring(s, q, far/grain); other > 0.5*at {
					t.Errorf("%s, grain %g mm: power %.3g at the grain, %.3g at %g times its frequency", k, grain, at, other, far)
				}
			}
		}
	}
}

// A mound to every square of the grain. Mounds that lie across the rim of the
// counted disc, a fifth of the perimeter's count, may fall in or out.
func TestThereIsOneDotToEverySquareOfTheGrain(t *testing.T) {
	const tol = 0.2
	q := sample(cornea.Dots)
	q.GrainMM = 0.25
	s := surface(t, q)
	count, h, r := 0, 0.02, 0.65*q.ZoneRadiusMM
	for x := -r; x <= r; x += h {
		for y := -r; y <= r; y += h {
			if math.Hypot(x, y) <= r && highest(s, q.CentreXMM+x, q.CentreYMM+y, h) {
				count++
			}
		}
	}
	want := math.Pi * r * r / (q.GrainMM * q.GrainMM)
	near(t, "dots", float64(count), want, tol*want)
}

// highest reports whether no neighbour at distance h is as high.
func highest(s *cornea.Surface, x, y, h float64) bool {
	for i := -1.0; i <= 1; i++ {
		for j := -1.0; j <= 1; j++ {
			if (i != 0 || j != 0) && s.HeightUM(x+i*h, y+j*h) >= s.HeightUM(x, y) {
				return false
			}
		}
	}
	return true
}

// directions returns the power near the frequency f times that of the grain in
// each of six directions 30 degrees apart.
func directions(t *testing.T, q cornea.Irregularity, f float64) (power [6]float64) {
	s := surface(t, q)
	for a := range power {
		for b := range 4 {
			for _, near := range []float64{0.8, 1, 1.2} {
				sin, cos := math.Sincos(math.Pi * (float64(a) + float64(b)/4) / 6)
				k := near * f / q.GrainMM
				power[a] += spectrum(s, q, k*cos, k*sin)
			}
		}
	}
	return power
}

func TestRidgesRunOneWayAndGrainDoesNot(t *testing.T) {
	uneven := func(k cornea.Kind) float64 {
		q := sample(k)
		q.GrainMM = 0.25
		p := directions(t, q, 1)
		return slices.Max(p[:]) / slices.Min(p[:])
	}
	if r, g := uneven(cornea.Ridges), uneven(cornea.Grain); r < 3*g {
		t.Errorf("strongest over weakest direction: ridges %.3g, grain %.3g", r, g)
	}
}

func TestTheSeedChoosesWhichWayRidgesRunAndTheGrainHowClose(t *testing.T) {
	strongest := map[int]bool{}
	at, half := 0.0, 0.0
	for seed := range uint64(8) {
		q := sample(cornea.Ridges)
		q.GrainMM, q.Seed = 0.25, seed
		p, wide := directions(t, q, 1), directions(t, q, 0.5)
		best := slices.Max(p[:])
		strongest[slices.Index(p[:], best)] = true
		at, half = at+best, half+slices.Max(wide[:])
	}
	if len(strongest) < 3 {
		t.Errorf("eight seeds gave only %d of six directions", len(strongest))
	}
	if half > at {
		t.Errorf("power across the ridges: %.3g at the grain, %.3g at twice its width", at, half)
	}
}

func TestStrengthMultipliesTheHeights(t *testing.T) {
	s := surface(t, sample(cornea.Grain))
	near(t, "twice", s.Times(2).HeightUM(1, 0), 2*s.HeightUM(1, 0), 1e-12)
	near(t, "strength 0", s.Times(0).PathUM(1, 0), 0, 0)
	near(t, "stated RMS", s.Times(3).Irregularity().RMSUM, 2.4, 1e-12)
}

func TestASurfaceWithoutStrengthIsFlat(t *testing.T) {
	q := sample(cornea.Dots)
	q.RMSUM = 0
	near(t, "height", surface(t, q).HeightUM(1.2, -0.4), 0, 0)
}

// At the ends of what is taken, too, every height is a number: of 12 seeds with
// one grain to the zone a few may be refused, because the zone lies between two
// bumps, and say so.
func TestNoSurfaceHasAHeightThatIsNoNumber(t *testing.T) {
	refused := 0
	for _, k := range cornea.Kinds() {
		for seed := range uint64(12) {
			q := cornea.Irregularity{Kind: k, RMSUM: 1, GrainMM: 0.1, ZoneRadiusMM: 0.1, Seed: seed}
			s, err := cornea.NewSurface(q)
			if err != nil {
				if want := "puts no " + string(k) + " into a zone of radius 0.1 mm; choose another seed or a finer grain than 0.1 mm"; !strings.Contains(err.Error(), want) {
					t.Errorf("says %v", err)
				}
				refused++
				continue
			}
			_, rms := moments(s, q, 0.005)
			// One grain across: reading between samples loses up to a tenth.
			near(t, string(k)+" RMS", rms, 1, 0.1)
		}
		q := cornea.Irregularity{Kind: k, RMSUM: 1, GrainMM: 0.1, ZoneRadiusMM: 4, Seed: 1}
		if h := surface(t, q).HeightUM(1, -2); math.IsNaN(h) || math.IsInf(h, 0) {
			t.Errorf("%s: height %g", k, h)
		}
	}
	if refused > 5 {
		t.Errorf("%d of 48 refused", refused)
	}
}

func TestImpossibleSurfacesAreRefused(t *testing.T) {
	nan := math.NaN()
	for want, change := range map[string]func(q *cornea.Irregularity){
		"zone radius":                   func(q *cornea.Irregularity) { q.ZoneRadiusMM = nan },
		"zone":                          func(q *cornea.Irregularity) { q.ZoneRadiusMM = 0 },
		"grain":                         func(q *cornea.Irregularity) { q.GrainMM = 0.01 },
		"grain 3":                       func(q *cornea.Irregularity) { q.GrainMM = 3 },
		"mean square":                   func(q *cornea.Irregularity) { q.RMSUM = -1 },
		"square":                        func(q *cornea.Irregularity) { q.RMSUM = math.Inf(1) },
		"centre":                        func(q *cornea.Irregularity) { q.CentreXMM = nan },
		"grain ridges dots fingerprint": func(q *cornea.Irregularity) { q.Kind = "bumps" },
	} {
		q := sample(cornea.Grain)
		change(&q)
		if _, err := cornea.NewSurface(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got error %v, want one that says %q", err, want)
		}
	}
}
