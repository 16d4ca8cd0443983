package quality

import (
	"math"

	"simview/internal/fft"
	"simview/internal/psf"
)

// Visual is the visual Strehl ratio of a spread against that of the ideal eye of
// the same pupil at 555 nm, two ways of one number (Thibos2004). Scattered light is
// not in a spread: multiply by what the core keeps.
type Visual struct {
	Space     float64 // VSX
	Frequency float64 // VSOTF
}

// VisualStrehl returns
//
//	VSX   = Σ PSF n / Σ PSF_DL n
//	VSOTF = Σ CSF_N Re(OTF) / Σ CSF_N OTF_DL
//
// over the lattice of the spread, n the transform of the neural contrast
// sensitivity CSF_N; all the light counts, also what passes beside a displaced lens.
// By Parseval's theorem they are equal. A place of the light off straight ahead
// counts as blur.
func VisualStrehl(p *psf.PSF) (Visual, error) {
	ideal, err := Ideal(p)
	if err != nil {
		return Visual{}, err
	}
	w, err := newWeighing(p.N, p.StepDeg)
	if err != nil {
		return Visual{}, err
	}
	eye, best := light(p), light(ideal)
	return Visual{
		Space:     w.inSpace(eye) / w.inSpace(best),
		Frequency: w.inFrequency(eye) / w.inFrequency(best),
	}, nil
}

// Ideal returns the spread of the ideal eye of the same pupil at 555 nm, on the
// same lattice.
func Ideal(p *psf.PSF) (*psf.PSF, error) {
	return psf.Compute(psf.Diffracted(p.PupilMM), psf.Monochrome(designNM), psf.Options{StepDeg: p.StepDeg, N: p.N})
}

// light returns the share of all the light in each sample, straight ahead first;
// what falls off the lattice is left out.
func light(p *psf.PSF) []float64 {
	out := make([]float64, p.N*p.N)
	put := func(i, j int, v float64) { // samples right of and below straight ahead
		out[(j+p.N)%p.N*p.N+(i+p.N)%p.N] += v
	}
	through := 1.0
	if b := p.Beside; b != nil {
		through = 1 - b.Share
		s := b.On(p.StepDeg)
		for q, v := range s.Pix {
			if i, j := s.Left+q%s.W, q/s.W-s.Top; i >= -p.N/2 && i < p.N/2 && j >= -p.N/2 && j < p.N/2 {
				put(i, j, b.Share*float64(v))
			}
		}
	}
	for q, v := range p.Pix {
		put(q%p.N-p.N/2, q/p.N-p.N/2, through*float64(v))
	}
	return out
}

// weighing holds CSF_N on the lattice of frequencies and its transform.
type weighing struct {
	n        int
	plan     *fft.Complex2D
	csf, psf []float64
}

func newWeighing(n int, stepDeg float64) (*weighing, error) {
	plan, err := fft.NewComplex2D(n, n)
	if err != nil {
		return nil, err
	}
	w := &weighing{n: n, plan: plan, csf: make([]float64, n*n), psf: make([]float64, n*n)}
	work := make([]complex128, n*n)
	df := 1 / (float64(n) * stepDeg)
	for q := range w.csf {
		f := df * math.Hypot(centred(q%n, n), centred(q/n, n))
		w.csf[q] = neural(f)
		work[q] = complex(w.csf[q], 0)
	}
	plan.Forward(work)
	for q, v := range work {
		w.psf[q] = real(v)
	}
	return w, nil
}

// centred is the signed index of k of n.
func centred(k, n int) float64 {
	if 2*k > n {
		return float64(k - n)
	}
	return float64(k)
}

func (w *weighing) inSpace(light []float64) (sum float64) {
	for q, v := range light {
		sum += v * w.psf[q]
	}
	return sum
}

func (w *weighing) inFrequency(light []float64) (sum float64) {
	work := make([]complex128, len(light))
	for q, v := range light {
		work[q] = complex(v, 0)
	}
	w.plan.Forward(work)
	for q, v := range work {
		sum += w.csf[q] * real(v)
	}
	return sum
}

// HalfEnergyArcmin returns the diameter, minutes of arc, of the circle about
// straight ahead that holds half of the light of a spread; light beside a displaced
// lens is taken to fall outside, as it is degrees wide. It is +Inf when the circle
// does not fit on the spread's support. For a perfect pupil it is 1.07 λ/D.
func HalfEnergyArcmin(p *psf.PSF) float64 {
	half := 0.5
	if p.Beside != nil {
		half /= 1 - p.Beside.Share
	}
	lo, hi := 0.0, float64(p.N)*p.StepDeg/2
	if p.Encircled(hi) < half {
		return math.Inf(1)
	}
	for hi-lo > 1e-5 {
		if mid := (lo + hi) / 2; p.Encircled(mid) < half {
			lo = mid
		} else {
			hi = mid
		}
	}
	return 2 * 60 * hi
}
