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

	growthDeg  = 3.0  // degrees, standard deviation of the smoothing by which a border grows
	growthStep = 0.5  // degrees between the places where the growth is worked out
	fullDB     = 6.0  // loss from which a place counts fully as harmed
	leastDB    = 1.5  // smoothed harm, dB, below which a place stays; noise alone makes as much
	mostTimes  = 10.0 // times the mean change by which a place that counts fully deepens at most
)

// After returns the field that the same pattern becomes when its mean deviation
// falls by rate (dB per year, at most 0) for so many years, 0 to [MaxYears]:
//
//	loss' = min(loss + c u, normal),  u = smoothed min(loss, 6 dB) above 1.5 dB
//
// the smoothing reaches a few degrees within the same half of the field, and c is
// such that the mean loss over the tested area rises by -rate times years, unless
// a place would deepen by more than ten times that or little is left to lose;
// [Surface.Changed] then says how far it rose. A field without loss is an error, since it has no
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
	low, high := 0.0, mostTimes*want/(fullDB-leastDB)
	if got := s.gained(u, high); got < want-0.05 {
		out.changed += fmt.Sprintf(", of which %.1f of %.1f dB have a place in its pattern", got, want)
	} else {
		for range 40 {
			if mid := (low + high) / 2; s.gained(u, mid) < want {
				low = mid
			} else {
				high = mid
			}
		}
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
// own half of the field alone, towards the temple from both; from places a degree
// apart, half a degree off the midline.
func (s *Surface) harmNear(x, y float64) float64 {
	const reach = 2.5 * growthDeg
	across := smoothStep(x * temple(s.side) / mergeDeg) // what the other half counts
	sum, weight := 0.0, 0.0
	for v := math.Floor(y-reach) + 0.5; v <= y+reach; v++ {
		half := 1.0
		if v*y < 0 {
			half = across
		}
		for h := math.Floor(x - reach); h <= x+reach; h++ {
			if s.Tested(h, v) {
				w := half * math.Exp(-((h-x)*(h-x)+(v-y)*(v-y))/(2*growthDeg*growthDeg))
				sum += w * math.Min(s.read(s.loss, h, v, 0), fullDB)
				weight += w
			}
		}
	}
	return sum / math.Max(weight, 1e-9)
}
