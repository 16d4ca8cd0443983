package fieldmask

import (
	"math"

	"simview/internal/fft"
	"simview/internal/light"
)

const (
	adaptSigmaDeg = 0.5  // standard deviation of the smoothing, so about 1 degree wide
	minAdapt      = 1e-4 // cd/m²; near the darkest a person sees at all, keeps ratios finite
)

// Adaptation returns the adaptation luminance of each pixel, cd/m²: the
// luminance of surfaces and veil (give it the picture without lamps) smoothed
// over about 1 degree (a Gaussian of 0.5 degrees; at the edges the mean of what
// there is), at least 0.0001.
func Adaptation(surfacesAndVeil *light.Image) []float32 {
	m := blockMeans(surfacesAndVeil.Grid, surfacesAndVeil.Luminance(nil))
	k := gaussTaps(adaptSigmaDeg / m.StepDeg)
	m.v = blurEdge(m.v, m.W, m.H, k)
	for i, v := range m.v {
		m.v[i] = max(v, minAdapt)
	}
	return m.spread(surfacesAndVeil.Grid)
}

// blockMeans averages a plane over blocks of about mapStep.
func blockMeans(g light.Grid, v []float32) mapOf {
	n := max(1, int(math.Round(mapStep/g.StepDeg)))
	m := blockGrid(g, n)
	out := mapOf{m, make([]float32, m.Len())}
	for j := range m.H {
		for i := range m.W {
			sum, count := 0.0, 0
			for y := j * n; y < min((j+1)*n, g.H); y++ {
				for _, a := range v[y*g.W+i*n : y*g.W+min((i+1)*n, g.W)] {
					sum += float64(a)
					count++
				}
			}
			out.v[j*m.W+i] = float32(sum / float64(count))
		}
	}
	return out
}

// blockGrid is the grid whose samples are blocks of n x n samples of g.
func blockGrid(g light.Grid, n int) light.Grid {
	return light.Grid{W: (g.W + n - 1) / n, H: (g.H + n - 1) / n, StepDeg: g.StepDeg * float64(n), LeftDeg: g.LeftDeg, TopDeg: g.TopDeg}
}

// gaussTaps returns the weights 0, 1, ... r of a Gaussian, not normalised.
func gaussTaps(sigma float64) []float32 {
	out := make([]float32, int(math.Ceil(3.5*sigma))+1)
	for i := range out {
		out[i] = float32(math.Exp(-float64(i*i) / (2 * sigma * sigma)))
	}
	return out
}

// blurEdge smooths a plane with the taps along both axes; beyond the edge
// nothing counts.
func blurEdge(v []float32, w, h int, taps []float32) []float32 {
	tmp, out := make([]float32, w*h), make([]float32, w*h)
	fft.InBlocks(h, func(from, to int) {
		for j := from; j < to; j++ {
			blurLine(tmp[j*w:(j+1)*w], v[j*w:(j+1)*w], taps)
		}
	})
	fft.InBlocks(w, func(from, to int) {
		col, res := make([]float32, h), make([]float32, h)
		for i := from; i < to; i++ {
			for j := range h {
				col[j] = tmp[j*w+i]
			}
			blurLine(res, col, taps)
			for j := range h {
				out[j*w+i] = res[j]
			}
		}
	})
	return out
}

// blurLine smooths one line.
func blurLine(dst, src, taps []float32) {
	for i := range src {
		sum, weight := float32(0), float32(0)
		for k := max(i-len(taps)+1, 0); k < min(i+len(taps), len(src)); k++ {
			t := taps[max(k-i, i-k)]
			sum += t * src[k]
			weight += t
		}
		dst[i] = sum / weight
	}
}
