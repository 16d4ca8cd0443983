package fieldmask

import (
	"fmt"
	"math"
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
	growthStep = 2   // nodes between the places where the growth is worked out
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
	n := 2*s.half + 1
	coarse := map[int]float64{} // at every second node each way
	for j := 0; j < n; j += growthStep {
		for i := 0; i < n; i += growthStep {
			if q := j*n + i; s.outside[q] <= fadedDeg {
				coarse[q] = s.harmNear(i, j)
			}
		}
	}
	u := make([]float32, n*n)
	for q := range u {
		i, j := q%n/growthStep*growthStep, q/n/growthStep*growthStep
		if j < s.half && q/n >= s.half {
			j = s.half
		}
		u[q] = float32(math.Max(0, coarse[j*n+i]-leastDB))
	}
	return u
}

// harmNear is the smoothed harm about a node, from its own half of the field on
// the nose's side.
func (s *Surface) harmNear(i, j int) float64 {
	n := 2*s.half + 1
	reach := int(2.5 * growthDeg / surfaceStep)
	sum, weight := 0.0, 0.0
	for dj := -reach; dj <= reach; dj += growthStep * 2 {
		for di := -reach; di <= reach; di += growthStep * 2 {
			x, y := i+di, j+dj
			if x < 0 || y < 0 || x >= n || y >= n || s.outside[y*n+x] > 0 {
				continue
			}
			px, _ := s.node(j*n + i)
			if px*temple(s.side) < 0 && (y-s.half)*(j-s.half) < 0 {
				continue
			}
			d := surfaceStep * math.Hypot(float64(di), float64(dj)) / growthDeg
			w := math.Exp(-d * d / 2)
			sum += w * math.Min(float64(s.loss[y*n+x]), fullDB)
			weight += w
		}
	}
	if weight == 0 {
		return 0
	}
	return sum / weight
}
