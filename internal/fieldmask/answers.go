package fieldmask

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// How far the surface may lie off an answer of the test, and how that is
// brought about.
const (
	answerSDs   = 1.0  // retest standard deviations, at the measured level
	leastNoise  = 0.02 // share of its noise that an answer keeps; two that contradict each other at one place are not both met
	heldRounds  = 24   // rounds after which what is left over stays
	heldSlack   = 1.01 // times the reach at which an answer counts as met
	heldTighter = 0.97 // of the noise that would meet an answer if its neighbours stayed
)

// reach is how far the surface may lie off each measurement, dB.
func (e *evidence) reach() []float64 {
	out := make([]float64, len(e.all))
	for i, s := range e.all {
		out[i] = answerSDs * math.Sqrt(noiseVar(s.normal+s.td, s.tests))
	}
	return out
}

// hold lowers the noise of measurements until the estimate lies within reach of
// each, and returns the factored covariance. The estimate at a place i is off by
// r and the one from all other places by D,
//
//	r = noise (K^-1 off)i,  D = (K^-1 off)i / (K^-1)ii,  v = 1 / (K^-1)ii - noise
//
// so that noise = v reach / (|D| - reach) makes |r| the reach, the others being
// as they are. An unharmed answer between deep ones is thereby kept: the noise of
// what surrounds it would let it be overruled.
func (e *evidence) hold(noise []float64) (*mat.Cholesky, error) {
	noise, reach := append([]float64(nil), noise...), e.reach()
	least := make([]float64, len(noise))
	for i, n := range noise {
		least[i] = leastNoise * n
	}
	off := mat.NewVecDense(len(e.off), e.off)
	for round := 0; ; round++ {
		k, err := e.withNoise(noise)
		if err != nil {
			return nil, err
		}
		var a mat.VecDense
		if k.SolveVecTo(&a, off) != nil {
			return nil, errTooClose
		}
		far := e.overruled(a.RawVector().Data, noise, reach)
		if len(far) == 0 || round == heldRounds {
			return k, nil
		}
		var inv mat.SymDense
		if k.InverseTo(&inv) != nil {
			return nil, errTooClose
		}
		for _, i := range far {
			d := inv.At(i, i)
			v, others := 1/d-noise[i], math.Abs(a.AtVec(i)/d)
			noise[i] = max(least[i], heldTighter*v*reach[i]/(others-reach[i]))
		}
	}
}

// overruled lists the measurements that the estimate lies beyond reach of.
func (e *evidence) overruled(a, noise, reach []float64) (far []int) {
	for i := range a {
		if math.Abs(noise[i]*a[i]) > heldSlack*reach[i] {
			far = append(far, i)
		}
	}
	return far
}
