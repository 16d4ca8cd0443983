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
	m, n := blockGrid(g)
	out := mapOf{m, make([]float32, m.Len())}
	fft.InBlocks(m.H, func(from, to int) {
		for j := from; j < to; j++ {
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
	})
	return out
}

// blockGrid is the grid whose samples are blocks of n x n samples of g, about
// mapStep wide.
func blockGrid(g light.Grid) (b light.Grid, n int) {
	n = max(1, int(math.Round(mapStep/g.StepDeg)))
	return light.Grid{W: (g.W + n - 1) / n, H: (g.H + n - 1) / n, StepDeg: g.StepDeg * float64(n), LeftDeg: g.LeftDeg, TopDeg: g.TopDeg}, n
}
