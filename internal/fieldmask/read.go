package fieldmask

import (
	"math"

	"simview/internal/csf"
	"simview/internal/fft"
)

// reading is the energy of a band's detail around each sample, weighed by how
// well each frequency is seen: at fixation, farther out, and under a loss. From
// the three follows what it is anywhere, exactly so for detail of one frequency,
// wherever in the band that lies.
type reading struct {
	fr   frame
	near []float32 // half the squared amplitude, at fixation, as if all were at f0
	far  []float32 // the same at farFor degrees
	deep []float32 // as near, under deepDB of loss; nil where a loss acts alike in all the band
}

const (
	farCycles = 55.0 // farFor times f0, periods; there T is exp(0.036 × 55) = 7 times that at fixation
	deepDB    = 20.0
	lossEven  = 1.5 // bands from this centre on hold no frequency on which less of a loss acts
)

// farFor is the eccentricity of the second reading, degrees.
func farFor(f0 float64) float64 { return math.Min(20, farCycles/f0) }

// readBand reads a band of a spectrum of luminance.
func (st *stage) readBand(lum []complex64, fr frame, b band) reading {
	m, td := st.opt.Model, st.usualTd()
	seen := func(eDeg float64) func(f float64) float64 {
		return b.seen(func(f float64) float64 { return m.Threshold(f, eDeg, td) })
	}
	r := reading{fr: fr, near: st.frame.energy(lum, fr, b, seen(0)), far: st.frame.energy(lum, fr, b, seen(farFor(b.f0)))}
	if b.f0 < lossEven {
		w, s0 := seen(0), csf.LossShare(b.f0)
		r.deep = st.frame.energy(lum, fr, b, func(f float64) float64 { return w(f) * math.Pow(10, (s0-csf.LossShare(f))*deepDB/10) })
	}
	return r
}

// spare gives the reading's room back.
func (r reading) spare() {
	spare(r.near)
	spare(r.far)
	if r.deep != nil {
		spare(r.deep)
	}
}

// usualTd is the geometric mean of the retinal illuminance, trolands.
func (st *stage) usualTd() float64 {
	sum := 0.0
	for _, a := range st.adapt.v {
		sum += math.Log(float64(a))
	}
	return st.in.Pupil * math.Exp(sum/float64(len(st.adapt.v)))
}

// energy is the mean square of what a filter passes, under a Gaussian of 0.3
// periods.
func (fr frame) energy(lum []complex64, to frame, b band, filter func(f float64) float64) []float32 {
	v := fr.pick(lum, to, b, filter)
	inRuns(len(v), func(lo, hi int) {
		for i, x := range v[lo:hi] {
			v[lo+i] = x * x
		}
	})
	perDeg := float64(to.w) / (float64(fr.w) * fr.stepDeg)
	return blurEdge(v, to.w, to.h, gaussTaps(poolSigma/b.f0*perDeg))
}

// criteria are, on the nodes of the maps, what decides the gain of one band.
type criteria struct {
	perAmp mapOf // amplitude in cd/m² times this is the contrast over threshold
	tilt   mapOf // how far from near to far, 1 at farFor
	over   mapOf // k
	loss   mapOf // dB
}

// criterion is criteria at one place.
type criterion struct{ perAmp, tilt, over, loss float32 }

// at reads the criteria in one cell.
func (c criteria) at(x, y cell) criterion {
	return criterion{c.perAmp.at(x, y), c.tilt.at(x, y), c.over.at(x, y), c.loss.at(x, y)}
}

// contrast returns a, the contrast over threshold, from energies:
//
//	a = √(2 near) (far/near)^(tilt/2) / (T A)
//
// and k, in which the loss of every frequency counts as it should:
//
//	k = k(f0) (deep/near)^(loss/40 dB)
//
// An a below leastA counts as that in the relative gain; relative says that the
// way there may be left out.
func (c criterion) contrast(near, far, deep float32, relative bool) (a, k float32) {
	k = c.over
	if near <= 0 {
		return 0, k
	}
	if deep > 0 && c.loss > 0 {
		k = min(1, k*power(deep/near, c.loss/(2*deepDB)))
	}
	a = c.perAmp * sqrt(2*near)
	if relative && a <= leastA && far <= near {
		return a, k
	}
	return a * power(far/near, c.tilt/2), k
}

func sqrt(x float32) float32 { return float32(math.Sqrt(float64(x))) }

// at is contrast of a sample of the reading.
func (r reading) at(q int, c criterion, relative bool) (a, k float32) {
	deep := float32(0)
	if r.deep != nil {
		deep = r.deep[q]
	}
	return c.contrast(r.near[q], r.far[q], deep, relative)
}

// rows runs over the samples of a frame with their criteria, in parallel; do may
// write what belongs to its sample only.
func (c criteria) rows(fr frame, xs, ys []cell, do func(q int, at criterion)) {
	fft.InBlocks(fr.h, func(from, to int) {
		lines := [4][]float32{}
		for k := range lines {
			lines[k] = make([]float32, fr.w)
		}
		for j := from; j < to; j++ {
			for k, m := range [4]mapOf{c.perAmp, c.tilt, c.over, c.loss} {
				m.line(lines[k], xs, ys[j])
			}
			for i := range fr.w {
				do(j*fr.w+i, criterion{lines[0][i], lines[1][i], lines[2][i], lines[3][i]})
			}
		}
	})
}
