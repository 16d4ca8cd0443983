package studio

import "math"

// Numbers of the cleaning filter.
const (
	cleanLevels = 5    // each reaches twice as far as the one before: 62 pixels in all
	sameFace    = 64.0 // power of the cosine between two normals
	flatness    = 1.5  // places may lie so many pixels off the plane of the first
	spreadSD    = 3.0  // luminances may differ by so many standard deviations of their noise
)

// taps is the B3 spline.
var taps = [5]float64{1.0 / 16, 1.0 / 4, 3.0 / 8, 1.0 / 4, 1.0 / 16}

// Clean takes noise from the light on bodies and from what coats mirror, by a
// filter with holes (Dammertz2010, from memory) that mixes a pixel only with
// others on the same face whose light differs by no more than their noise.
// Texture, edges and sources are not touched.
func (f *Film) Clean() {
	for level := range cleanLevels {
		from := make([]pixel, len(f.px))
		copy(from, f.px)
		rows(f.H, func(j int) {
			for i := range f.W {
				f.clean(from, i, j, 1<<level)
			}
		})
	}
}

// mean is a weighted mean with its variance.
type mean struct {
	sum       RGB
	weight    float64
	variances float64
}

func (m *mean) add(c RGB, variance, w float64) {
	m.sum = m.sum.Add(c.Mul(w))
	m.weight += w
	m.variances += w * w * variance
}

func (f *Film) clean(from []pixel, i, j, step int) {
	at := &from[j*f.W+i]
	if at.n == (V3{}) {
		return
	}
	sdBody, sdCoat := spread(f, from, i, j)
	yBody, yCoat := at.body.Y(), at.coat.Y()
	var body, coat mean
	for b, kb := range taps {
		y := j + (b-2)*step
		if y < 0 || y >= f.H {
			continue
		}
		for a, ka := range taps {
			x := i + (a-2)*step
			if x < 0 || x >= f.W {
				continue
			}
			o := &from[y*f.W+x]
			w := ka * kb
			if o != at {
				w *= f.alike(at, o, step)
			}
			if w < 1e-6 {
				continue
			}
			body.add(o.body, o.bodyVar, w*math.Exp(-math.Abs(o.body.Y()-yBody)/sdBody))
			coat.add(o.coat, o.coatVar, w*math.Exp(-math.Abs(o.coat.Y()-yCoat)/sdCoat))
		}
	}
	to := &f.px[j*f.W+i]
	to.body, to.bodyVar = body.sum.Mul(1/body.weight), body.variances/(body.weight*body.weight)
	to.coat, to.coatVar = coat.sum.Mul(1/coat.weight), coat.variances/(coat.weight*coat.weight)
}

// alike is the weight of another pixel by its normal and place.
func (f *Film) alike(a, o *pixel, step int) float64 {
	c := a.n.Dot(o.n)
	if c <= 0.5 {
		return 0
	}
	d := o.p.Sub(a.p)
	size := d.Len() + 1e-9
	off := math.Abs(d.Dot(a.n)) / size * float64(step)
	return math.Pow(c, sameFace) * math.Exp(-off/flatness)
}

// spread is how far light may differ, from the noise of the pixels around.
func spread(f *Film, from []pixel, i, j int) (body, coat float64) {
	n := 0.0
	for y := max(j-1, 0); y <= min(j+1, f.H-1); y++ {
		for x := max(i-1, 0); x <= min(i+1, f.W-1); x++ {
			p := &from[y*f.W+x]
			body, coat, n = body+p.bodyVar, coat+p.coatVar, n+1
		}
	}
	const still = 1e-9 // keeps the division sound where there is no noise at all
	return spreadSD*math.Sqrt(body/n) + still, spreadSD*math.Sqrt(coat/n) + still
}
