package light

import "math"

// CoarseStepDeg is the usual step of the surfaces that straylight is computed
// from: 6 minutes of arc.
const CoarseStepDeg = 0.1

// UnitVeils returns, on the grid out, the luminance (cd/m²) that straylight lays
// over a scene: the part of the fixed terms and the part of the terms that grow
// with age, at scale 1 ([Retina] puts them together). They belong to the scene
// and the eye's pigment factor alone; no knob of the eye changes them.
//
// coarse holds the surfaces on a coarse grid ([CoarseStepDeg]); beyond it every
// direction of the hemisphere has the luminance surround per primary. A nil
// coarse means surround everywhere. Lamps may lie outside out and outside
// coarse; a lamp gives the veil of a point of its illuminance. Values must be
// finite and not negative.
//
// Every step is linear, so halving the scene halves the veil.
func UnitVeils(out Grid, coarse *Image, surround [3]float64, lamps []Lamp, pigment float64) (fixed, aged *Image) {
	k := newKernel(pigment)
	f, a := surfaceVeils(out, coarse, surround, k)
	addFar(f, a, lamps, k)
	fixed, aged = f.Resample(out), a.Resample(out)
	addNear(fixed, aged, lamps, k)
	for _, m := range []*Image{fixed, aged} {
		for _, p := range m.Planes() {
			for i, v := range p {
				p[i] = max(v, 0) // interpolation and rounding may leave -0.000001
			}
		}
	}
	return fixed, aged
}

// margin is how many coarse samples the coarse veil reaches beyond out, so that
// the interpolation never needs one that is not there.
const margin = 3

// cover returns the part of g's lattice, extended at will, that covers out.
func cover(g, out Grid) Grid {
	i0, j0 := g.Pixel(out.LeftDeg, out.TopDeg)
	i1, j1 := g.Pixel(out.LeftDeg+float64(out.W)*out.StepDeg, out.TopDeg-float64(out.H)*out.StepDeg)
	left, top := int(math.Floor(i0))-margin, int(math.Floor(j0))-margin
	return Grid{
		W: int(math.Ceil(i1)) + margin - left, H: int(math.Ceil(j1)) + margin - top,
		StepDeg: g.StepDeg,
		LeftDeg: g.LeftDeg + float64(left)*g.StepDeg,
		TopDeg:  g.TopDeg - float64(top)*g.StepDeg,
	}
}

// addFar adds the part of every lamp's veil that is smooth on the coarse grid.
func addFar(fixed, aged *Image, lamps []Lamp, k kernel) {
	g := fixed.Grid
	rows(g.H, func(from, to int) {
		for j := from; j < to; j++ {
			for i := range g.W {
				at := direction(g.Centre(i, j))
				for n := range lamps {
					theta := angle(chord2(at, lampDirection(&lamps[n])))
					if w := 1 - nearWeight(theta); w > 0 {
						addLamp(fixed, aged, j*g.W+i, &lamps[n], w*k.fixed(theta), w*k.aged(theta))
					}
				}
			}
		}
	})
}

// addNear adds the part of every lamp's veil that is steep, pixel by pixel.
func addNear(fixed, aged *Image, lamps []Lamp, k kernel) {
	if len(lamps) == 0 {
		return
	}
	g, table := fixed.Grid, newNearTable(k)
	rows(g.H, func(from, to int) {
		for n := range lamps {
			table.add(fixed, aged, &lamps[n], from, to)
		}
	})
}

func addLamp(fixed, aged *Image, at int, l *Lamp, f, a float64) {
	fixed.R[at] += float32(l.Lux[0] * f)
	fixed.G[at] += float32(l.Lux[1] * f)
	fixed.B[at] += float32(l.Lux[2] * f)
	aged.R[at] += float32(l.Lux[0] * a)
	aged.G[at] += float32(l.Lux[1] * a)
	aged.B[at] += float32(l.Lux[2] * a)
}
