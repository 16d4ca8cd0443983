package light

import (
	"fmt"
	"math"
	"sort"
)

// Curve is the shape of a tone curve.
type Curve int

// The tone curves.
const (
	Linear       Curve = iota // luminance / white
	Photographic              // extended photographic curve, soft shoulder
)

// String returns "linear" or "photographic".
func (c Curve) String() string {
	switch c {
	case Linear:
		return "linear"
	case Photographic:
		return "photographic"
	}
	return fmt.Sprintf("curve(%d)", int(c))
}

// Tone takes linear light to the display, the same for every panel of a scene.
type Tone struct {
	Name      string  // for the caption: curve and white
	WhiteCdM2 float64 // luminance shown as the display's white, cd/m²
	MidCdM2   float64 // photographic only: luminance where the shoulder starts to bend
	Curve     Curve
}

// Numbers that choose a tone.
const (
	NightBelowCdM2  = 5     // below this adaptation a scene is mesopic (CIE 191:2010, its upper limit)
	nightWhiteRatio = 10    // white of a night scene over its adaptation luminance; own choice from trial pictures
	dayWhiteShare   = 0.995 // share of the reference view at or below white by day; own choice
	photographicKey = 0.18  // log-mean luminance goes to this before the curve (Reinhard 2002)
)

// ToneFor chooses the tone of a scene from its reference view. kind is "linear"
// or "photographic"; adaptCdM2 is the adapting luminance, cd/m². Below
// [NightBelowCdM2] white is ten times the adapting luminance, whatever lamps
// the view holds; otherwise it is the luminance that 99.5 % of the view do not
// pass. It is an error when kind is another word, adaptCdM2 is not above zero,
// or the view is black or holds a value that is not finite.
func ToneFor(ref *Image, kind string, adaptCdM2 float64) (Tone, error) {
	var curve Curve
	switch kind {
	case "linear":
		curve = Linear
	case "photographic":
		curve = Photographic
	default:
		return Tone{}, fmt.Errorf("tone: curve %q is not known, expected linear or photographic", kind)
	}
	if !(adaptCdM2 > 0) || math.IsInf(adaptCdM2, 0) {
		return Tone{}, fmt.Errorf("tone: adapting luminance is %v cd/m², expected a number above zero", adaptCdM2)
	}
	white, logMean, err := measure(ref)
	if err != nil {
		return Tone{}, err
	}
	if adaptCdM2 < NightBelowCdM2 {
		white = nightWhiteRatio * adaptCdM2
	}
	mid := min(white, logMean/photographicKey)
	name := fmt.Sprintf("%v, white %.3g cd/m²", curve, white)
	return Tone{name, white, mid, curve}, nil
}

// measure returns the luminance at the day white's share and the log mean.
func measure(ref *Image) (white, logMean float64, err error) {
	l := ref.Luminance(nil)
	var sum float64
	var top float32
	for _, v := range l {
		if !(v >= 0) || v > math.MaxFloat32 {
			return 0, 0, fmt.Errorf("tone: the reference view holds a luminance of %v, expected finite numbers from zero up", v)
		}
		top = max(top, v)
	}
	if top == 0 {
		return 0, 0, fmt.Errorf("tone: the reference view is black, nothing to expose for")
	}
	for _, v := range l {
		sum += math.Log(max(float64(v), 1e-6*float64(top)))
	}
	sort.Slice(l, func(a, b int) bool { return l[a] < l[b] })
	white = float64(l[min(len(l)-1, int(dayWhiteShare*float64(len(l))))])
	if white == 0 {
		white = float64(top)
	}
	return white, math.Exp(sum / float64(len(l))), nil
}

// Display returns the display luminance, 1 = white, of luminance l in cd/m².
// Linear: l/white. Photographic, with x = l/mid and w = white/mid:
//
//	x (1 + x/w²)/(1 + x)
//
// Values above 1 are not limited here. Source: Reinhard et al. 2002.
func (t Tone) Display(l float64) float64 {
	if t.Curve == Linear {
		return l / t.WhiteCdM2
	}
	x, w := l/t.MidCdM2, t.WhiteCdM2/t.MidCdM2
	return x * (1 + x/(w*w)) / (1 + x)
}

// RGB returns the linear display values, each 0 to 1, of one pixel in cd/m².
// The three are scaled by one factor, which keeps the hue; only what then lies
// outside the display is mixed with grey of the same luminance, just enough.
func (t Tone) RGB(r, g, b float32) (dr, dg, db float32) {
	l := WeightR*r + WeightG*g + WeightB*b
	if l <= 0 {
		return 0, 0, 0
	}
	d := float32(t.Display(float64(l)))
	if d >= 1 {
		return 1, 1, 1
	}
	f := d / l
	return intoGamut(r*f, g*f, b*f, d)
}

// intoGamut mixes a colour with grey of its luminance d (0 < d < 1) until no
// channel is above 1 or below 0.
func intoGamut(r, g, b, d float32) (float32, float32, float32) {
	k := float32(1)
	if top := max(r, g, b); top > 1 {
		k = (1 - d) / (top - d)
	}
	if low := min(r, g, b); low < 0 {
		k = min(k, d/(d-low))
	}
	if k == 1 {
		return r, g, b
	}
	return d + k*(r-d), d + k*(g-d), d + k*(b-d)
}

// ClippedShare returns the share of pixels (0 to 1) at or above the display's
// white, whose luminance the display does not show. The luminance of a plain
// white surface at exactly white counts as shown.
func (t Tone) ClippedShare(m *Image) float64 {
	var n int
	white := float32(t.WhiteCdM2 * (1 + 1e-6))
	for i := range m.R {
		if WeightR*m.R[i]+WeightG*m.G[i]+WeightB*m.B[i] > white {
			n++
		}
	}
	return float64(n) / float64(max(1, m.Len()))
}
