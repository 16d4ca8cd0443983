package plot

import (
	"fmt"
	"image"
	"math"

	"simview/internal/psf"
)

// Spread is the light of one point as the patient sees it, for a picture.
type Spread struct {
	psf  *psf.PSF
	peak float64 // brightest sample
}

// NewSpread prepares a point spread for drawing; one without light is an error.
func NewSpread(p *psf.PSF) (*Spread, error) {
	s := &Spread{psf: p}
	for _, v := range p.Pix {
		s.peak = math.Max(s.peak, float64(v))
	}
	if !(s.peak > 0) || math.IsInf(s.peak, 1) {
		return nil, fmt.Errorf("spread: holds no light")
	}
	return s, nil
}

const arcminPerDeg = 60

// HalfArcmin returns half the side, in minutes of arc, of the square about
// straight ahead that holds the share of the light (0 to 1), a round number; at
// most what the spread reaches.
func (s *Spread) HalfArcmin(share float64) float64 {
	reach := float64(s.psf.N) * s.psf.StepDeg * arcminPerDeg / 2
	for _, half := range [...]float64{2, 3, 5, 7.5, 10, 15, 20, 30, 45, 60, 90, 120} {
		d := half / arcminPerDeg
		if half >= reach || s.psf.Share(-d, d, -d, d) >= share {
			return math.Min(half, reach)
		}
	}
	return math.Min(180, reach)
}

// At returns the light at a direction as the patient sees it (minutes of arc,
// right +, up +), 1 for the brightest sample, 0 beyond the support; straight lines
// between samples.
func (s *Spread) At(xArcmin, yArcmin float64) float64 {
	step := s.psf.StepDeg * arcminPerDeg
	u, v := xArcmin/step+float64(s.psf.N/2), float64(s.psf.N/2)-yArcmin/step
	i, j := math.Floor(u), math.Floor(v)
	f, g := u-i, v-j
	a := s.pix(int(i), int(j))*(1-f) + s.pix(int(i)+1, int(j))*f
	b := s.pix(int(i), int(j)+1)*(1-f) + s.pix(int(i)+1, int(j)+1)*f
	return (a*(1-g) + b*g) / s.peak
}

func (s *Spread) pix(i, j int) float64 {
	if i < 0 || j < 0 || i >= s.psf.N || j >= s.psf.N {
		return 0
	}
	return float64(s.psf.Pix[j*s.psf.N+i])
}

// draw fills box with the square of the given half side: colour by the square
// root of the light.
func (s *Spread) draw(c *canvas, box image.Rectangle, halfArcmin float64) {
	p := Glow()
	size := min(box.Dx(), box.Dy())
	for j := range size {
		for i := range size {
			x := (2*(float64(i)+.5)/float64(size) - 1) * halfArcmin
			y := (1 - 2*(float64(j)+.5)/float64(size)) * halfArcmin
			c.img.SetNRGBA(box.Min.X+i, box.Min.Y+j, p.At(math.Sqrt(s.At(x, y))))
		}
	}
}
