package light

import "math"

// The ring round lamps that the fibres at the rim of a natural lens draw, by
// Spencer et al. 1995 (constants read in a public listing of their model).
const (
	ringDeg     = 3.0   // radius at ringNM
	ringNM      = 568.0 // wavelength
	ringPeak    = 436.9 // 1/sr at ringNM
	ringNarrow  = 19.75 // 1/deg²
	ringFromMM  = 1.9   // a pupil this small shows no ring
	ringFullMM  = 4.9   // pupil of ringShare
	ringShare   = 0.033 // share of a lamp's light
	ringReach   = 2.0   // degrees from the ring's middle beyond which nothing is drawn
	ringMaxNM   = 700.0 // longest wavelength that matters
	ringSamples = 15    // wavelengths per primary
)

// LensRing returns how an average natural lens spreads the light of a lamp into a
// ring, at thetaDeg degrees for a wavelength in nm, 1/sr; its integral is 1. It is
// red outside, for the fibres act as a grating:
//
//	f = 436.9 (568/λ) exp(-19.75 (θ - 3 λ/568)²)
//
// Source: Spencer et al. 1995. An optional layer: typical, measured in nobody.
func LensRing(thetaDeg, nm float64) float64 {
	d := thetaDeg - ringDeg*nm/ringNM
	return ringPeak * ringNM / nm * math.Exp(-ringNarrow*d*d)
}

// LensRingShare returns the share of a lamp's light that goes into [LensRing]
// with a pupil of pupilMM mm: none up to 1.9 mm, 0.033 from 4.9 mm, straight
// between (Spencer et al. 1995 give the two ends; straight is our assumption and
// gives their value for twilight, 0.016, at 3.4 mm).
func LensRingShare(pupilMM float64) float64 {
	t := (pupilMM - ringFromMM) / (ringFullMM - ringFromMM)
	return ringShare * min(max(t, 0), 1)
}

// AddLensRing adds the ring of every lamp to a retinal image and takes no light
// away: the lamp's core is to be drawn with its Keep times 1 - share. keep is the
// share of light that scattering leaves. Surfaces draw no ring.
//
//	dL = keep share E_c sum over λ of w_c(λ) f(θ, λ)
func AddLensRing(dst *Image, lamps []Lamp, keep, share float64) {
	if keep*share == 0 {
		return
	}
	rings := ringTables()
	rows(dst.H, func(from, to int) {
		for n := range lamps {
			addRing(dst, &lamps[n], keep*share, rings, from, to)
		}
	})
}

// ringStep is the spacing of the ring's table, degrees: 0.07 of its width.
const ringStep = 0.01

func ringTables() (t [3][]float64) {
	n := int(math.Ceil((ringDeg*ringMaxNM/ringNM + ringReach) / ringStep))
	for p := range t {
		t[p] = make([]float64, n)
		lines := Primary(p, ringSamples)
		for i := range t[p] {
			for _, l := range lines {
				t[p][i] += l.Weight * LensRing(float64(i)*ringStep, l.NM)
			}
		}
	}
	return t
}

func addRing(dst *Image, l *Lamp, factor float64, t [3][]float64, from, to int) {
	at := lampDirection(l)
	n := len(t[0])
	planes := dst.Planes()
	for j := from; j < to; j++ {
		for i := range dst.W {
			x := angle(chord2(direction(dst.Centre(i, j)), at)) / ringStep
			k := int(x)
			if k+1 >= n {
				continue
			}
			f := x - float64(k)
			for p := range planes {
				planes[p][j*dst.W+i] += float32(factor * l.Lux[p] * (t[p][k] + f*(t[p][k+1]-t[p][k])))
			}
		}
	}
}
