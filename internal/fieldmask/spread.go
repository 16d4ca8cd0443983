package fieldmask

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"simview/internal/light"
)

// spreadStep is the distance in degrees between nodes of the map of how sure the
// surface is; the variance is smooth but for the nasal midline.
const spreadStep = 0.5

// errorAt returns the standard error in dB of the expected total deviation, in
// units of the learned covariance, and how far what the noise of the surround
// would draw there lies off what is drawn, in dB.
func (s *Surface) errorAt(xDeg, yDeg float64) (e, pull float64) {
	s.spread.once.Do(func() {
		form, err := s.post.spreadForm()
		if err != nil { // cannot happen: the same factors gave the mean
			panic("fieldmask: " + err.Error())
		}
		room := mat.NewVecDense(len(s.post.places), nil)
		n := 2*int(float64(s.half)*surfaceStep/spreadStep) + 1
		m := mapOf{light.GridAround(0, 0, n, n, spreadStep), make([]float32, n*n)}
		pulls := mapOf{m.Grid, make([]float32, n*n)}
		for q := range m.v {
			x, y := m.Centre(q%n, q/n)
			if s.beyond(x, y) <= fadedDeg {
				m.v[q] = float32(math.Sqrt(s.post.variance(form, x*temple(s.side), y, room)))
				pulls.v[q] = float32(s.post.carried(x*temple(s.side), y, s.post.pull))
			}
		}
		s.spread.m, s.spread.pull = m, pulls
	})
	return s.spread.m.value(xDeg, yDeg), s.spread.pull.value(xDeg, yDeg)
}

// reaches returns how far the truth may lie below and above the total deviation
// drawn at a direction, dB, for 5 % each: the spread of the estimate, by level
// ([PriorSource]), and, on its side, the pull of the surround.
func (s *Surface) reaches(xDeg, yDeg float64) (below, above float64) {
	below, above = spreadAt(s.deviation(xDeg, yDeg))
	e, pull := s.errorAt(xDeg, yDeg)
	return below*e - min(pull, 0), above*e + max(pull, 0)
}

// deviation is the expected total deviation at a direction, dB.
func (s *Surface) deviation(xDeg, yDeg float64) float64 { return s.read(s.td, xDeg, yDeg, 0) }

// SD returns the standard deviation in dB by which the true loss may lie off
// [Surface.LossDB]: retest noise, spread between the places and the level of
// loss together, for the field at strength 1. It is half of [Surface.Interval]
// in standard deviations of a normal distribution. NaN where nothing is known,
// and for a surface that was drawn or deepened ([Surface.Changed]).
func (s *Surface) SD(xDeg, yDeg float64) float64 {
	if !s.Known(xDeg, yDeg) || s.changed != "" {
		return math.NaN()
	}
	below, above := s.reaches(xDeg, yDeg)
	return (below + above) / 2 / z90
}

// Interval returns the loss in dB >= 0 between which the truth lies in 9 of 10
// places like this one, at strength 1; NaN as for [Surface.SD]. The shares
// below and above are those found on real fields, by level ([PriorSource]).
func (s *Surface) Interval(xDeg, yDeg float64) (low, high float64) {
	if !s.Known(xDeg, yDeg) || s.changed != "" {
		return math.NaN(), math.NaN()
	}
	td := s.deviation(xDeg, yDeg)
	below, above := s.reaches(xDeg, yDeg)
	hold := s.hold(s.beyond(xDeg, yDeg))
	return hold * math.Max(0, -td-above-s.share), hold * math.Max(0, -td+below-s.share)
}
