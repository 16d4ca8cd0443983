package quality

import (
	"fmt"
	"math"

	"simview/internal/csf"
	"simview/internal/fft"
	"simview/internal/psf"
	"simview/internal/refraction"
	"simview/internal/unit"
)

const (
	pupilSamples = 96  // across the pupil; phase steps stay under 1 rad to 3 D at 6 mm
	transform    = 256 // padded by 2.67, so the OTF does not wrap
	designNM     = 555 // peak of photopic luminous efficiency, CIE 1931
)

// Pupil is a coarse sampling of one wavefront, made once, on which many
// corrections are tried. Safe for use by one goroutine at a time.
type Pupil struct {
	stepMM   float64
	x, y     []float64 // mm, of the samples inside
	at       []int     // their places in the transform
	pathUM   []float64
	neural   []float64 // transform of CSF_N, on the grid of the PSF
	ideal    float64   // sum of CSF_N x OTF_DL
	work     []complex128
	plan     *fft.Complex2D
	diameter float64
	covered  float64 // share of the pupil's light that passes the lens
}

// NewPupil samples the path (µm, clinician's axes) over a clear pupil of the
// diameter. A prism is taken out of it: the eye turns to look, and the ratio,
// which weighs Re OTF, would count a picture that has moved as a blurred one. An
// error names a diameter that is not positive or a place where the
// path is not finite.
func NewPupil(diameterMM float64, pathUM func(xMM, yMM float64) float64) (*Pupil, error) {
	return NewAperture(psf.Aperture{DiameterMM: diameterMM, PathUM: pathUM})
}

// NewAperture is NewPupil where some light passes beside a displaced lens: that
// light, degrees out of its place, counts as lost to all detail. Stiles-Crawford
// and an amplitude are left out. Where nothing passes the lens, the eye is one
// without.
func NewAperture(a psf.Aperture) (*Pupil, error) {
	diameterMM, pathUM := a.DiameterMM, a.PathUM
	if !(diameterMM > 0) || math.IsInf(diameterMM, 0) {
		return nil, fmt.Errorf("pupil: diameter must be positive (got %g mm)", diameterMM)
	}
	plan, err := fft.NewComplex2D(transform, transform)
	if err != nil {
		return nil, err
	}
	if pathUM == nil {
		pathUM = func(_, _ float64) float64 { return 0 }
	}
	p := &Pupil{covered: 1, stepMM: diameterMM / pupilSamples, plan: plan, diameter: diameterMM}
	p.work = make([]complex128, transform*transform)
	if err := p.sample(pathUM); err != nil {
		return nil, err
	}
	p.weigh()
	if err := p.uncover(a); err != nil {
		return nil, err
	}
	p.steady()
	return p, nil
}

// uncover drops the samples that lie beside the lens.
func (p *Pupil) uncover(a psf.Aperture) error {
	if a.InsideMM == nil {
		return nil
	}
	whole := *p
	p.x, p.y, p.at, p.pathUM = nil, nil, nil, nil
	for n, x := range whole.x {
		if y := whole.y[n]; a.InsideMM(x, y) >= 0 {
			p.x, p.y = append(p.x, x), append(p.y, y)
			p.at, p.pathUM = append(p.at, whole.at[n]), append(p.pathUM, whole.pathUM[n])
		}
	}
	p.covered = float64(len(p.x)) / float64(len(whole.x))
	if len(p.x) > 0 {
		return nil
	}
	p.covered = 1
	return p.sample(a.BesideUM)
}

func (p *Pupil) sample(pathUM func(xMM, yMM float64) float64) error {
	r := p.diameter / 2
	for j := range pupilSamples {
		y := (float64(j) + 0.5 - pupilSamples/2) * p.stepMM
		for i := range pupilSamples {
			x := (float64(i) + 0.5 - pupilSamples/2) * p.stepMM
			if x*x+y*y > r*r {
				continue
			}
			w := pathUM(x, y)
			if math.IsNaN(w) || math.IsInf(w, 0) {
				return fmt.Errorf("pupil: the path at (%.2f, %.2f) mm must be a finite number of µm (got %g)", x, y, w)
			}
			p.x, p.y = append(p.x, x), append(p.y, y)
			p.at = append(p.at, j*transform+i)
			p.pathUM = append(p.pathUM, w)
		}
	}
	return nil
}

// steady takes the plane that fits best out of the path, of any shape of pupil,
//
//	W' = W - W0 - a x - b y,  sum (W')² least
//
// in µm and µm per mm: a line in x first, then one in what x leaves of y.
func (p *Pupil) steady() {
	one := make([]float64, len(p.x))
	for i := range one {
		one[i] = 1
	}
	x, y := without(p.x, one), without(without(p.y, one), without(p.x, one))
	p.pathUM = without(without(without(p.pathUM, one), x), y)
}

// without returns a less its projection on b: a - (a·b / b·b) b.
func without(a, b []float64) []float64 {
	var ab, bb float64
	for i := range a {
		ab, bb = ab+a[i]*b[i], bb+b[i]*b[i]
	}
	k := 0.0
	if bb > 0 {
		k = ab / bb
	}
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - k*b[i]
	}
	return out
}

// weigh sets what depends on the diameter alone, from the store if it is there.
func (p *Pupil) weigh() {
	w, ok := weighings.of(p.diameter)
	if !ok {
		p.neural = p.kernel()
		p.ideal = p.weighted(make([]float64, len(p.pathUM)))
		weighings.keep(weights{p.diameter, p.neural, p.ideal})
		return
	}
	p.neural, p.ideal = w.neural, w.ideal
}

// kernel transforms CSF_N(f) = S(f) / M(f), the whole-eye sensitivity over the
// mean optical transfer of the eyes it was measured on (package csf), from the
// grid of the OTF, whose step is that of the pupil over the wavelength.
func (p *Pupil) kernel() []float64 {
	perRad := p.stepMM * 1e-3 / (designNM * 1e-9)
	step := perRad * unit.Degrees(1).Radians() // c/deg per OTF sample
	for j := range transform {
		for i := range transform {
			f := step * math.Hypot(centred(i, transform), centred(j, transform))
			p.work[j*transform+i] = complex(neural(f), 0)
		}
	}
	p.plan.Forward(p.work)
	out := make([]float64, transform*transform)
	for k, v := range p.work {
		out[k] = real(v)
	}
	return out
}

// neural is CSF_N(f), f in c/deg.
func neural(f float64) float64 {
	m := csf.WatsonAhumada{}
	mtf := csf.MeanMTF(f, m.PupilMM())
	if mtf <= 0 {
		return 0
	}
	return m.Whole(f) / mtf
}

// weighted returns the sum over frequencies of CSF_N x Re OTF for a path, by
// way of space, which saves a transform (Parseval):
//
//	sum_f CSF_N(f) OTF(f) = sum_x PSF(x) csf(x) / sum_x PSF(x)
//
// csf the transform of CSF_N.
func (p *Pupil) weighted(pathUM []float64) float64 {
	clear(p.work)
	k := 2 * math.Pi * 1e3 / designNM
	for n, at := range p.at {
		s, c := math.Sincos(k * pathUM[n])
		p.work[at] = complex(c, s)
	}
	p.plan.Forward(p.work)
	var sum, all float64
	for i, v := range p.work {
		psf := real(v)*real(v) + imag(v)*imag(v)
		sum += psf * p.neural[i]
		all += psf
	}
	return sum / all
}

// VisualStrehl returns
//
//	VSOTF = sum CSF_N Re(OTF) / sum CSF_N OTF_DL
//
// (Thibos et al. 2004) of the sampled wavefront plus the error e, times the share of
// the light that passes the lens.
func (p *Pupil) VisualStrehl(e refraction.PowerVector) float64 {
	path := make([]float64, len(p.pathUM))
	for n := range path {
		path[n] = p.pathUM[n] + e.PathUM(p.x[n], p.y[n])
	}
	return p.covered * p.weighted(path) / p.ideal
}
