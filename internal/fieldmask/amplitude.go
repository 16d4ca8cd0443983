package fieldmask

import "fmt"

// Bands reads local contrast in the octave bands of [See], for numbers that must
// agree with its pictures. It works on rasters that are periodic: the caller draws
// enough round the picture. Safe for concurrent use.
type Bands struct {
	whole  frame
	bands  []band
	frames []frame // on which each band is read, coarser for low bands
}

// NewBands sets up the bands of rasters of w columns and h rows, stepDeg degrees
// apart. It is an error when the step is too coarse for any band.
func NewBands(w, h int, stepDeg float64) (*Bands, error) {
	b := &Bands{bands: bandsFor(stepDeg)}
	if w < 2 || h < 2 || len(b.bands) == 0 {
		return nil, fmt.Errorf("fieldmask: %d x %d samples of %g degrees hold no band of contrast", w, h, stepDeg)
	}
	b.whole = newFrame(w, h, stepDeg)
	for _, one := range b.bands {
		b.frames = append(b.frames, b.whole.small(one))
	}
	return b, nil
}

// Centres lists the centres of the bands, cycles per degree, low ones first. The
// last band holds all that is finer too.
func (b *Bands) Centres() []float64 {
	var out []float64
	for _, one := range b.bands {
		out = append(out, one.f0)
	}
	return out
}

// Spectrum returns the half spectrum of a plane of luminance, as package fft lays
// it out.
func (b *Bands) Spectrum(luminance []float32) []complex64 {
	return b.whole.plan.Forward(nil, luminance)
}

// Amplitude returns the local amplitude in band k of the luminance that has the
// spectrum: √2 times the root mean square under a Gaussian of 0.3 periods, in the
// unit of the luminance. Each frequency of the band counts as threshold says, as if
// all were at the band's centre f0,
//
//	amplitude of f × T(f0) / T(f)
//
// It is given on w columns and h rows that lie evenly over the raster, the first on
// its first sample.
func (b *Bands) Amplitude(spectrum []complex64, k int, threshold func(f float64) float64) (v []float32, w, h int) {
	to, one := b.frames[k], b.bands[k]
	v = b.whole.energy(spectrum, to, one, one.seen(threshold))
	for i, x := range v {
		v[i] = sqrt(2 * x)
	}
	return v, to.w, to.h
}
