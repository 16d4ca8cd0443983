package fieldmask

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// withNoise factors the covariance of what is measured.
func (e *evidence) withNoise(noise []float64) (*mat.Cholesky, error) {
	k := mat.NewSymDense(len(noise), nil)
	k.CopySym(e.prior)
	for i, v := range noise {
		k.SetSym(i, i, k.At(i, i)+v)
	}
	var chol mat.Cholesky
	if !chol.Factorize(k) {
		return nil, errTooClose
	}
	return &chol, nil
}

// leftOut estimates the total deviation of every measured place from all others,
// with its standard error, from the inverse of the covariance K:
//
//	estimate = y - (K^-1 off)i / (K^-1)ii,  error² = 1 / (K^-1)ii
//
// and keeps the estimate within the range of the place's neighbours.
func (e *evidence) leftOut(noise []float64) (est, se []float64, err error) {
	chol, err := e.withNoise(noise)
	if err != nil {
		return nil, nil, err
	}
	var inv mat.SymDense
	if chol.InverseTo(&inv) != nil {
		return nil, nil, errTooClose
	}
	room := make([]float64, len(e.all))
	for i, s := range e.all {
		sum, d := 0.0, inv.At(i, i)
		for j, o := range e.off {
			sum += inv.At(i, j) * o
		}
		lo, hi := neighbourRange(e.all, s.x, s.y, i, room)
		est = append(est, within(s.td-sum/d, lo, hi))
		se = append(se, math.Sqrt(1/d))
	}
	return est, se, nil
}

// ownNoise is the noise variance of every measurement at its own level.
func (e *evidence) ownNoise() []float64 {
	noise := make([]float64, len(e.all))
	for i, s := range e.all {
		noise[i] = noiseVar(s.normal+s.td, s.tests)
	}
	return noise
}

// settledNoise is the noise variance of every measurement at the level that the
// places around it make likely, in units of how rugged fields are there. A
// single low answer would otherwise be trusted less just for being low.
func (e *evidence) settledNoise(est []float64) []float64 {
	noise := make([]float64, len(e.all))
	for i, s := range e.all {
		r := ruggedness(est[i])
		noise[i] = noiseVar(s.normal+est[i], s.tests) / (r * r)
	}
	return noise
}

// Prediction is what the places around a tested one make likely there.
type Prediction struct {
	Point     Point   // what was measured, total deviation in dB
	DB        float64 // estimate from all other places
	Low, High float64 // 90 % of measurements lie between
}

// LeaveOneOut predicts every tested place of a field from all the others, with
// an interval that 90 % of measurements keep. It is how the surface is judged,
// and shows where a measured value stands out from its surround. Age in years
// serves fields of sensitivities.
func (f Field) LeaveOneOut(ageYears float64) ([]Prediction, error) {
	if err := f.Check(); err != nil {
		return nil, err
	}
	td := f.ToTotalDeviation(ageYears)
	all := seenOf(td, ageYears)
	e, err := newEvidence(all, nil)
	if err != nil {
		return nil, err
	}
	first, _, err := e.leftOut(e.ownNoise())
	if err != nil {
		return nil, err
	}
	est, se, err := e.leftOut(e.settledNoise(first))
	if err != nil {
		return nil, err
	}
	out := make([]Prediction, len(all))
	for i, p := range td.Points {
		below, above := spreadAt(est[i])
		out[i] = Prediction{p, est[i], est[i] - below*se[i], est[i] + above*se[i]}
	}
	return out, nil
}
