package fieldmask

import (
	"math"

	"simview/internal/fft"
)

const (
	lowestBand  = 0.25 // centre of the lowest octave band, cycles per degree
	highestBand = 16.0 // highest centre; all that is finer goes with it
	poolSigma   = 0.3  // standard deviation of the contrast window, in periods of the band's centre
)

// band is one octave band, in cycles per degree. The raised cosine of the log
// of frequency
//
//	B(f) = ½ [1 + cos(π log2(f / f0))],  f0/2 < f < 2 f0
//
// sums to 1 over neighbouring bands; the top band keeps 1 from its centre up, and
// what lies below the lowest band is never changed.
type band struct {
	f0  float64
	top bool
}

// bandsFor lists the bands of a grid whose step is stepDeg, low ones first; the
// top one is the last whose centre lies well below the limit of the sampling.
func bandsFor(stepDeg float64) []band {
	var out []band
	for f := lowestBand; f <= highestBand && f < 0.75*0.5/stepDeg; f *= 2 {
		out = append(out, band{f0: f})
	}
	if len(out) > 0 {
		out[len(out)-1].top = true
	}
	return out
}

// split is B(f), the share of frequency f that the band holds.
func (b band) split(f float64) float64 {
	u := math.Log2(f / b.f0)
	if b.top && u > 0 {
		return 1
	}
	if math.Abs(u) >= 1 || f == 0 {
		return 0
	}
	return 0.5 * (1 + math.Cos(math.Pi*u))
}

// read is the filter through which the contrast of the band is read: 1 within
// half an octave of the centre, 0 from one octave, a raised cosine between; so a
// grating anywhere in the band counts whole.
func (b band) read(f float64) float64 {
	u := math.Log2(f / b.f0)
	if b.top && u > 0 {
		return 1
	}
	u = math.Abs(u)
	switch {
	case f == 0 || u >= 1:
		return 0
	case u <= 0.5:
		return 1
	}
	return 0.5 * (1 + math.Cos(math.Pi*(2*u-1)))
}

// seen is [band.read] with each frequency weighed as if all were at the centre:
//
//	read × T(f0) / T(f)
func (b band) seen(threshold func(f float64) float64) func(f float64) float64 {
	t0 := threshold(b.f0)
	return func(f float64) float64 {
		if v := b.read(f); v != 0 {
			return v * t0 / threshold(f)
		}
		return 0
	}
}

// frame is the padded raster that spectra belong to.
type frame struct {
	plan    *fft.Real2D
	w, h    int
	stepDeg float64
}

// newFrame makes the plan of a raster; the sizes come from fft.GoodSize.
func newFrame(w, h int, stepDeg float64) frame {
	p, err := fft.NewReal2D(w, h)
	if err != nil {
		panic("fieldmask: " + err.Error())
	}
	return frame{p, w, h, stepDeg}
}

// small returns the frame on which a band is worked: twice as fine as its
// highest frequency 2 f0 needs, or the frame itself when that is coarser. Its
// samples lie evenly over the same extent, the first on the first.
func (fr frame) small(b band) frame {
	perDeg := 8 * b.f0
	w := fft.GoodSize(int(math.Ceil(float64(fr.w) * fr.stepDeg * perDeg)))
	h := fft.GoodSize(int(math.Ceil(float64(fr.h) * fr.stepDeg * perDeg)))
	if b.top || w >= fr.w || h >= fr.h {
		return fr
	}
	return newFrame(w, h, 0)
}

// table tabulates a filter over frequency in steps fine enough to read linearly.
func table(f func(float64) float64, f0 float64) func(float64) float32 {
	const n = 2048
	var v [n + 2]float32
	for i := range v {
		v[i] = float32(f(2 * f0 * float64(i) / n))
	}
	return func(x float64) float32 {
		u := x / (2 * f0) * n
		if u >= n {
			return v[n]
		}
		i := int(u)
		return v[i] + float32(u-float64(i))*(v[i+1]-v[i])
	}
}

// pick cuts the filtered part of a spectrum of fr out for the frame to (which
// may be fr itself), into room for the caller to [spare].
func (fr frame) pick(spec []complex64, to frame, b band, filter func(float64) float64) []float32 {
	t := table(filter, b.f0)
	half, toHalf := fr.plan.HalfWidth(), to.plan.HalfWidth()
	out := room[complex64](&spectra, to.h*toHalf)
	scale := float32(float64(to.w*to.h) / float64(fr.w*fr.h))
	beyond := scale * t(math.Inf(1))
	du, dv := 1/(float64(fr.w)*fr.stepDeg), 1/(float64(fr.h)*fr.stepDeg)
	fft.InBlocks(to.h, func(first, end int) {
		for j := first; j < end; j++ {
			l := signed(j, to.h)
			src, row := spec[(l+fr.h)%fr.h*half:][:toHalf], out[j*toHalf:]
			last := min(b.within(float64(l)*dv, du), toHalf)
			for k, c := range src[:last] {
				g := scale * t(radius(float64(k)*du, float64(l)*dv))
				row[k] = complex(g*real(c), g*imag(c))
			}
			for k := last; k < toHalf; k++ {
				row[k] = complex(beyond*real(src[k]), beyond*imag(src[k]))
			}
		}
	})
	v := to.plan.Inverse(plane(to.w*to.h), out)
	spectra.Put(&out)
	return v
}

// within is the number of columns, du apart, that lie within 2 f0 in a row at v,
// cycles per degree; from there on every filter of a band stays as it is.
func (b band) within(v, du float64) int {
	return int(math.Sqrt(max(4*b.f0*b.f0-v*v, 0))/du) + 1
}

// taper is what a band worked on a decimated frame keeps of frequency f when it
// goes back: 1 to 2 f0, the band's own end, then a raised cosine to 0 at 3.8 f0,
// short of the frame's limit. A hard end rings along rows and columns wherever
// the gain falls steeply beside a lamp.
func (b band) taper(f float64) float64 {
	const end = 3.8
	u := (f/b.f0 - 2) / (end - 2)
	return 0.5 * (1 + math.Cos(math.Pi*min(1, max(0, u))))
}

// put adds the spectrum of a plane v on frame from, which holds band b, to the
// spectrum dst of fr.
func (fr frame) put(dst []complex64, v []float32, from frame, b band) {
	spec := from.plan.Forward(room[complex64](&spectra, from.h*from.plan.HalfWidth()), v)
	defer spectra.Put(&spec)
	half, fromHalf := fr.plan.HalfWidth(), from.plan.HalfWidth()
	scale := float32(float64(fr.w*fr.h) / float64(from.w*from.h))
	t := table(func(f float64) float64 { return b.taper(2 * f) }, b.f0)
	du, dv := 1/(float64(fr.w)*fr.stepDeg), 1/(float64(fr.h)*fr.stepDeg)
	fft.InBlocks(from.h, func(first, end int) {
		for j := first; j < end; j++ {
			l := signed(j, from.h)
			if 2*l == -from.h {
				continue
			}
			row := dst[(l+fr.h)%fr.h*half:]
			for k, c := range spec[j*fromHalf:][:fromHalf-1] {
				g := scale * t(radius(float64(k)*du, float64(l)*dv)/2)
				row[k] += complex(g*real(c), g*imag(c))
			}
		}
	})
}

// radius is the length of (u, v); frequencies need no care for overflow.
func radius(u, v float64) float64 { return math.Sqrt(u*u + v*v) }

// signed returns the frequency index of row j of n, from -n/2 to n/2-1.
func signed(j, n int) int {
	if 2*j >= n {
		return j - n
	}
	return j
}
