package light

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/fft"
)

// MaxViewerGain is the largest gain that [ForViewer] takes: beyond it a picture
// shows more noise and edge than eye.
const MaxViewerGain = 3.0

// ForViewer returns the picture sharpened for a viewer whose own normal eye will
// blur it a second time, and the share of its samples that the display's range
// did not let it sharpen in full. mtf is the viewer's modulation transfer at a
// frequency in cycles per degree, 1 at 0; gain, above 1 and at most
// [MaxViewerGain], is never passed:
//
//	H(f) = mtf (1 + e²) / (mtf² + e²), e = gain - √(gain² - 1)
//
// which is 1 at f = 0, nearly 1/mtf where the viewer sees well, and falls back to
// nothing where he sees little. The result stays within the range of the picture
// itself, 0 to its brightest sample of the same primary. An error says which
// number is none.
func ForViewer(m *Image, mtf func(cpd float64) float64, gain float64) (out *Image, limited float64, err error) {
	if !(gain > 1 && gain <= MaxViewerGain) {
		return nil, 0, fmt.Errorf("viewer's eye: gain is %v, expected above 1 and at most %g", gain, MaxViewerGain)
	}
	if err := m.Check(); err != nil {
		return nil, 0, fmt.Errorf("viewer's eye: %w", err)
	}
	// Mirrored at its edges: a picture has no neighbour of another brightness.
	w, h := fft.GoodSize(2*m.W), fft.GoodSize(2*m.H)
	plan, err := fft.NewReal2D(w, h)
	if err != nil {
		return nil, 0, err
	}
	gains := viewerGains(w, h, m.StepDeg, mtf, gain-math.Sqrt(gain*gain-1))
	out = NewImage(m.Grid)
	src, n := m.Planes(), 0
	for p, dst := range out.Planes() {
		work := mirrored(src[p], m.W, m.H, w, h)
		spec := plan.Forward(nil, work)
		for i, g := range gains {
			spec[i] *= complex(g, 0)
		}
		work = plan.Inverse(work, spec)
		n += withinRange(dst, work, m.W, w, slices.Max(src[p]))
	}
	return out, float64(n) / float64(3*m.Len()), nil
}

// viewerGains returns H on the half spectrum of a w x h picture.
func viewerGains(w, h int, stepDeg float64, mtf func(float64) float64, e float64) []float32 {
	half := w/2 + 1
	g := make([]float32, h*half)
	for l := range h {
		fy := float64(min(l, h-l)) / (float64(h) * stepDeg)
		for k := range half {
			t := mtf(math.Hypot(float64(k)/(float64(w)*stepDeg), fy))
			g[l*half+k] = float32(t * (1 + e*e) / (t*t + e*e))
		}
	}
	return g
}

// mirrored lays a plane of w x h samples on a larger raster, mirrored to the
// right and below, its last column and row held where there is room left over.
func mirrored(src []float32, w, h, padW, padH int) []float32 {
	at := func(i, n, pad int) int {
		if i >= pad-n {
			return pad - 1 - i
		}
		return min(i, n-1)
	}
	out := make([]float32, padW*padH)
	for j := range padH {
		row := src[at(j, h, padH)*w:][:w]
		for i := range padW {
			out[j*padW+i] = row[at(i, w, padW)]
		}
	}
	return out
}

// withinRange copies the picture out of its raster, limits it to 0 to top and
// counts what was limited by more than a thousandth of top.
func withinRange(dst, src []float32, w, padW int, top float32) (limited int) {
	for k := range dst {
		v := src[k/w*padW+k%w]
		dst[k] = min(max(v, 0), top)
		if d := dst[k] - v; max(d, -d) > top/1000 {
			limited++
		}
	}
	return limited
}
