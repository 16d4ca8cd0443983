package fieldmask

import (
	"errors"
	"fmt"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// maxPlaces bounds the work of one surface; no field test has as many places.
const maxPlaces = 1000

// posterior is what is known of the total deviation of one eye once its
// measurements are seen: a normal distribution over all places of the field,
//
//	prior:      f at the places T of 24-2 ~ N(mean, C); f(p) = w(p) f(T) + rest
//	measured:   y = f + noise
//	posterior:  f(p) = m0 + k(p, U) g, variance w(p) S w(p)' + rest
//	held:       h(p) = f(p) - k(p, U) pull
//
// U are the places of T and all tested ones, w(p) = k(p, U) k(U, U)^-1 carries
// values from them to any place, S is their covariance given y, and "rest" is
// what no place determines. Held is what is drawn: it lies within the retest
// spread of every measurement (see hold), and the pull is how far f lies off it. A
// posterior is read-only.
type posterior struct {
	*ground
	all  []seen
	gain []float64     // of what is drawn, g - pull, one for each of U
	pull []float64     // towards what the noise of the surround would draw
	at   []float64     // drawn at U, dB
	s    *mat.SymDense // S
}

// ground is the prior at a set of places; read-only.
type ground struct {
	places []lifted      // U
	carry  mat.Cholesky  // of the kernel at U
	mean   []float64     // prior mean at U, dB
	cov    *mat.SymDense // prior covariance at U, dB²
}

// plain is the ground of 24-2 alone, which most fields stand on.
var plain = sync.OnceValues(func() (*ground, error) { return newGround(learned.at) })

// newGround works out the prior at places of which those of 24-2 come first.
func newGround(u [][2]float64) (*ground, error) {
	g := &ground{places: make([]lifted, len(u))}
	for i, at := range u {
		g.places[i] = lift(at[0], at[1])
	}
	k := kernelMatrix(g.places)
	if !g.carry.Factorize(k) {
		return nil, errTooClose
	}
	var err error
	g.mean, g.cov, err = continuePrior(k)
	return g, err
}

// evidence is the prior at all places that matter, and what was measured.
type evidence struct {
	*ground
	all   []seen
	index []int         // where in U each measurement stands
	prior *mat.SymDense // prior covariance of the measured places
	off   []float64     // measurement less prior mean, dB
}

// newEvidence gathers the evidence of measurements, x to the temple; extra are
// places beyond them to be known jointly.
func newEvidence(all []seen, extra [][2]float64) (*evidence, error) {
	u, index := placesOf(all, extra)
	g, err := plain()
	if len(u) > places52 {
		g, err = newGround(u)
	}
	if err != nil {
		return nil, err
	}
	e := &evidence{ground: g, all: all, index: index}
	e.prior, e.off = mat.NewSymDense(len(all), nil), make([]float64, len(all))
	for i, q := range index {
		e.off[i] = all[i].td - e.mean[q]
		for j := i; j < len(all); j++ {
			e.prior.SetSym(i, j, e.cov.At(q, index[j]))
		}
	}
	return e, nil
}

// posterior takes the measurements in.
func (e *evidence) posterior() (*posterior, error) {
	p := &posterior{ground: e.ground, all: e.all}
	est, _, err := e.leftOut(e.ownNoise())
	if err != nil {
		return nil, err
	}
	noise := e.settledNoise(est)
	free, err := e.withNoise(noise)
	if err != nil {
		return nil, err
	}
	held, err := e.hold(noise)
	if err != nil {
		return nil, err
	}
	return p, p.finish(e, free, held)
}

var errTooClose = errors.New("field: two tested places lie too close together to be told apart")

// placesOf lists the places of 24-2, then those of the measurements and the
// extra ones that are not among them, and where each measurement stands.
func placesOf(all []seen, extra [][2]float64) (u [][2]float64, index []int) {
	at := map[[2]float64]int{}
	add := func(x, y float64) int {
		key := [2]float64{x, y}
		i, ok := at[key]
		if !ok {
			i = len(u)
			at[key] = i
			u = append(u, key)
		}
		return i
	}
	for _, a := range learned.at {
		add(a[0], a[1])
	}
	for _, s := range all {
		index = append(index, add(s.x, s.y))
	}
	for _, e := range extra {
		add(e[0], e[1])
	}
	return u, index
}

// kernelMatrix is k(U, U).
func kernelMatrix(places []lifted) *mat.SymDense {
	n := len(places)
	k := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			k.SetSym(i, j, kernel(&places[i], &places[j]))
		}
	}
	return k
}

// continuePrior continues mean and covariance from the 52 places, which come first, to
// all places of the kernel matrix k:
//
//	W = k(T, T)^-1 k(T, U),  mean = m0 + W' (mean - m0),
//	cov = W' C W + slope (k - k(U, T) W)
func continuePrior(k *mat.SymDense) (mean []float64, cov *mat.SymDense, err error) {
	n := k.SymmetricDim()
	var chol mat.Cholesky
	if !chol.Factorize(k.SliceSym(0, places52)) {
		return nil, nil, fmt.Errorf("field: the learned covariance cannot be continued")
	}
	kt := mat.DenseCopyOf(k).Slice(0, places52, 0, n)
	var w, cw, wcw, kw mat.Dense
	if err := chol.SolveTo(&w, kt); err != nil {
		return nil, nil, fmt.Errorf("field: the learned covariance cannot be continued: %w", err)
	}
	cw.Mul(learnedCov(), &w)
	wcw.Mul(w.T(), &cw)
	kw.Mul(kt.T(), &w)
	mean, cov = make([]float64, n), mat.NewSymDense(n, nil)
	for i := range n {
		mean[i] = learned.m0
		for t, m := range learned.mean {
			mean[i] += w.At(t, i) * (m - learned.m0)
		}
		for j := i; j < n; j++ {
			rest := 0.0
			if i >= places52 && j >= places52 {
				rest = slopeVar * (k.At(i, j) - kw.At(i, j))
			}
			cov.SetSym(i, j, wcw.At(i, j)+rest)
		}
	}
	return mean, cov, nil
}

// freeVar is added to the covariance of every pair of places, dB²: the general
// level of an eye is left to its own measurements, not drawn to that of the eyes
// the covariance was learned from.
const freeVar = 100.0

// learnedCov is C as a matrix.
func learnedCov() *mat.SymDense {
	c := mat.NewSymDense(places52, nil)
	for i, row := range learned.cov {
		for j := i; j < places52; j++ {
			c.SetSym(i, j, row[j]+freeVar)
		}
	}
	return c
}

// finish computes the covariance at U, and what is drawn there, from the factored
// covariance of the measurements, free and with their noise lowered (hold).
func (p *posterior) finish(e *evidence, free, held *mat.Cholesky) error {
	cross := e.cross()
	var h, down mat.Dense
	if free.SolveTo(&h, cross) != nil {
		return errTooClose
	}
	down.Mul(cross.T(), &h)
	m := len(e.mean)
	p.s = mat.NewSymDense(m, nil)
	for i := range m {
		for j := i; j < m; j++ {
			p.s.SetSym(i, j, e.cov.At(i, j)-down.At(i, j))
		}
	}
	_, g, err := p.expected(e, free, cross)
	if err != nil {
		return err
	}
	if p.at, p.gain, err = p.expected(e, held, cross); err != nil {
		return err
	}
	p.pull = make([]float64, m)
	floats.SubTo(p.pull, g, p.gain)
	return nil
}

// cross is the prior covariance of the measurements with U.
func (e *evidence) cross() *mat.Dense {
	out := mat.NewDense(len(e.off), len(e.mean), nil)
	for i, q := range e.index {
		for j := range len(e.mean) {
			out.Set(i, j, e.cov.At(q, j))
		}
	}
	return out
}

// expected returns the mean at U and its gain, given the factored covariance of
// the measurements.
func (p *posterior) expected(e *evidence, k *mat.Cholesky, cross *mat.Dense) (at, gain []float64, err error) {
	var a, shift, g mat.VecDense
	if k.SolveVecTo(&a, mat.NewVecDense(len(e.off), e.off)) != nil {
		return nil, nil, errTooClose
	}
	shift.MulVec(cross.T(), &a)
	at = make([]float64, len(e.mean))
	above := mat.NewVecDense(len(at), nil)
	for i, m := range e.mean {
		at[i] = m + shift.AtVec(i)
		above.SetVec(i, at[i]-learned.m0)
	}
	if p.carry.SolveVecTo(&g, above) != nil {
		return nil, nil, errTooClose
	}
	return at, g.RawVector().Data, nil
}

// carried returns m0-free values at a place from a gain: k(p, U) g.
func (p *posterior) carried(x, y float64, gain []float64) float64 {
	at, sum := lift(x, y), 0.0
	for i := range p.places {
		sum += gain[i] * kernel(&at, &p.places[i])
	}
	return sum
}

// estimate returns the total deviation expected at a place, x to the temple,
// kept within the range of the neighbours' measurements. room holds one
// number a measurement.
func (p *posterior) estimate(x, y float64, room []float64) float64 {
	lo, hi := neighbourRange(p.all, x, y, -1, room)
	return within(learned.m0+p.carried(x, y, p.gain), lo, hi)
}

// spreadForm returns the matrix Q with which the variance at a place, in dB² and
// in units of the learned covariance, without noise, is
//
//	v(p) = slope level + k' Q k,  Q = K^-1 S K^-1 - slope K^-1
//
// K the kernel at U and k that between p and U; it is w S w' + rest, multiplied
// out.
func (p *posterior) spreadForm() (*mat.SymDense, error) {
	var inv mat.SymDense
	if p.carry.InverseTo(&inv) != nil {
		return nil, errTooClose
	}
	var half, full mat.Dense
	half.Mul(&inv, p.s)
	full.Mul(&half, &inv)
	n := len(p.places)
	q := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			q.SetSym(i, j, full.At(i, j)-slopeVar*inv.At(i, j))
		}
	}
	return q, nil
}

// variance evaluates a spread form at a place, x to the temple; k is room for
// one number a place of U.
func (p *posterior) variance(form *mat.SymDense, x, y float64, k *mat.VecDense) float64 {
	at := lift(x, y)
	for i := range p.places {
		k.SetVec(i, kernel(&at, &p.places[i]))
	}
	return max(0, slopeVar*levelVar+mat.Inner(k, form, k))
}
