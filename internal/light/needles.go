package light

import (
	"math"
	"math/cmplx"
	"math/rand/v2"

	"simview/internal/fft"
)

// Needles is the fine structure of the light that small particles in the lens
// scatter round a lamp: coloured needles that point away from it. It moves the
// light of the veil about and adds none. An optional layer: where the particles
// of an eye lie, nobody measures.
type Needles struct {
	stepDeg float64
	n       int
	factor  [3][]float32 // [y][x], mean 1, the lamp in the middle
}

// Numbers of the needles.
const (
	needleSamples = 1024  // samples across the table
	needleSpecks  = 400   // particles; the pattern hardly depends on how many beyond some tens
	needleNM      = 555.0 // wavelength that the pattern is worked out at
	needleLines   = 64    // wavelengths per primary: two neighbours overlap to 1.5 degrees out
)

// NewNeedles works the pattern out for a pupil of pupilMM mm (above 0): particles
// p_k at random in the pupil and at random depths (phase φ_k), seeded, scatter
// evenly and interfere,
//
//	I(u; λ) = |sum over k of exp(i φ_k + 2π i u·p_k/λ)|² / K
//
// so the same speckle of λ/D stands at an angle that grows with λ, and white
// light draws it out into needles. Source of the model: van den Berg 2005. The
// table reaches 512 samples of a third of λ/D from the lamp and fades out to 1.
func NewNeedles(pupilMM float64, seed uint64) *Needles {
	c := &Needles{stepDeg: needleStepDeg(pupilMM), n: needleSamples}
	mono := speckle(seed)
	for p := range c.factor {
		c.factor[p] = c.spreadOut(mono, Primary(p, needleLines))
	}
	return c
}

// InPupil returns the same particles in a pupil of pupilMM mm (above 0), sharing the
// table: counted in λ/D, the pattern is that of every pupil.
func (c *Needles) InPupil(pupilMM float64) *Needles {
	same := *c
	same.stepDeg = needleStepDeg(pupilMM)
	return &same
}

// needleStepDeg is a third of λ/D.
func needleStepDeg(pupilMM float64) float64 { return needleNM * 1e-6 / pupilMM / 3 * 180 / math.Pi }

// ReachDeg returns how far from the lamp the needles go.
func (c *Needles) ReachDeg() float64 { return float64(c.n/2) * c.stepDeg }

// speckle returns I at needleNM, mean 1; three samples to λ/D put the pupil on a
// third of the transform.
func speckle(seed uint64) []float64 {
	const n = needleSamples
	rng := rand.New(rand.NewPCG(seed, 0x6e6565646c65))
	field := make([]complex128, n*n)
	for range needleSpecks {
		r, a := math.Sqrt(rng.Float64())*n/6, 2*math.Pi*rng.Float64()
		x, y := int(math.Round(r*math.Cos(a))), int(math.Round(r*math.Sin(a)))
		field[(y+n)%n*n+(x+n)%n] += cmplx.Rect(1, 2*math.Pi*rng.Float64())
	}
	plan, err := fft.NewComplex2D(n, n)
	if err != nil {
		panic("light: needles: " + err.Error()) // a good size: cannot happen
	}
	out := make([]float64, n*n)
	plan.ForwardColumns(field, func(k int, col []complex128) {
		for l, v := range col {
			x, y := (k+n/2)%n, (l+n/2)%n
			out[y*n+x] = (real(v)*real(v) + imag(v)*imag(v)) / needleSpecks
		}
	})
	return out
}

// spreadOut sums the pattern at all wavelengths, scaled by λ about the lamp, and
// fades to 1 towards the lamp, where the particles' light adds up to the core,
// and towards the edge.
func (c *Needles) spreadOut(mono []float64, lines []Line) []float32 {
	out := make([]float32, c.n*c.n)
	rows(c.n, func(from, to int) {
		for j := from; j < to; j++ {
			for i := range c.n {
				dx, dy := float64(i-c.n/2), float64(j-c.n/2)
				var sum float64
				for _, l := range lines {
					s := needleNM / l.NM
					sum += l.Weight * bilinear(mono, c.n, float64(c.n/2)+dx*s, float64(c.n/2)+dy*s)
				}
				w := c.window(math.Hypot(dx, dy))
				out[j*c.n+i] = float32(1 + w*(sum-1))
			}
		}
	})
	return out
}

// window is 0 within a few speckles of the lamp and at the edge; the longest
// waves reach the edge of the pattern at 555/700 of it.
func (c *Needles) window(r float64) float64 {
	half := float64(c.n / 2)
	in := min(max((r-6)/12, 0), 1)
	out := min(max((half-r)/(0.25*half), 0), 1)
	return in * out
}

// bilinear reads a table with linear interpolation, 1 outside.
func bilinear(t []float64, n int, x, y float64) float64 {
	i, j := int(math.Floor(x)), int(math.Floor(y))
	if i < 0 || j < 0 || i+1 >= n || j+1 >= n {
		return 1
	}
	fx, fy := x-float64(i), y-float64(j)
	top := t[j*n+i] + fx*(t[j*n+i+1]-t[j*n+i])
	bottom := t[(j+1)*n+i] + fx*(t[(j+1)*n+i+1]-t[(j+1)*n+i])
	return top + fy*(bottom-top)
}

// At returns the factor on the veil of a lamp per primary, (x, y) degrees from
// the lamp, right and up positive; 1 beyond [Needles.ReachDeg].
func (c *Needles) At(xDeg, yDeg float64) (f [3]float64) {
	x, y := float64(c.n/2)+xDeg/c.stepDeg, float64(c.n/2)-yDeg/c.stepDeg
	i, j := int(math.Floor(x)), int(math.Floor(y))
	for p := range f {
		f[p] = 1
		if i < 0 || j < 0 || i+1 >= c.n || j+1 >= c.n {
			continue
		}
		t, at := c.factor[p], j*c.n+i
		fx, fy := float32(x)-float32(i), float32(y)-float32(j)
		top := t[at] + fx*(t[at+1]-t[at])
		bottom := t[at+c.n] + fx*(t[at+c.n+1]-t[at+c.n])
		f[p] = float64(top + fy*(bottom-top))
	}
	return f
}

// Add draws the needles of every lamp into a retinal image that holds its veil:
//
//	dL = E_c VeilFactor Q(θ) (F_c - 1)
//
// F averaged over the sample. The image stays at or above zero, but for rounding,
// which is limited.
func (c *Needles) Add(dst *Image, lamps []Lamp, g Glare) {
	rows(dst.H, func(from, to int) {
		for n := range lamps {
			c.addOne(dst, &lamps[n], g, from, to)
		}
	})
}

func (c *Needles) addOne(dst *Image, l *Lamp, g Glare, from, to int) {
	reach := c.ReachDeg()
	x0, y0 := float64(l.At.X), float64(l.At.Y)
	fi, fj := dst.Pixel(x0-reach, y0+reach)
	li, lj := dst.Pixel(x0+reach, y0-reach)
	k, planes, factor := newKernel(g.Pigment), dst.Planes(), g.VeilFactor()
	for j := max(from, int(fj)); j < min(to, int(lj)+1); j++ {
		for i := max(0, int(fi)); i < min(dst.W, int(li)+1); i++ {
			x, y := dst.Centre(i, j)
			theta := math.Hypot(x-x0, y-y0)
			q := factor * (k.fixed(theta) + g.Scale*k.aged(theta))
			f := c.over(x-x0, y-y0, dst.StepDeg)
			for p := range planes {
				at := j*dst.W + i
				planes[p][at] = max(0, planes[p][at]+float32(l.Lux[p]*q*(f[p]-1)))
			}
		}
	}
}

// over returns the factor averaged over a sample stepDeg wide.
func (c *Needles) over(x, y, stepDeg float64) (f [3]float64) {
	m := max(1, int(math.Ceil(stepDeg/c.stepDeg)))
	for b := range m {
		for a := range m {
			v := c.At(x+stepDeg*((float64(a)+0.5)/float64(m)-0.5), y+stepDeg*((float64(b)+0.5)/float64(m)-0.5))
			for p := range f {
				f[p] += v[p] / float64(m*m)
			}
		}
	}
	return f
}
