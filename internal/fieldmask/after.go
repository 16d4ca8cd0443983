package fieldmask

import (
	"fmt"
	"math"

	"simview/internal/light"
)

const (
	// MaxYears is the farthest that a field is carried into the future.
	MaxYears = 5.0
	// MaxRate is the fastest loss of mean deviation that is accepted, dB per
	// year; faster than nearly all of every published group.
	MaxRate = 6.0
	// AfterAssumption is printed beside every field of [Surface.After].
	AfterAssumption = "what is already harmed deepens most, its border grows by a few degrees, unharmed places far from it stay; an illustration of a rate of change in a group, not a forecast for this eye"

	growthDeg  = 3.0 // degrees, standard deviation of the smoothing by which a border grows
	growthStep = 0.5 // degrees between the places where the growth is worked out
	fullDB     = 6.0 // loss from which a place counts fully as harmed
	leastDB    = 0.5 // smoothed harm, dB, below which a place stays
)

// After returns the field that the same pattern becomes when its mean deviation
// falls by rate (dB per year, at most 0) for so many years, 0 to [MaxYears]:
//
//	loss' = min(loss + c u, normal),  u = smoothed min(loss, 6 dB) above 0.5 dB
//
// the smoothing reaches a few degrees within the same half of the field, and c is
// such that the mean loss over the tested area rises by -rate times years, or by
// what is left to lose. A field without loss is an error, since it has no
// pattern to deepen; so is a surface that was changed before.
func (s *Surface) After(years, rate float64) (*Surface, error) {
	switch {
	case !(years >= 0 && years <= MaxYears):
		return nil, fmt.Errorf("field: years must be 0 to %g (got %v)", MaxYears, years)
	case !(rate <= 0 && rate >= -MaxRate):
		return nil, fmt.Errorf("field: the rate of change must be -%g to 0 dB per year (got %v)", MaxRate, rate)
	case s.None():
		return nil, fmt.Errorf("field: a field without loss has no pattern that could deepen")
	case s.changed != "":
		return nil, fmt.Errorf("field: only a field as measured is carried on (this is the %s)", s.changed)
	}
	out := *s
	out.changed = fmt.Sprintf("field after %g years at %.2f dB per year", years, rate)
	u, want := s.growth(), -rate*years
	low, high := 0.0, 1.0
	for s.gained(u, high) < want && high < 1e4 {
		high *= 2
	}
	for range 40 {
		if mid := (low + high) / 2; s.gained(u, mid) < want {
			low = mid
		} else {
			high = mid
		}
	}
	if high < 1e-9 {
		high = 0
	}
	out.draw(func(q int) float64 { return float64(s.td[q]) - s.deeper(u, q, high) })
	return &out, nil
}

// deeper is what node q loses more, for a factor c, in dB.
func (s *Surface) deeper(u []float32, q int, c float64) float64 {
	left := float64(s.normal[q]) + float64(s.td[q]) // sensitivity
	above := math.Max(0, float64(s.td[q])+s.share)  // what a place must lose before it counts as loss
	if add := c * float64(u[q]); add > 0 {
		return math.Min(add+above, math.Max(left, 0))
	}
	return 0
}

// gained is the rise of the mean loss over the tested area for a factor c.
func (s *Surface) gained(u []float32, c float64) float64 {
	sum, n := 0.0, 0.0
	for q, out := range s.outside {
		if out > 0 {
			continue
		}
		n++
		td := float64(s.td[q])
		after := math.Max(0, -(td-s.deeper(u, q, c))-s.share)
		sum += after - math.Max(0, -td-s.share)
	}
	return sum / n
}

// growth returns u of [Surface.After] at every node.
func (s *Surface) growth() []float32 {
	n := 2*int(float64(s.half)*surfaceStep/growthStep) + 1
	m := mapOf{light.GridAround(0, 0, n, n, growthStep), make([]float32, n*n)}
	for q := range m.v {
		if x, y := m.Centre(q%n, q/n); s.beyond(x, y) <= fadedDeg {
			m.v[q] = float32(math.Max(0, s.harmNear(x, y)-leastDB))
		}
	}
	u := make([]float32, len(s.outside))
	for q := range u {
		u[q] = float32(m.value(s.node(q)))
	}
	return u
}

// harmNear is the smoothed harm about a direction, on the nose's side from its
// own half of the field alone.
func (s *Surface) harmNear(x, y float64) float64 {
	const reach, step = 2.5 * growthDeg, 1.0
	sum, weight := 0.0, 0.0
	for dy := -reach; dy <= reach; dy += step {
		for dx := -reach; dx <= reach; dx += step {
			nasal := x*temple(s.side) < 0
			if !s.Tested(x+dx, y+dy) || nasal && (y+dy)*y < 0 {
				continue
			}
			w := math.Exp(-(dx*dx + dy*dy) / (2 * growthDeg * growthDeg))
			sum += w * math.Min(s.read(s.loss, x+dx, y+dy, 0), fullDB)
			weight += w
		}
	}
	return sum / math.Max(weight, 1e-9)
}
