package acuity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
)

// Task is what is read and what, besides the optics, stands in the way. The zero
// value is black on white for an eye that scatters nothing and has lost nothing.
type Task struct {
	Contrast  float64 // of Weber, above 0 to 1; 0 means 1
	Scattered float64 // share of the light that leaves the core of the image, 0 to below 1
	LossDB    float64 // field loss at fixation, perimetric dB, >= 0
}

func (t Task) check() error {
	switch {
	case !(t.Contrast >= 0 && t.Contrast <= 1):
		return fmt.Errorf("acuity: contrast of the letters must lie between 0 and 1 (got %g)", t.Contrast)
	case !(t.Scattered >= 0 && t.Scattered < 1):
		return fmt.Errorf("acuity: share of scattered light must be 0 or more and below 1 (got %g)", t.Scattered)
	case !(t.LossDB >= 0) || math.IsInf(t.LossDB, 0):
		return fmt.Errorf("acuity: field loss at fixation must be 0 dB or more (got %g)", t.LossDB)
	}
	return nil
}

// amount is what contrast and scatter leave of the letters' amplitude.
func (t Task) amount() float64 {
	if t.Contrast == 0 {
		return 1 - t.Scattered
	}
	return t.Contrast * (1 - t.Scattered)
}

const (
	draws    = 2000 // of ten numbers; every letter is shown in each
	drawSeed = 20   // any number: a change moves the result by its standard error
)

// noises are the standard normal numbers behind every answer, drawn once, each
// set with its mirror image, so that eyes are compared in the same noise.
var noises = sync.OnceValue(func() [][letters]float64 {
	r := rand.New(rand.NewPCG(drawSeed, 0))
	out := make([][letters]float64, draws)
	for n := 0; n < draws; n += 2 {
		for i := range letters {
			out[n][i] = r.NormFloat64()
			out[n+1][i] = -out[n][i]
		}
	}
	return out
})

// Right returns the share of right answers, 0.1 (by guessing) to 1, for letters of
// one size. The size is taken to the nearest 0.05 logMAR. Errors name a task that
// makes no sense.
func (o *Observer) Right(eye Transfer, logMAR float64, t Task) (float64, error) {
	if err := t.check(); err != nil {
		return 0, err
	}
	return o.right(eye, int(math.Round(logMAR/sizeStep)), t, noises()), nil
}

func (o *Observer) right(eye Transfer, step int, t Task, draws [][letters]float64) float64 {
	s := o.at(step)
	q := make([]complex128, len(s.weight))
	for n, w := range s.weight {
		if w != 0 {
			q[n] = w * eye.At(s.fx[n], s.fy[n])
			if t.LossDB > 0 {
				q[n] *= complex(math.Pow(10, -s.loss[n]*t.LossDB/10), 0)
			}
		}
	}
	return s.answers(sloan().sums(q), t.amount(), draws)
}

// answers counts right answers over all letters and draws; r[i][k] is the
// correlation of letter k with template i before scaling.
func (s *size) answers(r [letters][letters]float64, amount float64, draws [][letters]float64) float64 {
	var mean [letters][letters]float64 // [letter][template]
	for i := range letters {
		for k := range letters {
			mean[k][i] = amount * r[i][k] * s.perRoot[i]
		}
	}
	count := 0
	for _, z := range draws {
		var noise [letters]float64
		for i := range letters {
			for m := range i + 1 {
				noise[i] += s.lower[i][m] * z[m]
			}
			noise[i] *= s.standard
		}
		for k := range letters {
			if largest(&mean[k], &noise) == k {
				count++
			}
		}
	}
	return float64(count) / float64(len(draws)*letters)
}

func largest(mean, noise *[letters]float64) int {
	best, at := math.Inf(-1), 0
	for i := range letters {
		if v := mean[i] + noise[i]; v > best {
			best, at = v, i
		}
	}
	return at
}
