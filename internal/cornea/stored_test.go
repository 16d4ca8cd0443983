package cornea

import (
	"math"
	"testing"
)

// The stored map against the pattern it was drawn from, at places between the
// samples: in the middle of the zone height = k (pattern - mean), with k and the
// mean from a straight line through all places. A transposed or mirrored map,
// or one half a sample off, fails. Cubic convolution with five or more samples
// per feature is good to 2 % of the height's range of about 5 RMS.
func TestTheStoredMapIsThePatternAtEveryPlace(t *testing.T) {
	const tol = 0.02 * 5
	for _, kind := range Kinds() {
		q := Irregularity{RMSUM: 1, GrainMM: 0.4, CentreXMM: 1, CentreYMM: -2, ZoneRadiusMM: 2, Seed: 3, Kind: kind}
		s, err := NewSurface(q)
		if err != nil {
			t.Fatal(err)
		}
		draw := textureOf(q)
		var p, h []float64
		for i := range 40 {
			x, y := 1.2*math.Sin(float64(i)), 0.6*math.Cos(1.7*float64(i))
			one := make([]float64, 1)
			draw(one, x, s.step, y)
			p, h = append(p, one[0]), append(h, s.HeightUM(1+x, y-2))
		}
		k, mean := line(p, h)
		for i := range p {
			if d := math.Abs(h[i] - k*(p[i]-mean)); d > tol {
				t.Errorf("%s: height %g µm, pattern %g", kind, h[i], k*(p[i]-mean))
			}
		}
		if !(k > 0) {
			t.Errorf("%s: the map is the pattern upside down", kind)
		}
	}
}

// line returns k and m of the least-squares line h = k (p - m).
func line(p, h []float64) (k, m float64) {
	var n, sp, sh, spp, sph float64
	for i := range p {
		n, sp, sh, spp, sph = n+1, sp+p[i], sh+h[i], spp+p[i]*p[i], sph+p[i]*h[i]
	}
	k = (n*sph - sp*sh) / (n*spp - sp*sp)
	return k, sp/n - sh/n/k
}
