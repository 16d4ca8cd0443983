package doubt

import (
	"fmt"
	"math"
)

// Prior is what is usual in the people concerned: a normal distribution cut at
// the ends of what is possible. An SD of +Inf, or 0, says that nothing is known
// beyond the ends.
type Prior struct {
	Mean, SD  float64
	Low, High float64 // ends; both 0 means no ends
	Source    string
}

// Input is one measured quantity.
type Input struct {
	Name     string
	Unit     string
	Measured float64
	SD       float64 // one standard deviation of the measurement; 0: known exactly
	SDSource string
	Prior    Prior
}

// Check refuses an input that is no quantity: a number that is not finite, a
// negative standard deviation, ends the wrong way round.
func (i Input) Check() error {
	switch {
	case math.IsNaN(i.Measured) || math.IsInf(i.Measured, 0):
		return fmt.Errorf("input %s: must be a finite number (got %g)", i.Name, i.Measured)
	case !(i.SD >= 0) || math.IsInf(i.SD, 0):
		return fmt.Errorf("input %s: its standard deviation must be 0 or more (got %g)", i.Name, i.SD)
	case math.IsNaN(i.Prior.Mean) || math.IsNaN(i.Prior.SD) || i.Prior.SD < 0:
		return fmt.Errorf("input %s: what is usual must be numbers (got %g and %g)", i.Name, i.Prior.Mean, i.Prior.SD)
	case i.Prior.ended() && !(i.Prior.Low < i.Prior.High):
		return fmt.Errorf("input %s: the lower end must lie below the upper (got %g and %g)", i.Name, i.Prior.Low, i.Prior.High)
	}
	return nil
}

func (p Prior) ended() bool { return p.Low != 0 || p.High != 0 }

func (p Prior) ends() (low, high float64) {
	if !p.ended() {
		return math.Inf(-1), math.Inf(1)
	}
	return p.Low, p.High
}

// Belief is a normal distribution cut at its ends; with SD 0 it is its mean.
type Belief struct {
	Mean, SD  float64
	Low, High float64 // may be infinite
}

// Belief returns what is known of the true value after the measurement,
//
//	1/s² = 1/SD² + 1/SD_usual²,  m = s² (x/SD² + m_usual/SD_usual²)
//
// cut at the ends of the prior: the product of prior and likelihood.
func (i Input) Belief() Belief {
	low, high := i.Prior.ends()
	b := Belief{Mean: i.Measured, SD: i.SD, Low: low, High: high}
	if i.SD == 0 || i.Prior.SD == 0 || math.IsInf(i.Prior.SD, 1) {
		return b
	}
	w, u := 1/(i.SD*i.SD), 1/(i.Prior.SD*i.Prior.SD)
	b.Mean, b.SD = (w*i.Measured+u*i.Prior.Mean)/(w+u), 1/math.Sqrt(w+u)
	return b
}

// Belief is the prior by itself, from which truths are drawn in tests.
func (p Prior) Belief() Belief {
	low, high := p.ends()
	return Belief{Mean: p.Mean, SD: p.SD, Low: low, High: high}
}

// Quantile returns the value below which the share p, 0 to 1, of the belief lies,
//
//	x = m + s Φ⁻¹(Φ(a) + p (Φ(b) - Φ(a))),  a = (low - m)/s, b = (high - m)/s
//
// worked out in the tail that is smaller. Of an SD of 0 it is the mean, held to
// the ends.
func (b Belief) Quantile(p float64) float64 {
	if b.SD == 0 {
		return min(b.High, max(b.Low, b.Mean))
	}
	lo, hi := (b.Low-b.Mean)/b.SD, (b.High-b.Mean)/b.SD
	var z float64
	if lo > 0 { // work in the upper tail, where 1 - Φ keeps its digits
		a, c := upper(lo), upper(hi)
		z = -normalQuantile(a + p*(c-a))
	} else {
		a, c := upper(-lo), upper(-hi)
		z = normalQuantile(a + p*(c-a))
	}
	return min(b.High, max(b.Low, b.Mean+b.SD*z))
}

// upper is 1 - Φ(z).
func upper(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// normalQuantile is Φ⁻¹, by the inverse of the complementary error function,
// which keeps small p.
func normalQuantile(p float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*p) }
