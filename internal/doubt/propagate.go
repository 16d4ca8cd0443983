package doubt

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// Cover is the share of the draws that an interval holds.
const Cover = 0.90

// Rule says when to stop drawing.
type Rule struct {
	Seed uint64
	// Within is the largest standard error of an interval's end, as a share of the
	// interval's length, at which drawing stops, above 0.
	Within   float64
	MaxDraws int // at least one batch
}

// Usual is the rule of the program: each end known to 3 in 100 of the interval.
var Usual = Rule{Seed: 1, Within: 0.03, MaxDraws: 40000}

// batch is how many draws are made between two looks at the ends.
const batch = 500

// Interval holds the middle 90 in 100 of the draws of one number.
type Interval struct {
	Low, High float64
	// Matters is the index of the input that moves the number most, -1 for none,
	// and Share the part of its variance that goes with this input alone, 0 to 1.
	Matters int
	Share   float64
}

// Wider is the interval with an independent error of the model of one standard
// deviation sd, each end moved out in quadrature,
//
//	high' = v + √((high - v)² + (z sd)²),  z = Φ⁻¹(0.95)
//
// about the value v.
func (i Interval) Wider(v, sd float64) Interval {
	z := normalQuantile((1+Cover)/2) * sd
	i.Low, i.High = v-math.Hypot(max(0, v-i.Low), z), v+math.Hypot(max(0, i.High-v), z)
	return i
}

// Moved is the interval moved by d.
func (i Interval) Moved(d float64) Interval {
	i.Low, i.High = i.Low+d, i.High+d
	return i
}

// Draws are what [Propagate] found.
type Draws struct {
	N       int  // how many draws
	Settled bool // false: MaxDraws came before the ends stood still
	// Numbers has one interval for each number of the model.
	Numbers []Interval
}

// Propagate draws true values of all inputs from their beliefs, each by itself,
// and sends them through the model until the ends of every interval are known as
// well as the rule asks. Errors: an input or a rule that is none, and a model that
// answers with another count of numbers or with one that is not finite.
func Propagate(inputs []Input, model func(x []float64) []float64, rule Rule) (Draws, error) {
	beliefs := make([]Belief, len(inputs))
	for k, i := range inputs {
		if err := i.Check(); err != nil {
			return Draws{}, err
		}
		beliefs[k] = i.Belief()
	}
	if !(rule.Within > 0) || rule.MaxDraws < batch {
		return Draws{}, fmt.Errorf("draws: must stop within an error above 0 and after %d draws or more (got %g and %d)", batch, rule.Within, rule.MaxDraws)
	}
	s := sample{random: rand.New(rand.NewPCG(rule.Seed, uint64(len(inputs))))}
	for {
		if err := s.more(beliefs, model); err != nil {
			return Draws{}, err
		}
		settled := s.settled(rule.Within)
		if settled || len(s.xs)+batch > rule.MaxDraws {
			return Draws{N: len(s.xs), Settled: settled, Numbers: s.intervals(len(inputs))}, nil
		}
	}
}

// sample is the draws made so far: inputs by draw, and results by number.
type sample struct {
	random *rand.Rand
	xs     [][]float64
	ys     [][]float64
}

func (s *sample) more(beliefs []Belief, model func([]float64) []float64) error {
	for range batch {
		x := make([]float64, len(beliefs))
		for k, b := range beliefs {
			x[k] = b.Quantile(s.random.Float64())
		}
		y := model(x)
		if s.ys == nil {
			s.ys = make([][]float64, len(y))
		}
		if len(y) != len(s.ys) {
			return fmt.Errorf("draws: the model gave %d numbers, then %d", len(s.ys), len(y))
		}
		for k, v := range y {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("draws: number %d is not finite (got %g for %v)", k+1, v, x)
			}
			s.ys[k] = append(s.ys[k], v)
		}
		s.xs = append(s.xs, x)
	}
	return nil
}

// settled reports whether the ends of all intervals are known to the share of
// their length, by the spread of the order statistics about each end,
//
//	SE = (y[k + r] - y[k - r]) / 2,  r = √(n p (1 - p))
func (s *sample) settled(within float64) bool {
	for _, y := range s.ys {
		sorted := slices.Sorted(slices.Values(y))
		n := float64(len(sorted))
		length := quantile(sorted, (1+Cover)/2) - quantile(sorted, (1-Cover)/2)
		for _, p := range []float64{(1 - Cover) / 2, (1 + Cover) / 2} {
			r := math.Sqrt(n*p*(1-p)) / n
			if se := (quantile(sorted, p+r) - quantile(sorted, p-r)) / 2; se > within*length {
				return false
			}
		}
	}
	return true
}

// quantile interpolates between sorted values.
func quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	k := int(math.Floor(at))
	if k+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[k] + (at-float64(k))*(sorted[k+1]-sorted[k])
}

func (s *sample) intervals(inputs int) []Interval {
	out := make([]Interval, len(s.ys))
	orders := make([][]int, inputs)
	for i := range orders {
		orders[i] = s.order(i)
	}
	for k, y := range s.ys {
		sorted := slices.Sorted(slices.Values(y))
		out[k] = Interval{Low: quantile(sorted, (1-Cover)/2), High: quantile(sorted, (1+Cover)/2), Matters: -1}
		for i := range orders {
			if share := s.ratio(i, orders[i], y); share > out[k].Share {
				out[k].Matters, out[k].Share = i, share
			}
		}
	}
	return out
}
