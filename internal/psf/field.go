package psf

import (
	"fmt"
	"math"
	"math/cmplx"
)

// field is the light in the pupil at one wavelength: (2m+1)² complex
// amplitudes, dx mm apart, in rows of n (the rest of each row is zero). A cell
// on the rim holds the mean amplitude, so the energy of the samples falls short
// of what passed the pupil by the light thrown too far for them to carry.
type field struct {
	m, n   int
	v      []complex128
	energy float64 // sum of the squared samples
	passed float64 // the pupil's energy, in the same unit
}

// halfWidth is how many samples of dx reach from the centre over the rim.
func halfWidth(a Aperture, dx float64) int { return int(math.Ceil(a.DiameterMM/2/dx + 0.5)) }

// sampleField fills the pupil at the wavelength nm on a raster of step dx mm.
func sampleField(a Aperture, s *surface, nm, dx float64, n int, opt Options) (*field, error) {
	m := halfWidth(a, dx)
	f := &field{m: m, n: n, v: make([]complex128, n*(2*m+1))}
	w := s.resample(m, dx)
	bend, dim := acrossPupil(float64(a.CentreMM.X), m, dx, nm, opt)
	bendY, dimY := acrossPupil(float64(a.CentreMM.Y), m, dx, nm, opt)
	sx, sy := transverseSlope(nm, opt)
	for k := range bend {
		x := float64(k-m) * dx
		bend[k], bendY[k] = bend[k]+sx*x, bendY[k]+sy*x
	}
	for j := range 2*m + 1 {
		for i := range 2*m + 1 {
			x, y := float64(i-m)*dx, float64(j-m)*dx
			cover := coverage(x, y, a.DiameterMM/2, dx) * a.through(x, y, dx)
			if cover == 0 {
				continue
			}
			amp, err := a.amplitude(x, y)
			if err != nil {
				return nil, err
			}
			amp *= dim[i] * dimY[j]
			f.passed += cover * amp * amp
			amp *= cover
			phase := 2 * math.Pi * 1000 / nm * (w[j*(2*m+1)+i] + bend[i] + bendY[j])
			f.v[j*n+i] = cmplx.Rect(amp, phase)
			f.energy += amp * amp
		}
	}
	if !(f.energy > 0) {
		return nil, fmt.Errorf("psf: no light passes this %.2f mm pupil: the amplitude is 0 everywhere", a.DiameterMM)
	}
	return f, nil
}

// acrossPupil returns, along one axis, the path in µm that the change of focus
// with wavelength adds, -R x²/2, and the directional amplitude.
func acrossPupil(centre float64, m int, dx, nm float64, opt Options) (bend, dim []float64) {
	power := focusShift(nm, opt)
	for i := -m; i <= m; i++ {
		x := float64(i)*dx + centre
		bend = append(bend, -power*x*x/2)
		d := 1.0
		if opt.StilesCrawford {
			d = StilesCrawford(x, 0)
		}
		dim = append(dim, d)
	}
	return bend, dim
}

// amplitude asks the aperture at (x, y), drawn onto the rim if outside.
func (a Aperture) amplitude(x, y float64) (float64, error) {
	if a.Amplitude == nil {
		return 1, nil
	}
	if out := math.Hypot(x, y) / (a.DiameterMM / 2); out > 1 {
		x, y = x/out, y/out
	}
	v := a.Amplitude(x, y)
	if !(v >= 0) || !finite(v) {
		return 0, fmt.Errorf("psf: amplitude at pupil point (%.3f, %.3f) mm: must be finite and not negative (got %g)", x, y, v)
	}
	return v, nil
}

// through returns the share, 0 to 1, of a cell of side d about (x, y) whose light
// passes the lens, the edge taken as straight and level or upright.
func (a Aperture) through(x, y, d float64) float64 {
	if a.InsideMM == nil {
		return 1
	}
	return min(1, max(0, 0.5+a.InsideMM(x, y)/d))
}

// coverage returns the share, 0 to 1, of the square cell of side d about (x, y)
// that lies within the circle of radius r about the origin, the rim taken as
// straight within the cell.
func coverage(x, y, r, d float64) float64 {
	at := math.Hypot(x, y)
	in := (r - at) / d
	if at == 0 || math.Abs(in) >= math.Sqrt2/2 {
		return wholeOrNone(in)
	}
	a, b := math.Abs(x)/at, math.Abs(y)/at
	a, b = max(a, b), min(a, b)
	corner := (a + b) / 2
	switch {
	case math.Abs(in) >= corner:
		return wholeOrNone(in)
	case math.Abs(in) <= (a-b)/2:
		return 0.5 + in/a
	case in > 0:
		return 1 - (corner-in)*(corner-in)/(2*a*b)
	}
	return (corner + in) * (corner + in) / (2 * a * b)
}

func wholeOrNone(in float64) float64 {
	if in > 0 {
		return 1
	}
	return 0
}
