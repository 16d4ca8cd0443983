package light

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// The screen that the visibility curve is made for, cd/m²: white and the light
// that its surface throws back (IEC 61966-2-1: 80 cd/m² and 1 %, from memory).
const (
	screenWhite = 80.0
	screenBlack = 0.8
)

// Numbers of the visibility curve.
const (
	foveaDeg    = 1.0  // what the eye adapts to at a glance (Ward 1997)
	lowestShare = 1e-5 // luminance below this share of white counts as this share: own choice
	toneBins    = 200
)

// adjustment is a display curve through points in log luminance: straight in the
// log of the display's light between them, proportional to luminance below the
// lowest and above the highest.
type adjustment struct {
	low, step float64   // log10 cd/m² of the lowest point, and between points
	light     []float64 // log10 of the screen's light, cd/m², at the points
}

// display returns the display value, 1 = white, of l cd/m²: what the screen has
// to add to the light that it throws back.
func (a *adjustment) display(l float64) float64 {
	if l <= 0 {
		return 0
	}
	x := (math.Log10(l) - a.low) / a.step
	n := len(a.light) - 1
	switch {
	case x <= 0:
		return emitted(a.light[0]) * l / math.Pow(10, a.low)
	case x >= float64(n):
		return l / math.Pow(10, a.low+a.step*float64(n))
	}
	i := int(x)
	return emitted(a.light[i] + (x-float64(i))*(a.light[i+1]-a.light[i]))
}

func emitted(logLight float64) float64 {
	return (math.Pow(10, logLight) - screenBlack) / (screenWhite - screenBlack)
}

// visibilityFor returns the curve that keeps visible what was visible and hidden
// what was hidden: luminances that fill much of the view get more of the
// screen's range, but a contrast is never shown stronger, in units of what can
// just be seen, than it was,
//
//	d log Ld / d log L = min(k f(L), (ΔLt(Ld)/Ld) / (ΔLt(L)/L))
//
// f the share of the view per unit of log L, ΔLt the threshold, k such that the
// view fills the screen, or as large as you like where it cannot. White is the
// brightest square degree. Method: Ward Larson, Rushmeier and Piatko (Ward 1997);
// walking down from white instead of trimming the histogram is our own.
func visibilityFor(ref *Image) (Tone, error) {
	l := ref.Luminance(nil)
	white := brightestDegree(ref, l)
	if white == 0 {
		return Tone{}, fmt.Errorf("tone: the reference view is black, nothing to expose for")
	}
	a := &adjustment{low: math.Log10(white * lowestOf(l, white)), light: make([]float64, toneBins+1)}
	a.step = (math.Log10(white) - a.low) / toneBins
	f := histogram(l, a)
	low, high := 1e-6, 1e6
	for range 60 {
		k := math.Sqrt(low * high)
		if a.descend(f, k) < math.Log10(screenBlack) {
			high = k
		} else {
			low = k
		}
	}
	a.descend(f, low)
	name := fmt.Sprintf("%v, white %g cd/m²", Visibility, unit.Figures(white))
	return Tone{Name: name, WhiteCdM2: white, Curve: Visibility, adjusted: a}, nil
}

// descend fills the curve from white down and returns its lowest point.
func (a *adjustment) descend(f []float64, k float64) float64 {
	at := math.Log10(screenWhite)
	a.light[toneBins] = at
	for i := toneBins - 1; i >= 0; i-- {
		world := a.low + (float64(i)+0.5)*a.step
		at -= a.step * min(k*f[i], visibleSlope(world, at))
		a.light[i] = at
	}
	return at
}

// visibleSlope returns the steepest slope in log-log that shows no contrast
// stronger than it was; both luminances as log10 cd/m².
func visibleSlope(world, screen float64) float64 {
	return math.Pow(10, (logThreshold(screen)-screen)-(logThreshold(world)-world))
}

// brightestDegree returns the largest mean luminance of a square of foveaDeg.
func brightestDegree(m *Image, l []float32) float64 {
	n := max(1, int(math.Round(foveaDeg/m.StepDeg)))
	w, h := min(n, m.W), min(n, m.H)
	var best float64
	for y := 0; y+h <= m.H; y += h {
		for x := 0; x+w <= m.W; x += w {
			var sum float64
			for j := y; j < y+h; j++ {
				for _, v := range l[j*m.W+x : j*m.W+x+w] {
					sum += float64(v)
				}
			}
			best = max(best, sum/float64(w*h))
		}
	}
	return best
}

// lowestOf returns the least luminance above zero as a share of white, between
// lowestShare and a tenth.
func lowestOf(l []float32, white float64) float64 {
	low := 0.1 * white
	for _, v := range l {
		if v > 0 {
			low = min(low, float64(v))
		}
	}
	return max(low/white, lowestShare)
}

// histogram returns the share of the view per unit of log10 luminance in each
// bin; what is brighter than white is not counted. Every bin holds at least a
// thousandth of the mean, so that the curve rises everywhere.
func histogram(l []float32, a *adjustment) []float64 {
	f := make([]float64, toneBins)
	for i := range f {
		f[i] = 1e-3 / (toneBins * a.step)
	}
	one := 1 / (float64(len(l)) * a.step)
	for _, v := range l {
		x := (math.Log10(float64(v)) - a.low) / a.step
		if x < toneBins {
			f[max(0, int(max(x, 0)))] += one
		}
	}
	return f
}

// logThreshold returns log10 of the least difference of luminance that can be
// seen by an eye adapted to the luminance of log10 x, cd/m²; rods below, cones
// above (Ferwerda 1996 as used in Ward 1997, constants from memory):
//
//	-2.86                            x < -3.94
//	(0.405 x + 1.6)^2.18 - 2.86      to -1.44
//	x - 0.395                        to -0.0184
//	(0.249 x + 0.65)^2.7 - 0.72      to 1.9
//	x - 1.255                        above
func logThreshold(x float64) float64 {
	switch {
	case x < -3.94:
		return -2.86
	case x < -1.44:
		return math.Pow(0.405*x+1.6, 2.18) - 2.86
	case x < -0.0184:
		return x - 0.395
	case x < 1.9:
		return math.Pow(0.249*x+0.65, 2.7) - 0.72
	}
	return x - 1.255
}
