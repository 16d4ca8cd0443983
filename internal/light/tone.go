package light

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/unit"
)

// Curve is the shape of a tone curve.
type Curve int

// The tone curves.
const (
	Linear       Curve = iota // luminance / white
	Photographic              // extended photographic curve, soft shoulder
	Visibility                // keeps visible what was visible and hidden what was hidden
)

// String returns "linear", "photographic" or "visibility".
func (c Curve) String() string {
	switch c {
	case Linear:
		return "linear"
	case Photographic:
		return "photographic"
	case Visibility:
		return "visibility"
	}
	return fmt.Sprintf("curve(%d)", int(c))
}

// Tone takes linear light to the display, the same for every panel of a scene.
type Tone struct {
	Name      string  // for the caption: curve and white
	WhiteCdM2 float64 // luminance shown as the display's white, cd/m²
	MidCdM2   float64 // photographic only: luminance where the shoulder starts to bend
	Curve     Curve
	adjusted  *adjustment // visibility only
}

// Numbers that choose a tone.
const (
	NightBelowCdM2  = 5     // below this adaptation a scene is mesopic (CIE 191:2010, its upper limit)
	nightWhiteRatio = 10    // white of a night scene over its adaptation luminance; own choice from trial pictures
	dayWhiteShare   = 0.995 // share of the reference view at or below white by day; own choice
	photographicKey = 0.18  // log-mean luminance goes to this before the curve (Reinhard 2002)
)

// ToneFor chooses the tone of a scene from its reference view. kind is "linear",
// "photographic" or "visibility"; adaptCdM2 is the adapting luminance, cd/m².
// Below [NightBelowCdM2] white is ten times the adapting luminance and the middle
// of the curve follows it too, whatever lamps and sky the view holds; otherwise
// white is the luminance that 99.5 % of the view do not pass, and the middle
// follows the view's log mean (a view of low contrast is shown linear).
// Visibility takes white and curve from the view alone. It is an error when kind
// is another word, adaptCdM2 is not above zero, or the view is black (linear and
// photographic: by day), empty, or fails [Image.Check].
func ToneFor(ref *Image, kind string, adaptCdM2 float64) (Tone, error) {
	curve, err := curveNamed(kind)
	if err != nil {
		return Tone{}, err
	}
	if !(adaptCdM2 > 0) || math.IsInf(adaptCdM2, 0) {
		return Tone{}, fmt.Errorf("tone: adapting luminance is %v cd/m², expected a number above zero", adaptCdM2)
	}
	if ref.Len() == 0 {
		return Tone{}, fmt.Errorf("tone: the reference view has no pixels")
	}
	if err := ref.Check(); err != nil {
		return Tone{}, fmt.Errorf("tone: %w", err)
	}
	if curve == Visibility {
		return visibilityFor(ref)
	}
	white, mid := nightWhiteRatio*adaptCdM2, adaptCdM2/photographicKey
	if adaptCdM2 >= NightBelowCdM2 {
		white, mid = dayWhite(ref), logMean(ref)/photographicKey
	}
	if white == 0 {
		return Tone{}, fmt.Errorf("tone: %g %% of the reference view are black, nothing to expose for", 100*dayWhiteShare)
	}
	name := fmt.Sprintf("%v, white %g cd/m²", curve, unit.Figures(white))
	return Tone{Name: name, WhiteCdM2: white, MidCdM2: min(mid, white), Curve: curve}, nil
}

func curveNamed(kind string) (Curve, error) {
	for c := Linear; c <= Visibility; c++ {
		if c.String() == kind {
			return c, nil
		}
	}
	return 0, fmt.Errorf("tone: curve %q is not known, expected linear, photographic or visibility", kind)
}

// dayWhite returns the luminance that [dayWhiteShare] of the view do not pass.
func dayWhite(ref *Image) float64 {
	l := ref.Luminance(nil)
	slices.Sort(l)
	return float64(l[min(len(l)-1, int(dayWhiteShare*float64(len(l))))])
}

// logMean returns the log mean of the luminance, black counted as a millionth
// of the brightest pixel.
func logMean(ref *Image) float64 {
	l := ref.Luminance(nil)
	floor := 1e-6 * float64(slices.Max(l))
	var sum float64
	for _, v := range l {
		sum += math.Log(max(float64(v), floor))
	}
	return math.Exp(sum / float64(len(l)))
}

// Display returns the display luminance, 1 = white, of luminance l in cd/m².
// Linear: l/white. Photographic, with x = l/mid and w = white/mid:
//
//	x (1 + x/w²)/(1 + x)
//
// Visibility is a table chosen from the reference view. Values above 1 are not
// limited here. Sources: Reinhard et al. 2002; Ward 1997.
func (t Tone) Display(l float64) float64 {
	switch {
	case t.Curve == Linear:
		return l / t.WhiteCdM2
	case t.Curve == Visibility:
		return t.adjusted.display(l)
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
