package acuity

import (
	"math"
)

const (
	sizeStep  = 0.05 // logMAR between sizes
	smallest  = -12  // steps: -0.6 logMAR
	biggest   = 40   // steps: 2.0 logMAR
	fewDraws  = 200  // for finding the line; the fit takes all
	chartLine = 2    // steps from one line of the chart to the next, 0.1 logMAR

	// PassMark is the share of right answers at which a line counts as read: three
	// letters of five, as usual on charts of ISO 8596 and ANSI Z80.21; after
	// guessing among ten letters (0.6 - 0.1) / 0.9 = 56 %.
	PassMark = 0.6
	guessing = 1.0 / float64(letters)
)

// Result is a predicted acuity.
type Result struct {
	LogMAR float64 // size at which [PassMark] of the letters are named
	SE     float64 // standard error from the finite number of draws, logMAR
	// Beyond is true when the acuity lies outside -0.6 to 2.0 logMAR, which were
	// tried; LogMAR is then the nearer of the two.
	Beyond bool
}

// LogMAR predicts the acuity of an eye: down the chart line by line until two
// lines running are failed, then a psychometric function is fitted to the sizes
// about the last line read. Errors are those of [Observer.Right].
func (o *Observer) LogMAR(eye Transfer, t Task) (Result, error) {
	if err := t.check(); err != nil {
		return Result{}, err
	}
	few := noises()[:fewDraws]
	last, failed := biggest+chartLine, 0
	for step := biggest; step >= smallest && failed < 2; step -= chartLine {
		if o.right(eye, step, t, few) >= PassMark {
			last, failed = step, 0
		} else {
			failed++
		}
	}
	switch {
	case last > biggest:
		return Result{LogMAR: biggest * sizeStep, Beyond: true}, nil
	case failed == 0:
		return Result{LogMAR: smallest * sizeStep, Beyond: true}, nil
	}
	return o.fit(eye, last, t), nil
}

// fit lays the psychometric function
//
//	P(v) = g + (1 - g) Φ(a + b v)
//
// v in logMAR from the last line read, through the shares of right answers at the
// two sizes either side of the pass mark, by weighted least squares on
// a + b v = Φ⁻¹((P - g)/(1 - g)), and returns where it crosses the pass mark. Where
// letters are read no better with size, the last line read is the acuity.
func (o *Observer) fit(eye Transfer, last int, t Task) Result {
	if o.right(eye, last-1, t, noises()) >= PassMark {
		last--
	}
	var sw, sv, sz, svv, svz float64
	for k := -2; k <= 1; k++ {
		p := o.right(eye, last+k, t, noises())
		p = min(max((p-guessing)/(1-guessing), leastShare), 1-leastShare)
		z, v := quantile(p), float64(k)*sizeStep
		w := information(p, z)
		sw, sv, sz, svv, svz = sw+w, sv+w*v, sz+w*z, svv+w*v*v, svz+w*v*z
	}
	goal := quantile((PassMark - guessing) / (1 - guessing))
	b := (sw*svz - sv*sz) / (sw*svv - sv*sv)
	if !(b > 0) { // no better with size: the line itself, to half a line
		return Result{LogMAR: float64(last) * sizeStep, SE: chartLine * sizeStep / 2}
	}
	a := (sz - b*sv) / sw
	v := (goal - a) / b
	return Result{LogMAR: float64(last)*sizeStep + v, SE: math.Sqrt((1+square(v-sv/sw)*sw/(svv-sv*sv/sw))/sw) / b}
}

// leastShare keeps Φ⁻¹ finite; a share beyond it has little weight.
const leastShare = 0.001

// information is that of one share of right answers about z: trials times the
// square of the slope over the variance, n (1 - g)² φ(z)² / (P (1 - P)).
func information(p, z float64) float64 {
	all := guessing + (1-guessing)*p
	slope := (1 - guessing) * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	return draws * float64(letters) * slope * slope / (all * (1 - all))
}

// quantile is Φ⁻¹, p in 0 to 1.
func quantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

func square(v float64) float64 { return v * v }
