package light

import "math"

// The near part of a lamp's veil: full to nearFromDeg, nothing from nearToDeg.
const (
	nearFromDeg = 0.5
	nearToDeg   = 1.5
)

// nearWeight returns the share of the veil that belongs to the near part at
// thetaDeg from the lamp; two continuous derivatives:
//
//	1 - t³ (10 - 15 t + 6 t²), t from 0 to 1 between the two limits
func nearWeight(thetaDeg float64) float64 {
	t := min(max((thetaDeg-nearFromDeg)/(nearToDeg-nearFromDeg), 0), 1)
	return 1 - t*t*t*(10-15*t+6*t*t)
}

// nearSteps is the number of table intervals: the first is 0.35 minutes of arc
// wide, where the kernel changes by a hundredth.
const nearSteps = 1 << 16

// nearTable holds the near part of the kernel over the squared chord.
type nearTable struct {
	perChord2   float64
	fixed, aged []float32
}

func newNearTable(k kernel) *nearTable {
	far := 2 * math.Sin(nearToDeg/2*math.Pi/180)
	t := &nearTable{nearSteps / (far * far), make([]float32, nearSteps+2), make([]float32, nearSteps+2)}
	for i := range nearSteps {
		theta := angle(float64(i) / t.perChord2)
		w := nearWeight(theta)
		t.fixed[i], t.aged[i] = float32(w*k.fixed(theta)), float32(w*k.aged(theta))
	}
	return t
}

// add adds the near veil of one lamp to rows from..to.
func (t *nearTable) add(fixed, aged *Image, l *Lamp, from, to int) {
	g, to3 := fixed.Grid, lampDirection(l)
	i0, i1, j0, j1 := nearBox(g, l)
	for j := max(j0, from); j < min(j1, to); j++ {
		for i := i0; i < i1; i++ {
			x := chord2(direction(g.Centre(i, j)), to3) * t.perChord2
			if x >= nearSteps {
				continue
			}
			n := int(x)
			r := float32(x) - float32(n)
			f := t.fixed[n] + r*(t.fixed[n+1]-t.fixed[n])
			a := t.aged[n] + r*(t.aged[n+1]-t.aged[n])
			addLamp(fixed, aged, j*g.W+i, l, float64(f), float64(a))
		}
	}
}

// nearBox returns the pixels that can lie within nearToDeg of a lamp: the grid
// of angles stretches a small circle sideways by e/sin e at eccentricity e.
func nearBox(g Grid, l *Lamp) (i0, i1, j0, j1 int) {
	x, y := float64(l.At.X), float64(l.At.Y)
	e := min(math.Hypot(x, y)+nearToDeg, horizonDeg) * math.Pi / 180
	r := nearToDeg * e / math.Sin(e)
	fi, fj := g.Pixel(x-r, y+r)
	li, lj := g.Pixel(x+r, y-r)
	limit := func(v float64, n int) int { return int(min(max(v, 0), float64(n))) }
	return limit(math.Floor(fi), g.W), limit(math.Ceil(li)+1, g.W),
		limit(math.Floor(fj), g.H), limit(math.Ceil(lj)+1, g.H)
}
