package fieldmask

import (
	"math"

	"simview/internal/csf"
	"simview/internal/light"
)

// criteria works out those of a band.
func (st *stage) criteria(b band) criteria {
	gx, gy := float64(st.opt.Gaze.X), float64(st.opt.Gaze.Y)
	sensitivity, tilt := st.sensitivity(b.f0), st.tilt(b.f0)
	return criteria{
		perAmp: st.loss.like(func(q int, x, y float64) float64 {
			a := float64(st.adapt.v[q])
			return sensitivity(math.Hypot(x-gx, y-gy), a*st.in.Pupil) / a
		}),
		tilt: st.loss.like(func(_ int, x, y float64) float64 { return tilt(math.Hypot(x-gx, y-gy)) }),
		over: st.loss.like(func(q int, _, _ float64) float64 {
			if st.loss.v[q] == 0 {
				return 1
			}
			return csf.Remaining(b.f0, float64(st.loss.v[q]))
		}),
		loss: st.loss,
	}
}

// tilt tabulates, over eccentricity in degrees, how far the steepness of T over
// the band has gone from that at fixation to that at farFor.
func (st *stage) tilt(f0 float64) func(eDeg float64) float64 {
	m, td := st.opt.Model, st.usualTd()
	steep := func(e float64) float64 {
		return math.Log(m.Threshold(f0*math.Sqrt2, e, td) / m.Threshold(f0/math.Sqrt2, e, td))
	}
	near, far := steep(0), steep(farFor(f0))
	t := make([]float64, int(st.reach()/eccentricityStep)+2)
	for i := range t {
		t[i] = (steep(float64(i)*eccentricityStep) - near) / (far - near)
	}
	return func(e float64) float64 {
		c := cellOf(e/eccentricityStep, len(t))
		return t[c.i] + float64(c.t)*(t[c.i+1]-t[c.i])
	}
}

// Steps of the table of thresholds: of eccentricity, degrees, and of the natural
// log of trolands. Linear between them it is within 0.1 % of models that rise as
// exp(0.036 f e) up to 16 cycles per degree, and as the root of the light.
const (
	eccentricityStep = 1.0 / 8
	trolandsStep     = 1.0 / 8
)

// sensitivity tabulates 1/T of one frequency over eccentricity (degrees) and
// trolands, as far as this picture reaches in both.
func (st *stage) sensitivity(f0 float64) func(eDeg, td float64) float64 {
	low, high := math.Inf(1), 0.0
	for _, a := range st.adapt.v {
		low, high = min(low, float64(a)), max(high, float64(a))
	}
	first := math.Log(low * st.in.Pupil)
	across := st.reach()/eccentricityStep + 2
	t := mapOf{light.Grid{W: int(across), H: int(math.Log(high/low)/trolandsStep) + 2}, nil}
	t.v = make([]float32, t.Len())
	for q := range t.v {
		e, td := float64(q%t.W)*eccentricityStep, math.Exp(first+float64(q/t.W)*trolandsStep)
		t.v[q] = float32(1 / st.opt.Model.Threshold(f0, e, td))
	}
	return func(eDeg, td float64) float64 {
		return float64(t.at(cellOf(eDeg/eccentricityStep, t.W), cellOf((math.Log(td)-first)/trolandsStep, t.H)))
	}
}

// reach is how far from the gaze the maps go, degrees.
func (st *stage) reach() (far float64) {
	for _, q := range []int{0, st.loss.W - 1, st.loss.Len() - st.loss.W, st.loss.Len() - 1} {
		x, y := st.loss.Centre(q%st.loss.W, q/st.loss.W)
		far = max(far, math.Hypot(x-float64(st.opt.Gaze.X), y-float64(st.opt.Gaze.Y)))
	}
	return far
}

// gainLess1 returns G - 1 of the surfaces at every sample of the band's frame, in
// room for the caller to [spare].
func (st *stage) gainLess1(fr frame, b band, c criteria) []float32 {
	xs, ys := st.cells(fr)
	across, down := fadeIn(fr.w, st.frame.w, st.soft.W), fadeIn(fr.h, st.frame.h, st.soft.H)
	out := plane(fr.w * fr.h)
	if st.opt.Appearance == Blurred {
		c = st.oneContrast(c)
		c.rows(fr, xs, ys, func(q int, at criterion) {
			out[q] = (gain(at.perAmp, at.over, st.opt.NormalPeriphery) - 1) * across[q%fr.w] * down[q/fr.w]
		})
		return out
	}
	r := st.readBand(st.lum, fr, b)
	defer r.spare()
	c.rows(fr, xs, ys, func(q int, at criterion) {
		if at.over == 1 && !st.opt.NormalPeriphery {
			out[q] = 0
			return
		}
		a, k := r.at(q, at, !st.opt.NormalPeriphery)
		out[q] = (gain(a, k, st.opt.NormalPeriphery) - 1) * across[q%fr.w] * down[q/fr.w]
	})
	return out
}

// oneContrast puts the a of blurContrast in the place of perAmp.
func (st *stage) oneContrast(c criteria) criteria {
	c.perAmp = c.perAmp.like(func(q int, _, _ float64) float64 { return blurContrast * float64(c.perAmp.v[q]*st.adapt.v[q]) })
	return c
}

// fadeIn returns the weight of each of n samples over a padded extent: 1 on the
// picture, falling to 0 in the middle of the padding, so that the damage of one
// edge does not end there abruptly.
func fadeIn(n, full, real int) []float32 {
	out := make([]float32, n)
	for i := range out {
		px := float64(i) * float64(full) / float64(n)
		beyond := max(min(px-float64(real-1), float64(full)-px), 0)
		out[i] = float32(1 - smoothStep(2*beyond/float64(full-real+1)))
	}
	return out
}

// cells returns where the samples of a frame fall on the maps; those beyond the
// middle of the padding belong to the left or upper edge.
func (st *stage) cells(fr frame) (xs, ys []cell) {
	g := st.in.Retina.Grid
	along := func(n, full, real int, node func(px float64) float64, limit int) []cell {
		out := make([]cell, n)
		for i := range out {
			px := float64(i) * float64(full) / float64(n)
			if px > float64(real+full)/2 {
				px -= float64(full)
			}
			out[i] = cellOf(node(px), limit)
		}
		return out
	}
	m := st.loss
	xs = along(fr.w, st.frame.w, g.W, func(px float64) float64 {
		u, _ := m.Pixel(g.LeftDeg+(px+0.5)*g.StepDeg, 0)
		return u
	}, m.W)
	ys = along(fr.h, st.frame.h, g.H, func(px float64) float64 {
		_, v := m.Pixel(0, g.TopDeg-(px+0.5)*g.StepDeg)
		return v
	}, m.H)
	return xs, ys
}

// leastA is the least a of the relative gain: detail that the normal eye does
// not resolve fades at 5 to 10 dB and not at 1.
const leastA = 3

// gain returns G for the contrast a over threshold and the factor k <= 1:
//
//	G = g(a k) / g(a) = k³ (1 + a³) / (1 + a³ k³)
func gain(a, k float32, normalPeriphery bool) float32 {
	if normalPeriphery {
		c := cube(a * k)
		return float32(c / (1 + c))
	}
	if k == 1 {
		return 1
	}
	c, kk := cube(max(a, leastA)), cube(k)
	return float32(kk * (1 + c) / (1 + c*kk))
}

func cube(a float32) float64 { return float64(a) * float64(a) * float64(a) }
