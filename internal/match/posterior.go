package match

import (
	"math"
	"math/rand/v2"
)

const (
	// viewSD is the prior standard deviation of how much a view is liked, logits.
	// Two views drawn from it are told apart by three answers in four or more in
	// six pairs of ten. Of 0.6 to 1.4, this found the best of four simulated views
	// most often at the same share of false winners. Our choice.
	viewSD = 1.4
	// biasSD is that of the advantage of the left, logits: at 1, someone takes the
	// left of two equal views nearly three times in four. Our choice.
	biasSD = 1.0
	// interval90 is how many standard deviations hold 90 % of a normal distribution.
	interval90 = 1.6448536269514722
)

// Estimate is a number with its 90 % posterior interval.
type Estimate struct {
	Value float64 `json:"value"`
	Lo    float64 `json:"lo"`
	Hi    float64 `json:"hi"`
}

// Posterior is what answers leave open about views: the normal distribution with
// the top and the curvature of likelihood times prior (Laplace's approximation).
type Posterior struct {
	fit  Fit
	root [][]float64 // Cholesky factor of the covariance
}

// Infer weighs the contests of some views, 2 or more, with a prior that keeps
// every estimate finite. Errors: as of [Model.Solve].
func Infer(views int, contests []Contest) (*Posterior, error) {
	f, err := Model{Views: views, SideBias: true, ViewSD: viewSD, BiasSD: biasSD}.Solve(contests)
	if err != nil {
		return nil, err
	}
	p := &Posterior{fit: f, root: square(views + 1)}
	cholesky(f.Cov, p.root)
	return p, nil
}

// Lambda returns how much view i is liked beyond the mean of all views, logits.
func (p *Posterior) Lambda(i int) Estimate {
	n := len(p.fit.Lambda)
	direction := make([]float64, n+1)
	for k := range n {
		direction[k] = -1 / float64(n)
	}
	direction[i]++
	return p.along(direction)
}

// Delta returns the advantage of the left, logits; above 0 the left is chosen
// more often than what it shows accounts for.
func (p *Posterior) Delta() Estimate {
	n := len(p.fit.Lambda)
	direction := make([]float64, n+1)
	direction[n] = 1
	return p.along(direction)
}

// along returns the distribution of a weighted sum of lambda and delta.
func (p *Posterior) along(direction []float64) Estimate {
	n := len(p.fit.Lambda)
	value := direction[n] * p.fit.Delta
	var v float64
	for i, a := range direction {
		if i < n {
			value += a * p.fit.Lambda[i]
		}
		for j, b := range direction {
			v += a * b * p.fit.Cov[i][j]
		}
	}
	half := interval90 * math.Sqrt(max(v, 0))
	return Estimate{Value: value, Lo: value - half, Hi: value + half}
}

// draw returns one possible lambda.
func (p *Posterior) draw(r *rand.Rand) []float64 {
	x := make([]float64, len(p.fit.Lambda))
	z := make([]float64, len(x))
	for i := range x {
		z[i] = r.NormFloat64()
		x[i] = p.fit.Lambda[i]
		for j := 0; j <= i; j++ {
			x[i] += p.root[i][j] * z[j]
		}
	}
	return x
}

// bestDraws is how many draws give the chance of being best; its standard error
// is at most 0.5/sqrt(4000) = 0.008.
const bestDraws = 4000

// Best returns, for each view, the probability that it is liked best of all; they
// sum to 1. The draws are seeded with a constant.
func (p *Posterior) Best() []float64 {
	r := rand.New(rand.NewPCG(1, bestDraws))
	count := make([]int, len(p.fit.Lambda))
	for range bestDraws {
		count[highest(p.draw(r))]++
	}
	out := make([]float64, len(count))
	for i, c := range count {
		out[i] = float64(c) / bestDraws
	}
	return out
}

// highest returns the index of the largest number, the first of equals.
func highest(x []float64) int {
	best := 0
	for i, v := range x {
		if v > x[best] {
			best = i
		}
	}
	return best
}
