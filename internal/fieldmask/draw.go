package fieldmask

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// viewStep is the distance in degrees between the places at which an equally
// likely field is drawn independently of the tested ones.
const viewStep = 3.0

// viewSmooth is the standard deviation in degrees of the smoothing of what is
// drawn, within each half of the field: loss follows bundles of fibres, and what
// differs from degree to degree looks like noise of the test.
const viewSmooth = 2.5

// sampler holds what is needed to draw fields, worked out when first asked for.
type sampler struct {
	once sync.Once
	post *posterior // at a denser set of places
	root *mat.Dense // of their covariance, smoothed
	err  error
}

// Draw returns one of the equally likely fields: what the true field may be,
// given the retest noise and the spread between places. The same seed and number
// k give the same field. It differs from what is to be expected by patches some
// degrees wide (an assumption: nothing is known of finer structure). Its loss is never negative and never more than the
// normal sensitivity of the place, unless more was measured. A field without loss
// anywhere keeps none; one that was drawn or deepened is an error.
func (s *Surface) Draw(seed uint64, k int) (*Surface, error) {
	if s.None() {
		return s, nil
	}
	if s.changed != "" {
		return nil, fmt.Errorf("field: equally likely fields are drawn from a field as measured (this is the %s)", s.changed)
	}
	v := s.views
	v.once.Do(func() { v.err = v.prepare(s) })
	if v.err != nil {
		return nil, v.err
	}
	n := len(v.post.places)
	rng := rand.New(rand.NewPCG(seed, uint64(k)))
	z, f, gain := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		z.SetVec(i, rng.NormFloat64())
	}
	f.MulVec(v.root, z)
	if v.post.carry.SolveVecTo(gain, f) != nil {
		return nil, errTooClose
	}
	out := *s
	out.changed = fmt.Sprintf("equally likely field %d of seed %d", k, seed)
	out.draw(func(q int) float64 {
		x, y := s.node(q)
		e, _ := s.errorAt(x, y)
		td, off := float64(s.td[q]), v.post.carried(x*temple(s.side), y, gain.RawVector().Data)/max(e, 1e-6)/z90
		below, above := s.reaches(x, y)
		if off < 0 {
			return max(td+off*below, min(td, -float64(s.normal[q])))
		}
		return td + off*above
	})
	return &out, nil
}

// prepare draws up the places between the tested ones and the root of their
// covariance.
func (v *sampler) prepare(s *Surface) error {
	e, err := newEvidence(s.post.all, s.between())
	if err != nil {
		return err
	}
	if v.post, err = e.posterior(); err != nil {
		return err
	}
	for i := range v.post.at { // rounding must not make a certain place negative
		v.post.s.SetSym(i, i, v.post.s.At(i, i)+1e-6)
	}
	var chol mat.Cholesky
	if !chol.Factorize(v.post.s) {
		return errTooClose
	}
	var root mat.TriDense
	chol.LTo(&root)
	v.root = v.post.smoothed(&root)
	return nil
}

// smoothed returns D A L, L the root of the covariance S at the places, A a
// Gaussian mean over lifted places and D what keeps the variance of each as it
// was.
func (p *posterior) smoothed(root mat.Matrix) *mat.Dense {
	n := len(p.places)
	a, out := mat.NewDense(n, n, nil), new(mat.Dense)
	for i := range n {
		for j := range n {
			d := (levelVar - kernel(&p.places[i], &p.places[j])) / viewSmooth
			a.Set(i, j, math.Exp(-d*d/2))
		}
	}
	out.Mul(a, root)
	for i := range n {
		row := out.RawRowView(i)
		floats.Scale(math.Sqrt(p.s.At(i, i))/floats.Norm(row, 2), row)
	}
	return out
}

// between lists places 3 degrees apart over what is known, x to the temple, off
// the midline and off the tested places.
func (s *Surface) between() (out [][2]float64) {
	edge := math.Floor(float64(s.half)*surfaceStep/viewStep) * viewStep
	for y := -edge + viewStep/2; y < edge; y += viewStep {
		for x := -edge; x <= edge; x += viewStep {
			if s.Known(x*temple(s.side), y) && !s.near(x, y) {
				out = append(out, [2]float64{x, y})
			}
		}
	}
	return out
}

// near reports whether a measurement lies within half a step of a place.
func (s *Surface) near(x, y float64) bool {
	for _, p := range s.post.all {
		if math.Hypot(p.x-x, p.y-y) < viewStep/2 {
			return true
		}
	}
	return false
}
