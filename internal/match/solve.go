package match

import (
	"errors"
	"math"
)

// solver climbs to the maximum of likelihood times prior. Its parameters are
// lambda of each view, then delta.
type solver struct {
	contests []Contest
	n        int // views; delta is parameter n
	held     []bool
	weight   []float64 // 1/SD² of each parameter, 0 without prior
	at       []float64
	gradient []float64
	h        [][]float64 // minus the second derivatives
	l        [][]float64 // its Cholesky factor
	value    float64     // log likelihood plus log prior at at
}

func newSolver(m Model, contests []Contest) *solver {
	p := m.Views + 1
	s := &solver{
		contests: contests, n: m.Views, held: make([]bool, p), weight: make([]float64, p),
		at: make([]float64, p), gradient: make([]float64, p), h: square(p), l: square(p),
	}
	for i := range m.Views {
		s.weight[i] = precision(m.ViewSD)
	}
	s.weight[m.Views] = precision(m.BiasSD)
	s.held[0] = m.ViewSD == 0
	s.held[m.Views] = !m.SideBias
	return s
}

func precision(sd float64) float64 {
	if sd == 0 {
		return 0
	}
	return 1 / (sd * sd)
}

// square returns a matrix of n rows in one piece of memory.
func square(n int) [][]float64 {
	all := make([]float64, n*n)
	m := make([][]float64, n)
	for i := range m {
		m[i] = all[i*n : (i+1)*n : (i+1)*n]
	}
	return m
}

const (
	maxSteps = 200
	// Newton's steps end when none moves a parameter by more than this, far
	// below any printed digit and far above rounding (1e-16 times some logits).
	settled = 1e-11
	// Beyond this a preference is one in 1e13: the maximum lies at infinity.
	runaway = 30
)

var errRunaway = errors.New("match: there is no largest likelihood: the first place, or some view, wins without limit; hint: give a prior")

// run climbs; a step that would go down is halved.
func (s *solver) run() error {
	s.value = s.objective(s.at)
	for range maxSteps {
		s.derive()
		if !cholesky(s.h, s.l) {
			return errRunaway
		}
		step := backSolve(s.l, s.gradient)
		if s.advance(step) < settled {
			s.derive()
			if !cholesky(s.h, s.l) {
				return errRunaway
			}
			return nil
		}
	}
	return errRunaway
}

// advance moves along a step and returns how far the largest parameter moved;
// infinity where a parameter has run away.
func (s *solver) advance(step []float64) float64 {
	for share := 1.0; share > 1e-9; share /= 2 {
		next := make([]float64, len(s.at))
		var far float64
		for k := range next {
			next[k] = s.at[k] + share*step[k]
			far = max(far, math.Abs(share*step[k]))
		}
		if v := s.objective(next); v >= s.value-1e-12*math.Abs(s.value) {
			s.at, s.value = next, v
			if s.weight[0] == 0 && largest(next) > runaway {
				return math.Inf(1)
			}
			return far
		}
	}
	return 0
}

func largest(x []float64) float64 {
	var m float64
	for _, v := range x {
		m = max(m, math.Abs(v))
	}
	return m
}

// objective is the log likelihood plus the log prior, without its constants.
func (s *solver) objective(at []float64) float64 {
	var sum float64
	for _, c := range s.contests {
		x := at[c.First] - at[c.Second] + at[s.n]
		sum -= c.FirstWins*softplus(-x) + c.SecondWins*softplus(x)
	}
	for k, w := range s.weight {
		sum -= w * at[k] * at[k] / 2
	}
	return sum
}

// softplus is log(1 + exp(x)) without overflow.
func softplus(x float64) float64 {
	if x > 0 {
		return x + math.Log1p(math.Exp(-x))
	}
	return math.Log1p(math.Exp(x))
}

// derive fills the gradient and minus the second derivatives.
func (s *solver) derive() {
	for k := range s.h {
		clear(s.h[k])
		s.gradient[k] = -s.weight[k] * s.at[k]
		s.h[k][k] = s.weight[k]
	}
	d := s.n
	for _, c := range s.contests {
		i, j := c.First, c.Second
		p := 1 / (1 + math.Exp(-(s.at[i] - s.at[j] + s.at[d])))
		r := c.FirstWins*(1-p) - c.SecondWins*p
		w := (c.FirstWins + c.SecondWins) * p * (1 - p)
		s.gradient[d] += r
		s.h[d][d] += w
		if i != j {
			s.between(i, j, r, w)
		}
	}
	for k, held := range s.held {
		if held {
			s.hold(k)
		}
	}
}

// between adds what one contest of two views says of them.
func (s *solver) between(i, j int, r, w float64) {
	d := s.n
	s.gradient[i] += r
	s.gradient[j] -= r
	s.h[i][i] += w
	s.h[j][j] += w
	s.h[i][j] -= w
	s.h[j][i] -= w
	s.h[i][d] += w
	s.h[d][i] += w
	s.h[j][d] -= w
	s.h[d][j] -= w
}

// hold keeps a parameter where it is.
func (s *solver) hold(k int) {
	for q := range s.h {
		s.h[k][q], s.h[q][k] = 0, 0
	}
	s.h[k][k], s.gradient[k] = 1, 0
}

// covariance is the inverse of the curvature, 0 for what was held.
func (s *solver) covariance() [][]float64 {
	p := len(s.at)
	cov := square(p)
	unit := make([]float64, p)
	for k := range p {
		if s.held[k] {
			continue
		}
		clear(unit)
		unit[k] = 1
		copy(cov[k], backSolve(s.l, unit))
	}
	return cov
}

// cholesky fills the lower triangle l of a = l lᵀ; false if a is not positive.
func cholesky(a, l [][]float64) bool {
	for i := range a {
		for j := 0; j <= i; j++ {
			sum := a[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = sum / l[j][j]
				continue
			}
			if !(sum > 1e-13*math.Abs(a[i][i])) {
				return false
			}
			l[i][i] = math.Sqrt(sum)
		}
	}
	return true
}

// backSolve returns x with l lᵀ x = b.
func backSolve(l [][]float64, b []float64) []float64 {
	n := len(b)
	x := make([]float64, n)
	for i := range n {
		x[i] = b[i]
		for k := range i {
			x[i] -= l[i][k] * x[k]
		}
		x[i] /= l[i][i]
	}
	return upSolve(l, x)
}

// upSolve returns x with lᵀ x = b; b is overwritten.
func upSolve(l [][]float64, b []float64) []float64 {
	for i := len(b) - 1; i >= 0; i-- {
		for k := i + 1; k < len(b); k++ {
			b[i] -= l[k][i] * b[k]
		}
		b[i] /= l[i][i]
	}
	return b
}
