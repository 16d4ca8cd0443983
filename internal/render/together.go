package render

import (
	"fmt"
	"math"

	"simview/internal/fft"
	"simview/internal/light"
)

// TogetherWords says by what rule [Together] lays two pictures together.
const TogetherWords = "detail of each fineness from the eye that shows it with more contrast (weights by local contrast energy, Ding2006)"

// Octave bands of [Together]: Gaussians whose widths are half apart, in degrees.
const (
	finestSigmaDeg = 0.5 / 60 // below, the finest band
	togetherBands  = 7        // up to a sigma of about half a degree
	energyReach    = 2.0      // the energy of a band is smoothed over so many of its sigmas
)

// kneeOf is K of [Together] in adaptation luminances: above it a lamp's core no
// longer decides for its surround (an assumption, by eye).
const kneeOf = 10

// Together returns what two eyes see that look at the same place: two pictures of
// one scene, on one grid, each as its own eye passes it on; the adaptation
// luminance in cd/m². Every octave band of compressed light is the mean of the two
// weighted by its local contrast energy in each,
//
//	r = L / (1 + L / K),  K = 10 A
//	b = (E1 b1 + E2 b2) / (E1 + E2),  E = smoothed b²
//
// a simple form of a published model (Ding2006): equal pictures stay as they are,
// and where one eye has lost detail, by blur or by a lost field, the other shows
// it. What is coarser is the plain mean. Nothing leaves the range of the two
// pictures at any place. That two eyes need some 1.4 times less contrast than one at
// threshold, and that a blurred eye can disturb the other, are left out. Pictures
// on different grids, or an adaptation that is not above 0, are an error.
func Together(a, b *light.Image, adaptCdM2 float64) (*light.Image, error) {
	if a.Grid != b.Grid {
		return nil, fmt.Errorf("both eyes: the pictures lie on different grids (%+v, %+v)", a.Grid, b.Grid)
	}
	if !(adaptCdM2 > 0) {
		return nil, fmt.Errorf("both eyes: the adaptation luminance must be above 0 cd/m² (got %v)", adaptCdM2)
	}
	knee := float32(kneeOf * adaptCdM2)
	out := light.NewImage(a.Grid)
	po := out.Planes()
	mixBands(po, squeezed(a, knee), squeezed(b, knee))
	l := out.Luminance(nil)
	for c := range po {
		for i := range po[c] {
			po[c][i] /= max(1-l[i]/knee, 1e-6)
		}
	}
	limit(po, a, b)
	return out, nil
}

// squeezed is a picture in compressed light, its hues kept.
func squeezed(m *light.Image, knee float32) *light.Image {
	out := light.NewImage(m.Grid)
	for i, l := range m.Luminance(nil) {
		k := 1 / (1 + l/knee)
		out.R[i], out.G[i], out.B[i] = k*m.R[i], k*m.G[i], k*m.B[i]
	}
	return out
}

// mixBands adds up the bands of two pictures.
func mixBands(po [3][]float32, a, b *light.Image) {
	la, lb := a.Luminance(nil), b.Luminance(nil)
	pa, pb := a.Planes(), b.Planes()
	sigma := finestSigmaDeg
	for range togetherBands {
		wide := newSmoother(a.Grid, sigma)
		na, nb := wide.of(la), wide.of(lb)
		w := weights(newSmoother(a.Grid, energyReach*sigma), difference(la, na), difference(lb, nb))
		for c := range po {
			ca, cb := wide.of(pa[c]), wide.of(pb[c])
			for i := range w {
				po[c][i] += w[i]*(pa[c][i]-ca[i]) + (1-w[i])*(pb[c][i]-cb[i])
			}
			pa[c], pb[c] = ca, cb
		}
		la, lb = na, nb
		sigma *= 2
	}
	addMean(po, pa, pb)
	limit(po, a, b)
}

// weights is the share of the first picture in a band.
func weights(s smoother, a, b []float32) []float32 {
	ea, eb := s.of(squares(a)), s.of(squares(b))
	for i := range ea {
		if sum := ea[i] + eb[i]; sum > math.SmallestNonzeroFloat32 {
			ea[i] /= sum
		} else {
			ea[i] = 0.5
		}
	}
	return ea
}

func difference(a, b []float32) []float32 {
	out := make([]float32, len(a))
	for i := range out {
		out[i] = a[i] - b[i]
	}
	return out
}

func squares(a []float32) []float32 {
	for i, v := range a {
		a[i] = v * v
	}
	return a
}

func addMean(to, a, b [3][]float32) {
	for c := range to {
		for i := range to[c] {
			to[c][i] += (a[c][i] + b[c][i]) / 2
		}
	}
}

// limit keeps every primary between those of the two pictures.
func limit(to [3][]float32, a, b *light.Image) {
	pa, pb := a.Planes(), b.Planes()
	for c := range to {
		for i, v := range to[c] {
			low, high := min(pa[c][i], pb[c][i]), max(pa[c][i], pb[c][i])
			to[c][i] = min(max(v, low), high)
		}
	}
}

// smoother is a Gaussian on a grid: three running means along rows and columns,
// their widths chosen for the variance; at the edge the outermost sample goes on.
type smoother struct {
	w, h int
	half int // samples
}

// newSmoother takes three means of 2 half + 1 samples, whose variance together,
// ((2 half + 1)² - 1) / 4, is sigma².
func newSmoother(g light.Grid, sigmaDeg float64) smoother {
	s := sigmaDeg / g.StepDeg
	return smoother{g.W, g.H, int(math.Round((math.Sqrt(4*s*s+1) - 1) / 2))}
}

func (s smoother) of(v []float32) []float32 {
	out := append([]float32(nil), v...)
	if s.half == 0 {
		return out
	}
	fft.InBlocks(s.h, func(from, to int) {
		line := make([]float32, s.w)
		for j := from; j < to; j++ {
			for range 3 {
				s.mean(out[j*s.w:], 1, line)
			}
		}
	})
	fft.InBlocks(s.w, func(from, to int) {
		line := make([]float32, s.h)
		for i := from; i < to; i++ {
			for range 3 {
				s.mean(out[i:], s.w, line)
			}
		}
	})
	return out
}

// mean replaces a line, whose samples lie stride apart, by its running mean.
func (s smoother) mean(v []float32, stride int, line []float32) {
	n := len(line)
	for i := range line {
		line[i] = v[i*stride]
	}
	at := func(i int) float64 { return float64(line[min(max(i, 0), n-1)]) }
	sum := 0.0
	for i := -s.half; i <= s.half; i++ {
		sum += at(i)
	}
	for i := range n {
		v[i*stride] = float32(sum / float64(2*s.half+1))
		sum += at(i+s.half+1) - at(i-s.half)
	}
}
