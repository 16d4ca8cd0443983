package psf

import (
	"math"
	"math/cmplx"

	"simview/internal/fft"
)

// OTF is the optical transfer function of a [PSF],
//
//	OTF(fx, fy) = sum over samples of P(x, y) exp(-2 pi i (fx x + fy y))
//
// kept on a raster fine enough to interpolate between. Where the share u of the
// light passes beside the lens it is (1 - u) OTF_through + u OTF_beside.
type OTF struct {
	beside  *Beside // nil: none
	m       int     // samples across and down
	step    float64 // cycles per degree
	nyquist float64 // cycles per degree, along each axis
	half    []complex64
}

// OTF returns the transfer function of all the light.
func (p *PSF) OTF() *OTF {
	through := p.ThroughOTF()
	if p.Beside == nil {
		return through
	}
	all := *through
	all.beside = p.Beside
	return &all
}

// ThroughOTF returns the transfer function of the light through the lens, that
// of Pix alone, worked out once; without light beside the lens it is that of all.
func (p *PSF) ThroughOTF() *OTF {
	p.otfOnce.Do(func() { p.otf = newOTF(p) })
	return p.otf
}

// newOTF transforms the spread, divided by the transform of the window that
// will interpolate it and padded with zeros.
func newOTF(p *PSF) *OTF {
	m := fft.GoodSize(int(math.Ceil(finer * float64(p.N))))
	plan, err := fft.NewReal2D(m, m)
	if err != nil {
		panic(err) // m is at least 2
	}
	undo := make([]float64, p.N)
	for i := range undo {
		undo[i] = 1 / kaiserBesselFT(float64(i-p.N/2)/float64(m))
	}
	wide := make([]float32, m*m)
	for j := range p.N {
		row := wide[(j-p.N/2+m)%m*m:][:m]
		for i, v := range p.Pix[j*p.N : (j+1)*p.N] {
			row[(i-p.N/2+m)%m] = float32(float64(v) * undo[i] * undo[j])
		}
	}
	o := &OTF{nil, m, 1 / (float64(m) * p.StepDeg), 1 / (2 * p.StepDeg), plan.Forward(nil, wide)}
	o.keepMean()
	return o
}

// keepMean scales the raster so that the interpolated value at 0 is exactly the
// sum of the spread, 1: an even surface keeps its luminance.
func (o *OTF) keepMean() {
	scale := float32(1 / real(o.At(0, 0)))
	for i, v := range o.half {
		o.half[i] = complex(scale*real(v), scale*imag(v))
	}
}

// sample returns raster element (k, l), k to the right and l down, any integers.
func (o *OTF) sample(k, l int) complex64 {
	k, l = (k%o.m+o.m)%o.m, (l%o.m+o.m)%o.m
	if k <= o.m/2 {
		return o.half[l*(o.m/2+1)+k]
	}
	v := o.half[(o.m-l)%o.m*(o.m/2+1)+o.m-k]
	return complex(real(v), -imag(v))
}

// At returns the transfer function at a frequency in cycles per degree, in the
// patient's axes (fx to the right, fy up); beyond the sampling of the spread it
// is 0.
func (o *OTF) At(fx, fy float64) complex128 {
	if o.beside == nil {
		return o.through(fx, fy)
	}
	u := complex(o.beside.Share, 0)
	return (1-u)*o.through(fx, fy) + u*o.beside.otf(fx, fy)
}

// through is the transfer function of Pix.
func (o *OTF) through(fx, fy float64) complex128 {
	if !(math.Abs(fx) <= o.nyquist && math.Abs(fy) <= o.nyquist) {
		return 0
	}
	k, wx := tapWeights(fx / o.step)
	l, wy := tapWeights(-fy / o.step)
	sum := complex128(0)
	for b := range taps {
		for a := range taps {
			sum += complex(wx[a]*wy[b], 0) * complex128(o.sample(k+a, l+b))
		}
	}
	return sum
}

// MTF returns the contrast, 0 to 1, kept by a grating of f cycles per degree
// whose light changes along angleDeg, counted from the right anticlockwise as
// the patient sees it (0 for upright bars).
func (o *OTF) MTF(f, angleDeg float64) float64 {
	s, c := math.Sincos(angleDeg * degree)
	return cmplx.Abs(o.At(f*c, f*s))
}

// RadialMTF returns the mean of [OTF.MTF] over 72 directions.
func (o *OTF) RadialMTF(f float64) float64 {
	const directions = 72
	sum := 0.0
	for k := range directions {
		sum += o.MTF(f, 180*float64(k)/directions)
	}
	return sum / directions
}
