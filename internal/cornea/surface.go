package cornea

import (
	"fmt"
	"math"
)

// Surface is a map of heights, made once and then only read; it may be read
// from several goroutines.
type Surface struct {
	irr    Irregularity
	before float64   // refractive index on the observer's side
	behind float64   // and on the other
	step   float64   // mm per sample
	half   int       // samples run from -half to half, about the zone's centre
	height []float64 // µm, [y][x], y upwards
	scale  float64   // strength, 1 as described
}

// samplesPerGrain is how fine the stored grid is; the narrowest thing drawn, a
// ridge, is about a third of the grain wide and so has five samples.
const samplesPerGrain = 16

// softEdge is the share of the zone's radius over which the surface fades.
const softEdge = 0.3

// NewSurface makes the surface that q describes. Its root mean square over the
// zone, sample by sample about a mean of 0, is q.RMSUM exactly.
func NewSurface(q Irregularity) (*Surface, error) {
	if err := q.Check(); err != nil {
		return nil, err
	}
	step := min(q.GrainMM/samplesPerGrain, q.ZoneRadiusMM/40)
	half := int(math.Ceil(q.ZoneRadiusMM/step)) + 2
	s := &Surface{irr: q, before: 1, behind: CorneaIndex, step: step, half: half, scale: 1}
	s.height = make([]float64, s.side()*s.side())
	draw := textureOf(q)
	for row := range s.side() {
		draw(s.row(row), -float64(half)*step, step, float64(row-half)*step)
	}
	return s, s.shape()
}

// side returns the number of samples across.
func (s *Surface) side() int { return 2*s.half + 1 }

// row returns one row of heights, row 0 lowest.
func (s *Surface) row(i int) []float64 { return s.height[i*s.side() : (i+1)*s.side()] }

// radius returns the distance in mm of a sample from the zone's centre.
func (s *Surface) radius(i int) float64 {
	return s.step * math.Hypot(float64(i%s.side()-s.half), float64(i/s.side()-s.half))
}

// shape fades the raw pattern to the zone's edge, about the mean that leaves
// none, and gives it its strength.
//
//	h = k w (p - p̄),  p̄ = Σ w p / Σ w,  k so that √(mean of h² in the zone) = RMS
//
// A pattern of about 1 that is flat all over the zone is an error: a zone no
// wider than a grain can lie between two bumps.
func (s *Surface) shape() error {
	window := make([]float64, len(s.height))
	var sum, weight, square float64
	inside := 0
	for i, p := range s.height {
		window[i] = fade(s.radius(i) / s.irr.ZoneRadiusMM)
		sum, weight = sum+window[i]*p, weight+window[i]
		if s.radius(i) <= s.irr.ZoneRadiusMM {
			inside++
		}
	}
	for i := range s.height {
		s.height[i] = window[i] * (s.height[i] - sum/weight)
		square += s.height[i] * s.height[i]
	}
	raw := math.Sqrt(square / float64(inside))
	if raw < flatPattern {
		return fmt.Errorf("cornea: seed %d puts no %s into a zone of radius %g mm; choose another seed or a finer grain than %g mm", s.irr.Seed, s.irr.Kind, s.irr.ZoneRadiusMM, s.irr.GrainMM)
	}
	for i := range s.height {
		s.height[i] *= s.irr.RMSUM / raw
	}
	return nil
}

// flatPattern is the root mean square below which a pattern, made for about 1,
// counts as flat.
const flatPattern = 0.02

// fade is 1 up to 1 - softEdge, 0 from 1 on, and half a cosine between.
func fade(r float64) float64 {
	t := min(1, max(0, (r-(1-softEdge))/softEdge))
	return (1 + math.Cos(math.Pi*t)) / 2
}

// Irregularity returns the description the surface was made from, with the
// strength of [Surface.Times] in its RMSUM.
func (s *Surface) Irregularity() Irregularity {
	q := s.irr
	q.RMSUM *= math.Abs(s.scale)
	return q
}

// Times returns the same surface with heights multiplied by k; the samples are
// shared.
func (s *Surface) Times(k float64) *Surface {
	out := *s
	out.scale *= k
	return &out
}

// HeightUM returns the height at (xMM, yMM) in µm, positive towards the
// observer; 0 outside the zone.
func (s *Surface) HeightUM(xMM, yMM float64) float64 {
	fx := (xMM-s.irr.CentreXMM)/s.step + float64(s.half)
	fy := (yMM-s.irr.CentreYMM)/s.step + float64(s.half)
	last := float64(s.side() - 2)
	if !(fx >= 1 && fx < last && fy >= 1 && fy < last) {
		return 0
	}
	i, j := int(fx), int(fy)
	wx, wy := cubic(fx-float64(i)), cubic(fy-float64(j))
	sum := 0.0
	for b := range 4 {
		r := s.height[(j-1+b)*s.side()+i-1:]
		sum += wy[b] * (wx[0]*r[0] + wx[1]*r[1] + wx[2]*r[2] + wx[3]*r[3])
	}
	return s.scale * sum
}

// cubic returns the weights of the four samples about a place t between the
// middle two: cubic convolution with a = -1/2, which is exact for quadratics.
// Source: Keys, IEEE Trans ASSP 1981;29:1153 (from memory).
func cubic(t float64) [4]float64 {
	t2, t3 := t*t, t*t*t
	return [4]float64{
		(-t + 2*t2 - t3) / 2,
		(2 - 5*t2 + 3*t3) / 2,
		(t + 4*t2 - 3*t3) / 2,
		(-t2 + t3) / 2,
	}
}

// Between returns the same surface between two other media, by their indices on
// the observer's side and behind; [NewSurface] makes one between air and
// [CorneaIndex]. Indices outside 1 to 2 are an error.
func (s *Surface) Between(before, behind float64) (*Surface, error) {
	for _, n := range []float64{before, behind} {
		if !(n >= 1 && n <= 2) {
			return nil, fmt.Errorf("cornea: refractive index %v: expected 1 to 2, usually 1 (air) to %g", n, EpitheliumIndex)
		}
	}
	out := *s
	out.before, out.behind = before, behind
	return &out, nil
}

// PathUM returns the wavefront that the surface adds at (xMM, yMM), in µm.
//
//	W = -(n_behind - n_before) h,  usually -(1.376 - 1) h
func (s *Surface) PathUM(xMM, yMM float64) float64 {
	return -(s.behind - s.before) * s.HeightUM(xMM, yMM)
}
