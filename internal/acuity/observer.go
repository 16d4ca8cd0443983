package acuity

import (
	"fmt"
	"math"
	"math/cmplx"
	"sync"

	"simview/internal/csf"
	"simview/internal/psf"
	"simview/internal/scene"
)

// Transfer is the optical transfer function of an eye at a frequency in cycles
// per degree, the patient's axes; 1 at 0.
type Transfer interface {
	At(fx, fy float64) complex128
}

// TransferFunc is a function as a [Transfer].
type TransferFunc func(fx, fy float64) complex128

// At calls f.
func (f TransferFunc) At(fx, fy float64) complex128 { return f(fx, fy) }

// Of returns the transfer of a spread. Light beside a displaced lens, spread over
// degrees, is taken to carry no letters: it only lowers the contrast,
//
//	OTF = (1 - u) OTF_through
func Of(p *psf.PSF) Transfer {
	through := p.ThroughOTF()
	if p.Beside == nil {
		return through
	}
	keep := complex(1-p.Beside.Share, 0)
	return TransferFunc(func(fx, fy float64) complex128 { return keep * through.At(fx, fy) })
}

// MeanEye is the mean healthy eye in focus through a pupil of 2 to 6 mm
// ([csf.MeanMTF]), the same in all directions and without phase.
func MeanEye(pupilMM float64) Transfer {
	return TransferFunc(func(fx, fy float64) complex128 {
		return complex(csf.MeanMTF(math.Hypot(fx, fy), pupilMM), 0)
	})
}

// Observer reads letters in one light, knowing them as the reference eye sees
// them. It keeps what it worked out for each size, so make it once for a
// light and a reference. Safe for use by several goroutines.
type Observer struct {
	model     csf.Model
	trolands  float64
	noise     float64
	reference Transfer
	mu        sync.Mutex
	kept      map[int]*size
}

// New returns an observer for a retinal illuminance in trolands (luminance of the
// chart in cd/m² times the area of the pupil in mm²). reference is how the eye
// without its faults sees; nil stands for the mean healthy eye through 4 mm. An
// error names a model for which the noise was never set, or a light that is not
// above 0.
func New(m csf.Model, trolands float64, reference Transfer) (*Observer, error) {
	if m == nil {
		m = csf.WatsonAhumada{}
	}
	noise, ok := Noise(m)
	if !ok {
		return nil, fmt.Errorf("acuity: the noise of the observer is not known for contrast sensitivity model %q", m.Key())
	}
	if !(trolands > 0) || math.IsInf(trolands, 0) {
		return nil, fmt.Errorf("acuity: retinal illuminance must be above 0 trolands (got %g)", trolands)
	}
	if reference == nil {
		reference = MeanEye(csf.DataPupilMM)
	}
	return &Observer{model: m, trolands: trolands, noise: noise, reference: reference, kept: map[int]*size{}}, nil
}

// size is what does not depend on the eye at one size of letters.
type size struct {
	fx, fy   []float64    // cycles per degree
	weight   []complex128 // N² conj(O_ref), and what turns a sum into an integral
	loss     []float64    // s(f), the share of a field loss that counts
	lower    [letters][letters]float64
	perRoot  [letters]float64 // 1/√energy of each template
	standard float64          // standard deviation of the noise of a correlation
}

// at returns the prepared size, step counting steps of sizeStep from 0 logMAR.
func (o *Observer) at(step int) *size {
	o.mu.Lock()
	defer o.mu.Unlock()
	s := o.kept[step]
	if s == nil {
		s = o.prepare(scene.LetterArcmin(float64(step)*sizeStep) / 60)
		o.kept[step] = s
	}
	return s
}

// prepare works out the templates of letters of h degrees. A letter's spectrum is
// h² L(f h), a sample of the spectrum stands for 1/(3 h)² of the plane, and half
// the plane stands for the whole, hence 2 h²/9 before each sum.
func (o *Observer) prepare(h float64) *size {
	a := sloan()
	s := &size{standard: o.noise}
	energy := make([]complex128, len(a.fx))
	for n := range a.fx {
		fx, fy := a.fx[n]/h, a.fy[n]/h
		f := math.Hypot(fx, fy)
		ref := o.reference.At(fx, fy)
		n0 := nerve(o.model, f, o.trolands)
		w := 2 * h * h / (perCycle * perCycle) * n0 * n0
		if math.IsNaN(w) || math.IsInf(w, 0) {
			w = 0 // beyond the highest frequency of the model
		}
		s.fx, s.fy, s.loss = append(s.fx, fx), append(s.fy, fy), append(s.loss, csf.LossShare(f))
		s.weight = append(s.weight, complex(w, 0)*cmplx.Conj(ref))
		energy[n] = s.weight[n] * ref
	}
	s.normalise(a.sums(energy))
	return s
}

// normalise scales the templates to unit energy and factors the covariance of
// their noise, C = l l'.
func (s *size) normalise(g [letters][letters]float64) {
	for i := range letters {
		s.perRoot[i] = 1 / math.Sqrt(g[i][i])
	}
	for i := range letters {
		for k := range i + 1 {
			v := g[i][k] * s.perRoot[i] * s.perRoot[k]
			for m := range k {
				v -= s.lower[i][m] * s.lower[k][m]
			}
			if i == k {
				s.lower[i][i] = math.Sqrt(max(v, 0))
			} else if s.lower[k][k] > 0 {
				s.lower[i][k] = v / s.lower[k][k]
			}
		}
	}
}

// sums returns Re Σ q conj(L_i) L_k over half the plane for all i and k.
func (a *alphabet) sums(q []complex128) (out [letters][letters]float64) {
	var re, im [pairs]float64
	for n, v := range q {
		if v == 0 {
			continue
		}
		qr, qi := real(v), imag(v)
		row := a.pair[n*pairs : (n+1)*pairs]
		for p, c := range row {
			re[p] += qr * real(c)
			im[p] += qi * imag(c)
		}
	}
	p := 0
	for i := range letters {
		for k := i; k < letters; k++ {
			out[i][k], out[k][i] = re[p]-im[p], re[p]+im[p]
			p++
		}
	}
	return out
}
