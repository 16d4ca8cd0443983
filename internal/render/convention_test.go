//go:build !race

package render

import (
	"fmt"
	"math"
	"testing"

	"simview/internal/light"
	"simview/internal/unit"
)

// letterF is a dark F on paper, which no mirror or turn brings back.
const letterF = `shapes:
  - rect: {at: [-20, -20], size: [40, 40], cdm2: 100}
  - rect: {at: [-0.25, -0.4], size: [0.14, 0.8], cdm2: 5}
  - rect: {at: [-0.25, 0.26], size: [0.5, 0.14], cdm2: 5}
  - rect: {at: [-0.25, -0.02], size: [0.35, 0.14], cdm2: 5}
`

// threeLamps are brighter to the right of the F than above and below it.
var threeLamps = []light.Lamp{lamp(0.9, 0.5, 3e-3, 0), lamp(-0.9, 0.6, 2e-3, 0), lamp(0.3, -0.7, 1e-3, 0)}

func TestALetterFStandsUprightAndReadsFromTheLeftInBothEyes(t *testing.T) {
	s := paperScene(t, letterF)
	frame := light.GridAround(0.2, -0.1, 128, 96, arcmin) // the gaze is not the middle
	want := s.Draw(frame)
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		v := state(4, comaPath(0.2, 2))
		v.Side = side
		got := core(t, stage(t, s, frame, 2), spread(t, v))
		as := likeness(got.G, want.G)
		for name, turn := range map[string]light.Grid{"mirrored": mirrored(frame, true, false), "upside down": mirrored(frame, false, true), "turned": mirrored(frame, true, true)} {
			if other := likeness(got.G, flipped(s.Draw(turn), name)); other > as-0.05 {
				t.Errorf("%v eye: the F is as much like itself %s (%.3f) as it is like itself (%.3f)", side, name, other, as)
			}
		}
	}
}

// mirrored is the grid on the other side of an axis.
func mirrored(g light.Grid, x, y bool) light.Grid {
	if x {
		g.LeftDeg = -g.LeftDeg - float64(g.W)*g.StepDeg
	}
	if y {
		g.TopDeg = -g.TopDeg + float64(g.H)*g.StepDeg
	}
	return g
}

// flipped is the green plane with its samples in the mirrored order.
func flipped(m *light.Image, how string) []float32 {
	out := make([]float32, m.Len())
	for j := range m.H {
		for i := range m.W {
			x, y := i, j
			if how != "upside down" {
				x = m.W - 1 - i
			}
			if how != "mirrored" {
				y = m.H - 1 - j
			}
			out[j*m.W+i] = m.G[y*m.W+x]
		}
	}
	return out
}

// likeness is the correlation of two planes about their means.
func likeness(a, b []float32) float64 {
	var ma, mb, ab, aa, bb float64
	for i := range a {
		ma, mb = ma+float64(a[i])/float64(len(a)), mb+float64(b[i])/float64(len(b))
	}
	for i := range a {
		x, y := float64(a[i])-ma, float64(b[i])-mb
		ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
	}
	return ab / math.Sqrt(aa*bb)
}

func TestComaThrowsItsTailToThePatientsLeftInEitherEye(t *testing.T) {
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		v := state(5, comaPath(0.4, 2.5)) // c(3,1) > 0
		v.Side = side
		p := spread(t, v)
		frame := light.GridAround(0, 0, 320, 240, arcmin/2)
		for _, l := range threeLamps {
			x0, y0 := float64(l.At.X), float64(l.At.Y)
			if skew := lean(shine(frame, p, l), x0, y0); !(skew < -0.5) {
				t.Errorf("%v eye, lamp at (%g, %g): leans %.2f to the right", side, x0, y0, skew)
			}
		}
		surface := core(t, drawn(t, paperScene(t, ""), frame, func(x, y float64) float64 {
			if math.Hypot(x, y) < 2*arcmin {
				return 1000
			}
			return 0
		}), p)
		if skew := lean(surface, 0, 0); !(skew < -0.5) {
			t.Errorf("%v eye, bright patch: leans %.2f to the right", side, skew)
		}
	}
}

// lean is the skewness along x of the light within 12 minutes of arc of a place:
// negative when its tail points left.
func lean(m *light.Image, x0, y0 float64) float64 {
	sum, xc, _, _ := moments(m, x0, y0, 12*arcmin)
	var second, third float64
	for j := range m.H {
		for i := range m.W {
			if x, y := m.Centre(i, j); math.Hypot(x-x0, y-y0) <= 12*arcmin {
				v := float64(m.G[j*m.W+i]) / sum
				second, third = second+v*math.Pow(x-xc, 2), third+v*math.Pow(x-xc, 3)
			}
		}
	}
	return third / math.Pow(second, 1.5)
}

func TestAShortSightedEyeWithTheUpperHalfCoveredLosesTheUpperHalfOfItsBlur(t *testing.T) {
	// Scheiner's experiment
	v := state(4, defocusPath(-2))
	a := v.Aperture()
	a.Amplitude = func(_, y float64) float64 {
		if y > 0 {
			return 0
		}
		return 1
	}
	m := shine(light.GridAround(0, 0, 120, 120, arcmin/2), spreadOf(t, a), lamp(0, 0, 1, 0))
	_, _, y, _ := moments(m, 0, 0, 28*arcmin)
	// the centre of a half disc lies 4/(3 pi) radii from its straight side
	want := -4 / (3 * math.Pi) * 2 * 2e-3 * 180 / math.Pi
	near(t, "centre of the blur", y, want, 0.05*math.Abs(want))
}

func TestACylinderOfMinusOneAtNinetyMakesALevelStreakOfALamp(t *testing.T) {
	for _, c := range []struct{ axis, streak float64 }{{90, 0}, {180, 90}, {45, 45}, {135, 135}} {
		t.Run(fmt.Sprintf("axis %g", c.axis), func(t *testing.T) {
			p := spread(t, state(5, cylinderPath(0, -1, c.axis)))
			m := shine(light.GridAround(0, 0, 160, 160, arcmin/2), p, lamp(0, 0, 1, 0))
			along, across := spreadAlong(m, c.streak), spreadAlong(m, c.streak+90)
			if !(along > 3*across) {
				t.Errorf("the streak along %g degrees as the patient sees it is %.2f' by %.2f'", c.streak, along*60, across*60)
			}
		})
	}
}

// spreadAlong is the root mean square distance of the light along a direction,
// within 16 minutes of arc.
func spreadAlong(m *light.Image, deg float64) float64 {
	sn, cs := math.Sincos(deg * math.Pi / 180)
	var sum, sq float64
	samples(m, 0, 0, 16*arcmin, func(v, x, y float64) { sum, sq = sum+v, sq+v*math.Pow(x*cs+y*sn, 2) })
	return math.Sqrt(sq / sum)
}

func TestLampsLieWhereTheSceneSaysRightAndUp(t *testing.T) {
	m := shine(light.GridAround(0.2, -0.1, 256, 192, arcmin), spread(t, state(4, nil)), threeLamps...)
	for _, l := range threeLamps {
		i, j := m.Pixel(float64(l.At.X), float64(l.At.Y))
		k := int(j+0.5)*m.W + int(i+0.5)
		for _, next := range []int{-2, 2, -2 * m.W, 2 * m.W} {
			if !(m.G[k] > m.G[k+next]) {
				t.Errorf("no lamp at (%g, %g)", float64(l.At.X), float64(l.At.Y))
			}
		}
	}
}
