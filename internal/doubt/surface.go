package doubt

import (
	"fmt"
	"math"
)

// reach is how many standard deviations of the measurement either side of it a
// [Surface] asks the model.
const reach = 2

// Surface stands in for a slow model: the model at what was measured, and for
// each input by itself at a value below and one above. Between them it is a
// parabola, beyond them it goes on straight; what two inputs do together is the
// sum of what each does. It is exact where it was asked.
type Surface struct {
	at     []float64
	centre []float64
	bends  [][]bend // [input][number]
}

// bend is a parabola through three places, kept as slope and curvature about the
// middle one.
type bend struct {
	low, high   float64 // distances of the outer places, low <= 0 <= high
	slope, bent float64
}

// Places returns the values of all inputs at which a surface asks the model: what
// was measured first, then below and above for each input in turn. A place that
// would lie beyond an end of the input lies on it.
func Places(inputs []Input) [][]float64 {
	at := make([]float64, len(inputs))
	for k, i := range inputs {
		at[k] = i.Measured
	}
	out := [][]float64{at}
	for k, i := range inputs {
		low, high := i.outer()
		for _, v := range []float64{low, high} {
			x := append([]float64(nil), at...)
			x[k] = v
			out = append(out, x)
		}
	}
	return out
}

// outer are the outer places of an input: two standard deviations either side,
// or further where the belief reaches further, within the ends.
func (i Input) outer() (low, high float64) {
	if i.SD == 0 {
		return i.Measured, i.Measured
	}
	end0, end1 := i.Prior.ends()
	b := i.Belief()
	low = max(end0, min(i.Measured-reach*i.SD, b.Mean-reach*b.SD))
	high = min(end1, max(i.Measured+reach*i.SD, b.Mean+reach*b.SD))
	return min(low, i.Measured), max(high, i.Measured)
}

// NewSurface lays a surface through the model's numbers at [Places], in that
// order. Errors: a count that does not fit, a number that is not finite.
func NewSurface(inputs []Input, numbers [][]float64) (*Surface, error) {
	places := Places(inputs)
	if len(numbers) != len(places) {
		return nil, fmt.Errorf("surface: asked at %d places, got numbers for %d", len(places), len(numbers))
	}
	s := &Surface{at: places[0], centre: numbers[0]}
	for k, y := range numbers {
		if len(y) != len(s.centre) {
			return nil, fmt.Errorf("surface: %d numbers at one place, %d at another", len(s.centre), len(y))
		}
		for _, v := range y {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, fmt.Errorf("surface: a number at place %d is not finite (got %g)", k+1, v)
			}
		}
	}
	for k := range inputs {
		var row []bend
		low, high := places[1+2*k][k]-s.at[k], places[2+2*k][k]-s.at[k]
		for m, c := range s.centre {
			row = append(row, through(low, numbers[1+2*k][m]-c, high, numbers[2+2*k][m]-c))
		}
		s.bends = append(s.bends, row)
	}
	return s, nil
}

// through is the parabola through (0, 0), (low, y0) and (high, y1); with one side
// missing it is a straight line, with both it is flat.
func through(low, y0, high, y1 float64) bend {
	b := bend{low: low, high: high}
	switch {
	case low == 0 && high == 0:
	case low == 0:
		b.slope = y1 / high
	case high == 0:
		b.slope = y0 / low
	default:
		b.bent = (y1/high - y0/low) / (high - low)
		b.slope = y1/high - b.bent*high
	}
	return b
}

func (b bend) at(d float64) float64 {
	switch {
	case d < b.low:
		return b.at(b.low) + (d-b.low)*(b.slope+2*b.bent*b.low)
	case d > b.high:
		return b.at(b.high) + (d-b.high)*(b.slope+2*b.bent*b.high)
	}
	return d * (b.slope + b.bent*d)
}

// At returns the numbers at values of the inputs.
func (s *Surface) At(x []float64) []float64 {
	out := append([]float64(nil), s.centre...)
	for k, row := range s.bends {
		d := x[k] - s.at[k]
		if d == 0 {
			continue
		}
		for m, b := range row {
			out[m] += b.at(d)
		}
	}
	return out
}
