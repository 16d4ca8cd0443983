package shares

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// MaxSampled is the largest number of causes that [Sampled] takes.
const MaxSampled = 63

// Sampling says how orders are drawn.
type Sampling struct {
	Seed uint64
	// Within is the standard error at which drawing stops, in the units of the
	// game, above 0.
	Within float64
	// MaxOrders is where drawing stops in any case, 4 or more; the error then
	// says how far it got.
	MaxOrders int
}

// minPairs is how many pairs of orders are drawn before their spread is trusted.
const minPairs = 16

// Sampled divides v by drawing orders of n causes. Every order is followed by its
// reverse, so that what is alike in both cancels; the shares add up to the total
// for any number of orders. Errors: a number of causes or a sampling that is none,
// and a value that is not a finite number.
func Sampled(n int, v func(Set) float64, how Sampling) (Result, error) {
	if n < 1 || n > MaxSampled {
		return Result{}, fmt.Errorf("shares: sampled for 1 to %d causes (got %d)", MaxSampled, n)
	}
	if !(how.Within > 0) || how.MaxOrders < 4 {
		return Result{}, fmt.Errorf("shares: sampling must stop within an error above 0 and after 4 orders or more (got %g and %d)", how.Within, how.MaxOrders)
	}
	g := &game{v: v, kept: map[Set]float64{}}
	r := bare(n, g.at)
	random := rand.New(rand.NewPCG(how.Seed, uint64(n)))
	sums := make([]moments, n)
	for g.err == nil && r.Orders+2 <= how.MaxOrders {
		g.pair(random.Perm(n), sums)
		r.Orders += 2
		if r.Orders >= 2*minPairs && worst(sums) <= how.Within {
			break
		}
	}
	r.Error = make([]float64, n)
	for i, m := range sums {
		r.Share[i], r.Error[i] = m.mean, m.standardError()
	}
	return r, g.err
}

// game keeps the values that were asked for, and the first bad one.
type game struct {
	v    func(Set) float64
	kept map[Set]float64
	err  error
}

func (g *game) at(s Set) float64 {
	if x, ok := g.kept[s]; ok {
		return x
	}
	x := g.v(s)
	if err := finite(x, s); err != nil && g.err == nil {
		g.err = err
	}
	g.kept[s] = x
	return x
}

// pair adds what each cause brings in an order and in its reverse.
func (g *game) pair(order []int, sums []moments) {
	added := make([]float64, len(order))
	var up, down Set
	for k := range order {
		i, j := order[k], order[len(order)-1-k]
		added[i] += g.at(up.With(i)) - g.at(up)
		added[j] += g.at(down.With(j)) - g.at(down)
		up, down = up.With(i), down.With(j)
	}
	for i, a := range added {
		sums[i].add(a / 2)
	}
}

// moments are a running mean and sum of squared distances from it.
type moments struct {
	n        int
	mean, sq float64
}

func (m *moments) add(x float64) {
	m.n++
	d := x - m.mean
	m.mean += d / float64(m.n)
	m.sq += d * (x - m.mean)
}

func (m moments) standardError() float64 {
	if m.n < 2 {
		return math.Inf(1)
	}
	return math.Sqrt(m.sq / float64(m.n-1) / float64(m.n))
}

func worst(sums []moments) float64 {
	var w float64
	for _, m := range sums {
		w = max(w, m.standardError())
	}
	return w
}
