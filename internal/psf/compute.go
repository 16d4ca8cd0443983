package psf

import (
	"fmt"
	"math"

	"simview/internal/fft"
)

// parsevalTol is the largest relative difference allowed between the energy in
// the pupil and in the picture before it is normalised: rounding of a transform
// in float64 is some 1e-15 times the logarithm of its length.
const parsevalTol = 1e-9

// Compute works out the spread of the light of the lines through the aperture.
// It refuses, in one sentence, bad numbers, a path that is not finite inside
// the pupil, and a blur too wide for 2048 samples across the pupil. Light that
// passes beside the lens is worked out by rays and added as [Beside].
func Compute(a Aperture, lines []Line, opt Options) (*PSF, error) {
	if err := check(a, lines, opt); err != nil {
		return nil, err
	}
	lines = normalised(lines)
	beside, err := newBeside(&a, lines, opt)
	if err != nil {
		return nil, err
	}
	pl, err := makePlan(a, lines, opt)
	if err != nil {
		return nil, err
	}
	plan, err := fft.NewComplex2D(pl.n, pl.n)
	if err != nil {
		return nil, err
	}
	turned := make([]float32, pl.n*pl.n)
	for _, l := range lines {
		dx := l.NM * 1e-6 / (float64(pl.n) * pl.step)
		f, err := sampleField(a, pl.surf, l.NM, dx, pl.n, opt)
		if err != nil {
			return nil, err
		}
		if err := f.addTo(turned, plan, l.Weight); err != nil {
			return nil, err
		}
	}
	outside := math.NaN()
	if !opt.NoOutside {
		if outside, err = outsideShare(a, pl, strongest(lines), opt); err != nil {
			return nil, err
		}
	}
	pix := asThePatientSees(turned, pl.n)
	return &PSF{N: pl.n, StepDeg: pl.step / degree, Pix: pix, Outside: outside, Beside: beside, Lines: lines, PupilMM: a.DiameterMM}, nil
}

// addTo adds the spread of one wavelength, energy weight, to a picture stored
// column by column in the clinician's axes: element [k][l] is k steps to the
// right and l steps up, counted round.
func (f *field) addTo(turned []float32, plan *fft.Complex2D, weight float64) error {
	whole := float64(f.n) * float64(f.n) * f.energy
	sums := make([]float64, f.n)
	plan.ForwardColumns(f.v, func(k int, col []complex128) {
		out := turned[k*f.n : (k+1)*f.n]
		for l, v := range col {
			e := real(v)*real(v) + imag(v)*imag(v)
			sums[k] += e
			out[l] += float32(e / whole * weight)
		}
	})
	if held := total(sums) / whole; math.Abs(held-1) > parsevalTol {
		return fmt.Errorf("psf: internal check failed: the picture holds %.12g of the pupil's light", held)
	}
	return nil
}

// asThePatientSees puts straight ahead in the middle, turns columns into rows
// and mirrors left to right: the one place where the clinician's axes become
// the patient's.
func asThePatientSees(turned []float32, n int) []float32 {
	pix := make([]float32, n*n)
	fft.InBlocks(n, func(lo, hi int) {
		for j := lo; j < hi; j++ {
			up := (n/2 - j + n) % n
			for i := range n {
				right := (n/2 - i + n) % n // the clinician's right is the patient's left
				pix[j*n+i] = turned[right*n+up]
			}
		}
	})
	return pix
}

// strongest returns the wavelength with the greatest weight, nm.
func strongest(lines []Line) float64 {
	best := lines[0]
	for _, l := range lines {
		if l.Weight > best.Weight {
			best = l
		}
	}
	return best.NM
}

// outsideShare estimates the share of the light beyond the support S at one
// wavelength: 1 less the sum over S of the spread worked out over twice the
// angle, as a share of all that passed the pupil, on about every second sample (the spread is band-limited, so its sum
// over a region much larger than its detail needs no finer ones). The step is
// a few samples short of double so that the pupil fits in at padding 2.
func outsideShare(a Aperture, pl plan, nm float64, opt Options) (float64, error) {
	n := float64(pl.n)
	step := 2 * pl.step * n / (n + 8)
	f, err := sampleField(a, pl.surf, nm, nm*1e-6/(n*step), pl.n, opt)
	if err != nil {
		return 0, err
	}
	plan, err := fft.NewComplex2D(pl.n, pl.n)
	if err != nil {
		return 0, err
	}
	half := n * pl.step / step / 2
	sums := make([]float64, pl.n)
	plan.ForwardColumns(f.v, func(k int, col []complex128) {
		for l, v := range col {
			sums[k] += within(k, l, pl.n, half) * (real(v)*real(v) + imag(v)*imag(v))
		}
	})
	return 1 - total(sums)/(n*n*f.passed), nil
}

// within returns the share of sample (k, l), counted round n, that lies within
// a square of the given half width in samples about (0, 0).
func within(k, l, n int, half float64) float64 {
	in := func(k int) float64 {
		return min(1, max(0, half+0.5-float64(min(k, n-k))))
	}
	return in(k) * in(l)
}

func total(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum
}
