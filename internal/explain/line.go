package explain

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"simview/internal/acuity"
	"simview/internal/cause"
)

// line turns the fast number of a state into one of the numbers,
//
//	H = a + b x + c x² + [field in S] d
//
// fitted to all states that were simulated in full.
type line struct{ slope, bend, field, rms float64 }

// rise is what the line says of going from one fast number to another.
func (l line) rise(from, to float64) float64 {
	return (to - from) * (l.slope + l.bend*(from+to))
}

// apartX is how far apart two fast numbers must lie to say something about a line:
// a twentieth of what one line of letters takes (assumed).
const apartX = 0.02

// different counts the fast numbers that lie apart.
func different(x []float64) int {
	n, last := 0, math.Inf(-1)
	for _, v := range slices.Sorted(slices.Values(x)) {
		if v-last > apartX {
			n, last = n+1, v
		}
	}
	return n
}

// fit finds the line by least squares. States that lie at two fast numbers only, as
// with one cause, hold no bend; states that are all alike say nothing, and the line
// is the usual one of the measure.
func (f *fast) fit(m Measure, x, h []float64) line {
	n := different(x)
	if n == 1 {
		return line{slope: usualSlope(m)}
	}
	terms := []func(k int) float64{func(int) float64 { return 1 }, func(k int) float64 { return x[k] }, func(k int) float64 { return x[k] * x[k] }}
	terms = terms[:min(n, len(terms))]
	inField := func(k int) float64 {
		if f.g.has(f.places[k].set, cause.Field) {
			return 1
		}
		return 0
	}
	if f.g.index(cause.Field) >= 0 {
		if l, ok := solve(len(terms), append(slices.Clone(terms), inField), h); ok {
			return l
		}
	}
	l, _ := solve(len(terms), terms, h)
	return l
}

// usualSlope is that of letters over the published eyes of [acuity.FromVisualStrehl];
// of contrast, what takes a factor off all contrast takes its logarithm off both.
// Of a scene none is known.
func usualSlope(m Measure) float64 {
	switch m {
	case Letters:
		best, _ := acuity.FromVisualStrehl(1)
		tenth, _ := acuity.FromVisualStrehl(0.1)
		return best - tenth
	case Contrast:
		return -1
	}
	return 0
}

// solve fits the first powers of x and, if there is one term more, the field; not ok
// where the states do not tell the terms apart.
func solve(powers int, terms []func(k int) float64, h []float64) (l line, ok bool) {
	a, b := mat.NewDense(len(h), len(terms), nil), mat.NewVecDense(len(h), h)
	for k := range h {
		for c, value := range terms {
			a.Set(k, c, value(k))
		}
	}
	var c mat.VecDense
	if err := c.SolveVec(a, b); err != nil {
		return line{}, false
	}
	var off mat.VecDense
	off.MulVec(a, &c)
	off.SubVec(b, &off)
	l.rms = mat.Norm(&off, 2) / math.Sqrt(float64(len(h)))
	into := []*float64{nil, &l.slope, &l.bend}[:powers]
	if len(terms) > powers {
		into = append(into, &l.field)
	}
	for k, to := range into {
		if to != nil {
			*to = c.AtVec(k)
		}
	}
	return l, true
}
