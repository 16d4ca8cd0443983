package match

import (
	"math"
	"math/rand/v2"
	"testing"
)

// grid integrates the posterior of two views on a grid: the chance that view 0 is
// the better, and the mean and SD of half the difference and of delta.
func grid(contests []Contest) (best, half, halfSD, delta float64) {
	const step, reach = 0.1, 7.0
	var sum, sumHalf, sumHalf2, sumDelta, sumBest float64
	for d := -2 * reach; d <= 2*reach; d += step { // lambda_0 - lambda_1
		for b := -reach; b <= reach; b += step {
			// The difference of two independent lambda has twice the variance.
			w := -d*d/(4*viewSD*viewSD) - b*b/(2*biasSD*biasSD)
			for _, c := range contests {
				x := b
				if c.First != c.Second {
					x += d * float64(1-2*c.First)
				}
				w -= c.FirstWins*math.Log1p(math.Exp(-x)) + c.SecondWins*math.Log1p(math.Exp(x))
			}
			p := math.Exp(w)
			sum += p
			sumHalf += p * d / 2
			sumHalf2 += p * d * d / 4
			sumDelta += p * b
			switch {
			case d > step/2:
				sumBest += p
			case d > -step/2:
				sumBest += p / 2
			}
		}
	}
	half = sumHalf / sum
	return sumBest / sum, half, math.Sqrt(sumHalf2/sum - half*half), sumDelta / sum
}

func TestThePosteriorAgreesWithIntegratingIt(t *testing.T) {
	// The normal approximation leaves out skewness: some hundredths of a chance and
	// a tenth of a logit with a dozen answers, less with 40.
	const chance, logits = 0.03, 0.12
	for _, contests := range [][]Contest{
		{{0, 1, 9, 3}, {1, 0, 4, 8}},
		{{0, 1, 5, 5}, {1, 0, 6, 4}, {0, 0, 2, 0}},
		{{0, 1, 2, 1}},
		nil,
	} {
		p, err := Infer(2, contests)
		if err != nil {
			t.Fatal(err)
		}
		best, half, sd, delta := grid(contests)
		l := p.Lambda(0)
		near(t, "chance of being best", p.Best()[0], best, chance)
		near(t, "lambda", l.Value, half, logits)
		near(t, "its SD", (l.Hi-l.Lo)/2/1.6449, sd, logits)
		near(t, "delta", p.Delta().Value, delta, logits)
	}
}

func TestIntervalsHoldNineOfTenTruths(t *testing.T) {
	// 400 truths with 4 lambda each, drawn from the prior. With 1600 coverages that
	// hang together in fours, the SE is below 0.015; the approximation costs as much.
	const truths, views, tolerance = 400, 4, 0.03
	r := rand.New(rand.NewPCG(3, 5))
	var held, heldDelta float64
	for range truths {
		lambda := make([]float64, views)
		var sum float64
		for i := range lambda {
			lambda[i] = viewSD * r.NormFloat64()
			sum += lambda[i]
		}
		delta := biasSD * r.NormFloat64()
		p, err := Infer(views, contests(views, random(r, lambda, delta, 36)))
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range lambda {
			held += within(p.Lambda(i), l-sum/views) / (truths * views)
		}
		heldDelta += within(p.Delta(), delta) / truths
	}
	near(t, "share of lambda within the interval", held, 0.90, tolerance)
	near(t, "share of delta within the interval", heldDelta, 0.90, tolerance)
}

func within(e Estimate, x float64) float64 {
	if e.Lo <= x && x <= e.Hi {
		return 1
	}
	return 0
}

// random asks about random pairs.
func random(r *rand.Rand, lambda []float64, delta float64, answers int) []Trial {
	p := patient{lambda: lambda, bias: delta, r: r}
	var trials []Trial
	for k := range answers {
		order := r.Perm(len(lambda))
		q := Question{Number: k + 1, Kind: Ordinary, Left: order[0], Right: order[1]}
		trials = append(trials, Trial{Question: q, Answer: p.answer(q)})
	}
	return trials
}
