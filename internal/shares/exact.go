package shares

import (
	"fmt"
	"math"
	"math/bits"
)

// MaxExact is the largest number of causes that [Exact] takes: 2⁸ = 256 values.
const MaxExact = 8

// Set is a set of causes: bit i stands for cause i.
type Set uint64

// Has reports whether cause i is in the set.
func (s Set) Has(i int) bool { return s>>i&1 == 1 }

// With returns the set and cause i.
func (s Set) With(i int) Set { return s | 1<<i }

// Without returns the set less cause i.
func (s Set) Without(i int) Set { return s &^ (1 << i) }

// All is the set of n causes.
func All(n int) Set { return 1<<n - 1 }

// Result is how a total is divided among n causes.
type Result struct {
	None float64 // v of no cause
	All  float64 // v of all causes
	// Share is the Shapley value of each cause; they add up to All - None.
	Share []float64
	// Error is one standard error of each share, nil where all sets were used.
	Error []float64
	// PutRight is what goes away when only this cause is taken away, v(all) -
	// v(all but i).
	PutRight []float64
	// Alone is what the cause makes by itself, v(i) - v(none).
	Alone []float64
	// Pair is the interaction of causes i and j, symmetric, 0 on the diagonal;
	// above 0 they make more together than each by itself. nil where sampled.
	Pair [][]float64
	// Orders is how many orders were drawn, 0 where all sets were used.
	Orders int
}

// Total is what is divided, v(all) - v(none).
func (r Result) Total() float64 { return r.All - r.None }

// Exact divides v by going through all sets of n causes. Errors: no cause or more
// than [MaxExact], and a value that is not a finite number.
func Exact(n int, v func(Set) float64) (Result, error) {
	if n < 1 {
		return Result{}, fmt.Errorf("shares: there must be a cause to divide among (got %d)", n)
	}
	if n > MaxExact {
		return Result{}, fmt.Errorf("shares: exact for at most %d causes (got %d, which would take %d values); hint: take sampled shares, which say their error", MaxExact, n, 1<<min(n, 62))
	}
	values := make([]float64, 1<<n)
	for s := range values {
		values[s] = v(Set(s))
		if err := finite(values[s], Set(s)); err != nil {
			return Result{}, err
		}
	}
	at := func(s Set) float64 { return values[s] }
	r := bare(n, at)
	r.Pair = make([][]float64, n)
	for i := range n {
		r.Share[i] = shapley(n, i, at)
		r.Pair[i] = make([]float64, n)
		for j := range i {
			r.Pair[i][j] = interaction(n, i, j, at)
			r.Pair[j][i] = r.Pair[i][j]
		}
	}
	return r, nil
}

func finite(v float64, s Set) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("shares: the value of the set %b is not a finite number (got %g)", s, v)
	}
	return nil
}

// bare fills what needs only the largest and smallest sets.
func bare(n int, v func(Set) float64) Result {
	all := All(n)
	r := Result{None: v(0), All: v(all), Share: make([]float64, n), PutRight: make([]float64, n), Alone: make([]float64, n)}
	for i := range n {
		r.PutRight[i] = r.All - v(all.Without(i))
		r.Alone[i] = v(Set(0).With(i)) - r.None
	}
	return r
}

// shapley is the Shapley value of cause i, the formula of the package.
func shapley(n, i int, v func(Set) float64) float64 {
	var sum float64
	for s := Set(0); s <= All(n); s++ {
		if !s.Has(i) {
			sum += weight(bits.OnesCount64(uint64(s)), n) * (v(s.With(i)) - v(s))
		}
	}
	return sum
}

// weight is k! (n - k - 1)! / n!, the share of the orders in which k given
// causes come before one.
func weight(k, n int) float64 {
	w := 1 / float64(n)
	for m := 1; m <= k; m++ {
		w *= float64(m) / float64(n-m)
	}
	return w
}

// interaction is the Shapley interaction index of i and j (Grabisch and Roubens
// 1999),
//
//	I_ij = sum over S without i, j of |S|! (n-|S|-2)! / (n-1)!
//	       (v(S+i+j) - v(S+i) - v(S+j) + v(S))
func interaction(n, i, j int, v func(Set) float64) float64 {
	var sum float64
	for s := Set(0); s <= All(n); s++ {
		if !s.Has(i) && !s.Has(j) {
			w := weight(bits.OnesCount64(uint64(s)), n-1)
			sum += w * (v(s.With(i).With(j)) - v(s.With(i)) - v(s.With(j)) + v(s))
		}
	}
	return sum
}
