//go:build !race

package fieldmask

import (
	"math"
	"testing"

	"simview/internal/csf"
	"simview/internal/light"
)

// bench is one grating of the grating test: its picture is a few periods about
// the place, sampled six times a period.
type bench struct {
	f, e  float64 // cycles per degree; degrees from fixation
	model csf.Model
}

// half is half the width that the contrast is read over: small, since the
// threshold changes with e, and 2 f half whole and at least 2.
func (b bench) half() float64 { return math.Max(2, math.Ceil(b.f)) / (2 * b.f) }

// left is the gain of a grating of contrast c in the image pipeline.
func (b bench) left(c, lossDB float64) float64 {
	step := math.Min(math.Max(1.0/60, 1/(6*b.f)), 0.1)
	n := int(2 * (b.half() + 1/b.f) / step)
	m := grey(light.GridAround(b.e, 0, n, n, step), func(x, _ float64) float64 {
		return 50 * (1 + c*math.Cos(2*math.Pi*b.f*x))
	})
	in := Light{Retina: m, Adapt: make([]float32, m.Len())}
	for q := range in.Adapt {
		in.Adapt[q] = 50
	}
	out, _ := See(in, uniform(lossDB), Options{NormalPeriphery: true, Model: b.model})
	return gratingContrast(out, b.f, b.e, 0, b.half()) / c
}

// benches are 33 frequencies from 0.25 to 16 cycles per degree at four places,
// every one for the first model and every `sparse`th for the others.
func benches(sparse int) (out []bench) {
	places := []float64{0, 5, 10, 20}
	if testing.Short() {
		places, sparse = places[2:3], 2*sparse
	}
	for i, m := range csf.Models() {
		for k := 0; k <= 32; k++ {
			for _, e := range places {
				if i == 0 && !testing.Short() || k%sparse == i {
					out = append(out, bench{0.25 * math.Pow(2, float64(k)*6/32), e, m})
				}
			}
		}
	}
	return out
}

// In the pictures a healthy eye's grating at threshold keeps half its contrast,
// and a loss of 10 dB moves that by 10^s(f). Tolerances: 25 % and 10 %, since
// bands are an octave wide and thresholds those of their centres. The thresholds
// are those of published models, see package csf.
func TestAGratingAtThresholdKeepsHalfItsContrast(t *testing.T) {
	const least, tol, tolLoss = 0.8, 0.25, 0.1
	for i, b := range benches(8) {
		want := b.model.Threshold(b.f, b.e, 50*UsualPupilMM2)
		if want >= least {
			continue
		}
		low, high := b.left(want*(1-tol), 0), b.left(want*(1+tol), 0)
		if low >= 0.5 || high <= 0.5 {
			t.Errorf("%s, %.3g c/deg at %v degrees: %.3f is left at %v below the threshold, %.3f above", b.model.Key(), b.f, b.e, low, tol, high)
		}
		lost := math.Pow(10, csf.LossShare(b.f))
		if want*lost*(1+tolLoss) >= least || lost == 10 && i%4 != 0 { // where a loss counts whole, every fourth will do
			continue
		}
		at := b.left(want, 0)
		low, high = b.left(want*lost/(1+tolLoss), 10), b.left(want*lost*(1+tolLoss), 10)
		if low >= at || high <= at {
			t.Errorf("%s, %.3g c/deg at %v degrees: under 10 dB %.3f and %.3f are left about %.3g times the threshold, without loss %.3f", b.model.Key(), b.f, b.e, low, high, lost, at)
		}
	}
}
