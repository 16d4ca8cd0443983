//go:build !race

package fieldmask

import (
	"math"
	"testing"

	"simview/internal/csf"
	"simview/internal/light"
	"simview/internal/unit"
)

// night is a dark road with a lamp blurred as an eye blurs it: a core of 2
// minutes of arc and a skirt. It returns the picture and its adaptation.
func night(lux float64) Light {
	g := light.GridAround(0, 0, 360, 300, 1.0/30)
	road := func(x, y float64) float64 { return 0.5 + 0.2*math.Sin(3*x)*math.Sin(2*y) }
	m := grey(g, road)
	adapt := Adaptation(m)
	for q := range m.R {
		x, y := g.Centre(q%g.W, q/g.W)
		r2 := x*x + y*y
		const s = 2.0 / 60
		core := 0.85 / (2 * math.Pi * s * s) * math.Exp(-r2/(2*s*s))
		skirt := 0.15 * 0.1 / (2 * math.Pi) / math.Pow(r2+0.01, 1.5)
		v := float32(lux * 3283 * (core + skirt)) // 3283 square degrees in a steradian
		m.R[q], m.G[q], m.B[q] = m.R[q]+v, m.G[q]+v, m.B[q]+v*0.7
	}
	return Light{Retina: m, Adapt: adapt}
}

// above counts the pixels brighter than white.
func above(m *light.Image, white float32) (n int) {
	for _, v := range m.Luminance(nil) {
		if v > white {
			n++
		}
	}
	return n
}

func TestALampInADamagedPlaceDoesNotGrow(t *testing.T) {
	lights := []float64{1e-4, 1e-2, 1e-1}
	if testing.Short() {
		lights = lights[1:2]
	}
	for _, lux := range lights {
		in := night(lux)
		for _, db := range []float64{10, 27} {
			out, _ := See(in, uniform(db), Options{Gaze: pt(-9, 2)})
			checkRange(t, in.Retina, out)
			for _, white := range []float32{2, 5, 20} {
				was, now := above(in.Retina, white), above(out, white)
				if now > was+max(was/10, 1) {
					t.Errorf("%v lux, %v dB: %d pixels above %v cd/m², were %d", lux, db, now, white, was)
				}
			}
		}
	}
}

// A lamp brighter than the field test's own brightest spot on its background,
// 0.014 lux for each cd/m² of adaptation, stays at least a fifth above its surround
// wherever that spot is seen: at every place, depth and with every model.
func TestABrightLampStaysWhereTheBrightestSpotIsSeen(t *testing.T) {
	const brightest = 10000 / math.Pi // cd/m², 0 dB
	in := night(0.014 * 0.5 * 1.1)
	places, depths, seenAtAll := []unit.SightPoint{pt(9, -2), pt(-3, 3), pt(14, 14)}, []float64{10, 20, 27}, 0
	if testing.Short() {
		places, depths = places[:1], depths[1:2]
	}
	for _, model := range csf.Models() {
		for _, at := range places {
			for _, deep := range depths {
				if float64(SpotThreshold(uniform(deep), at, Options{Model: model})) > brightest {
					continue
				}
				seenAtAll++
				out, _ := See(in, uniform(deep), Options{Model: model, Gaze: unit.SightPoint{X: -at.X, Y: -at.Y}})
				q := out.H/2*out.W + out.W/2
				if lamp, around := out.G[q], out.G[q+60]; lamp < 1.2*around {
					t.Errorf("%s at %v under %v dB: the lamp is %v on %v", model.Key(), at, deep, lamp, around)
				}
			}
		}
	}
	if seenAtAll < len(places) {
		t.Errorf("the spot is seen in %d cases only; the test says little", seenAtAll)
	}
}

// Tolerances: 1 dB to 20 dB; at 30 dB large spots are seen by coarse bands, on
// which less of the loss acts, 2.5 dB. For every model that can be chosen, out to
// 20 degrees.
func TestTheSimulatedEyeGivesItsFieldBack(t *testing.T) {
	places := []unit.SightPoint{pt(1, 1), pt(-9, 9), pt(15, -13)}
	depths := map[float64]float64{3: 1, 10: 1, 20: 1, 30: 2.5}
	if testing.Short() {
		places, depths = places[1:2], map[float64]float64{20: 1}
	}
	for _, model := range csf.Models() {
		for db, tol := range depths {
			for i, got := range TakeTest(uniform(db), places, Options{Model: model}) {
				if math.Abs(float64(got)-db) > tol {
					t.Errorf("%s at %v: a loss of %v dB comes back as %.2f", model.Key(), places[i], db, got)
				}
			}
		}
	}
}

// The instrument's norm asks about 30 dB at 9 degrees (a spot of 3.2 cd/m²); a
// steady spot and an unhurried criterion need some 8 dB less or more, not 20.
func TestTheSpotThresholdIsOfTheRightOrder(t *testing.T) {
	got := 10 * math.Log10(10000/math.Pi/float64(SpotThreshold(NoLoss, pt(9, 9), Options{})))
	if got < 15 || got > 42 {
		t.Errorf("the healthy eye sees the spot down to %.1f dB", got)
	}
}

// Two glowing lamps at the border of a deep loss once left a comb along their
// own row and column: the product of a band and a steep gain, cut off hard where
// the decimated frame ends (second differences up to 0.2 to 0.4 of the light).
// Above the lamps, where 3 dB are lost, the light must stay as smooth as it was:
// within a hundredth.
func TestALampLeavesNoCombAlongItsRowAndColumn(t *testing.T) {
	const tol = 0.01
	for _, peak := range []float64{30000, 300} {
		if testing.Short() && peak < 1e4 {
			continue
		}
		glow := twoGlows(peak)
		in := Light{Retina: glow, Adapt: Adaptation(glow)}
		out, _ := See(in, func(_, y float64) float64 {
			if y < 0 {
				return 25
			}
			return 3
		}, Options{Gaze: pt(0, 0.3)})
		if was, now := roughness(glow), roughness(out); now > was+tol {
			t.Errorf("peak %v cd/m²: roughness %.4f, was %.4f", peak, now, was)
		}
	}
}

// twoGlows is a soft pattern with two lamps' glow of the given peak, cd/m².
func twoGlows(peak float64) *light.Image {
	m := light.NewImage(light.GridAround(0, 0, 512, 384, 2.0/60))
	for q := range m.R {
		x, y := m.Centre(q%m.W, q/m.W)
		v := 0.3 + 0.1*math.Sin(7*x)*math.Sin(5*y)
		for _, cx := range []float64{-0.6, 0.6} {
			v += peak * 0.01 / (0.01 + (x-cx)*(x-cx) + y*y)
		}
		m.R[q], m.G[q], m.B[q] = float32(v), float32(v), float32(v)
	}
	return m
}

// roughness is the greatest second difference down the columns of the lamps,
// from two degrees above them up, as a share of the light.
func roughness(m *light.Image) float64 {
	worst := 0.0
	for j := 20; j < m.H/2-60; j++ {
		for i := m.W/2 - 30; i < m.W/2+30; i++ {
			q := j*m.W + i
			d := float64(m.G[q-m.W] - 2*m.G[q] + m.G[q+m.W])
			worst = math.Max(worst, math.Abs(d)/float64(m.G[q]))
		}
	}
	return worst
}
