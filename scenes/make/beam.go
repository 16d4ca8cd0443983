package main

import (
	"math"

	"simview/internal/studio"
)

// Luminous intensities of a dipped beam, cd, at the edge of what UN R112 allows
// (class B, right-hand traffic): what the driver coming towards it may get.
const (
	towardsEyes = 350 // point B50L, and everything above the cut-off on that side
	aboveCutOff = 625 // zone III
)

// dipped returns the intensity of a dipped beam in cd into a direction h degrees
// to the right and v degrees up, as its driver sees it: below a cut-off that is
// level on the left and rises by 15 degrees on the right, a broad bright field.
func dipped(h, v float64) float64 {
	cut, above := -0.3, float64(towardsEyes)
	if h > 0 {
		cut, above = -0.3+h*math.Tan(15*math.Pi/180), aboveCutOff
		cut = min(cut, 0.7)
	} else if h > -2.5 {
		above = aboveCutOff - (aboveCutOff-towardsEyes)*(-h)/2.5
	}
	side := (h - 1.7) / 9
	down := max(-v-0.86, 0) / 2.2
	bright := 12000 * math.Exp(-side*side-down)
	t := ease(cut-v, 0.22) // the edge is a fifth of a degree wide
	return above + (max(bright, above)-above)*t
}

// headlamp is a dipped beam at a place that looks ahead (1) or at us (-1), cool
// white.
func headlamp(at v3, ahead float64) studio.Lamp {
	tint := hue(1.0, 1.0, 1.04).ToY(1)
	return studio.Lamp{At: at, Candela: func(d v3) rgb {
		h := math.Atan2(d.X*ahead, d.Z*ahead) * 180 / math.Pi
		if d.Z*ahead <= 0 {
			return rgb{}
		}
		return tint.Mul(dipped(h, math.Asin(d.Y)*180/math.Pi))
	}}
}

// luminaire hangs over a road: as bright down the road as will light it evenly,
// and cut off so that little reaches the eye from afar.
func luminaire(at v3, down float64) studio.Lamp {
	tint := hue(1.22, 0.97, 0.66).ToY(1)
	return studio.Lamp{At: at, Candela: func(d v3) rgb {
		if d.Y >= 0 {
			return rgb{}
		}
		return tint.Mul(overhead(down, math.Acos(-d.Y)*180/math.Pi))
	}}
}

// overhead is the intensity of a luminaire at an angle from straight down: it
// rises to twice its value at 60 degrees and falls to a fiftieth from 80 on.
func overhead(down, deg float64) float64 {
	rise := 1 + min(deg, 60)/60
	return down * (rise + (0.02-rise)*ease(deg-62, 18))
}
