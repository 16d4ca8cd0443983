package match

import (
	"fmt"
	"math"
)

// Contest is how often each of two views won against the other when they were
// shown in one order. First and Second are indices of views from 0; the first is
// the one on the left, or of the home team in a sports table. A tie counts half
// a win for each (common practice); wins are 0 or more.
type Contest struct {
	First, Second         int
	FirstWins, SecondWins float64
}

// Model says what is fitted to contests.
type Model struct {
	// Views is how many views there are, 2 or more.
	Views int
	// SideBias adds the advantage of the first place, delta.
	SideBias bool
	// ViewSD and BiasSD are standard deviations, in logits, of normal priors
	// about 0 for the view's lambda and for delta. 0 means none: then the fit is
	// that of largest likelihood, with lambda of view 0 held at 0.
	ViewSD, BiasSD float64
}

// Fit is a fitted model. Lambda is how much a view is liked, in logits; only
// differences mean something. Cov is the covariance of lambda, then delta, from
// the curvature at the maximum (rows of what was held are 0).
type Fit struct {
	Lambda []float64
	Delta  float64
	Cov    [][]float64
}

// Solve fits the paired-comparison model of Bradley and Terry with an advantage
// of the first place,
//
//	P(first wins) = 1 / (1 + exp(-(lambda_first - lambda_second + delta)))
//
// by Newton's method. A view that is compared with itself tells of delta only.
// Errors: views or wins that are none, and contests without priors that have no
// finite maximum.
func (m Model) Solve(contests []Contest) (Fit, error) {
	if err := m.check(contests); err != nil {
		return Fit{}, err
	}
	s := newSolver(m, contests)
	if err := s.run(); err != nil {
		return Fit{}, err
	}
	n := m.Views
	return Fit{Lambda: s.at[:n:n], Delta: s.at[n], Cov: s.covariance()}, nil
}

// check refuses models and contests that mean nothing.
func (m Model) check(contests []Contest) error {
	if m.Views < 2 {
		return fmt.Errorf("match: a comparison needs 2 views or more (got %d)", m.Views)
	}
	if !(m.ViewSD >= 0) || !(m.BiasSD >= 0) || math.IsInf(m.ViewSD, 0) || math.IsInf(m.BiasSD, 0) {
		return fmt.Errorf("match: prior SD must be 0 or a finite number above (got %g and %g)", m.ViewSD, m.BiasSD)
	}
	for k, c := range contests {
		if c.First < 0 || c.First >= m.Views || c.Second < 0 || c.Second >= m.Views {
			return fmt.Errorf("match: contest %d: views %d and %d, expected 0 to %d", k, c.First, c.Second, m.Views-1)
		}
		if !(c.FirstWins >= 0) || !(c.SecondWins >= 0) || math.IsInf(c.FirstWins+c.SecondWins, 0) {
			return fmt.Errorf("match: contest %d: wins %g and %g, expected 0 or more", k, c.FirstWins, c.SecondWins)
		}
	}
	if m.ViewSD == 0 && !allReach(m.Views, contests) {
		return fmt.Errorf("match: there is no largest likelihood: some views win all or lose all against the rest (Ford 1957); hint: give a prior")
	}
	return nil
}

// allReach reports whether every view can be reached from every other along
// wins, which is when a finite maximum exists (Ford 1957).
func allReach(n int, contests []Contest) bool {
	for _, forward := range []bool{true, false} {
		seen := make([]bool, n)
		seen[0] = true
		for grown := true; grown; {
			grown = false
			for _, c := range contests {
				grown = spread(seen, c, forward) || grown
			}
		}
		for _, s := range seen {
			if !s {
				return false
			}
		}
	}
	return true
}

// spread marks the loser of a seen winner, or the winner of a seen loser.
func spread(seen []bool, c Contest, forward bool) bool {
	step := func(winner, loser int, wins float64) bool {
		if !forward {
			winner, loser = loser, winner
		}
		if wins > 0 && seen[winner] && !seen[loser] {
			seen[loser] = true
			return true
		}
		return false
	}
	a := step(c.First, c.Second, c.FirstWins)
	b := step(c.Second, c.First, c.SecondWins)
	return a || b
}

// Difference returns how much more view i is liked than view j, and its standard
// error, in logits.
func (f Fit) Difference(i, j int) (value, se float64) {
	v := f.Cov[i][i] + f.Cov[j][j] - 2*f.Cov[i][j]
	return f.Lambda[i] - f.Lambda[j], math.Sqrt(max(v, 0))
}

// DeltaSE returns the standard error of the advantage of the first place, logits.
func (f Fit) DeltaSE() float64 {
	n := len(f.Lambda)
	return math.Sqrt(f.Cov[n][n])
}

// Shares returns exp(lambda), scaled to sum to 1.
func (f Fit) Shares() []float64 {
	out := make([]float64, len(f.Lambda))
	var sum float64
	for i, l := range f.Lambda {
		out[i] = math.Exp(l)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
