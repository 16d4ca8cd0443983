package fieldmask

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/light"
	"simview/internal/unit"
)

const (
	surfaceStep = 0.25 // degrees between nodes of the surface
	heldDeg     = 3.0  // degrees beyond the tested area over which the loss is held
	fadedDeg    = 6.0  // degrees beyond the tested area from which nothing is known
	joinDeg     = 1.5  // degrees to each side of a fine grid's border over which it joins the coarse one
	seamDeg     = 6.0  // degrees to the temple of fixation from which the halves count as one
	// UncertainDB is the sensitivity below which the depth of a loss is not
	// reliable and means "at least this much" (15 to 19 dB in the literature).
	UncertainDB = 15.0
)

// Surface is the loss of one eye over its visual field, drawn between and
// around the tested places. It is bounded by the neighbouring places (no
// overshoot), passes through the tested places, keeps the upper and lower half
// apart on the nose's side of fixation, and is exactly 0 where every place is
// unharmed. Beyond the tested area the nearest loss is held for 3 degrees, then
// falls to 0 over 3 more: what lies there is unknown and treated as no loss.
// A Surface is read-only and safe for several goroutines.
type Surface struct {
	side     unit.Side
	strength float64
	half     int // nodes from fixation to the edge
	loss     []float32
	sens     []float32
	outside  []float32 // degrees beyond the tested area, 0 inside
}

// NewSurface draws the loss surface of one eye from one or more fields of it
// (sensitivity or total deviation; merged in total deviation, the finer grid
// winning where both tested), for an age in years and the share that the optics
// explain ([OpticsShare]). Fields of two sides, or none, are an error.
func NewSurface(ageYears float64, share unit.PerimetricDB, fields ...Field) (*Surface, error) {
	if len(fields) == 0 {
		return nil, fmt.Errorf("field: no field given; at least one is needed")
	}
	if !(ageYears >= 0 && ageYears <= 120) {
		return nil, fmt.Errorf("field: the age must be 0 to 120 years (got %v)", ageYears)
	}
	if !(share >= 0 && share <= MaxOpticsDB) {
		return nil, fmt.Errorf("field: the share of the optics must be 0 to %v dB (got %v)", MaxOpticsDB, share)
	}
	reach := 0.0
	var layers []layer
	for _, f := range fields {
		if f.Side != fields[0].Side {
			return nil, fmt.Errorf("field: %s is of the %s eye and %s of the %s; merge fields of one eye only", fields[0].Source, fields[0].Side, f.Source, f.Side)
		}
		if err := f.Check(); err != nil {
			return nil, err
		}
		l := newLayer(f.ToTotalDeviation(ageYears), share)
		layers = append(layers, l)
		reach = math.Max(reach, l.reach)
	}
	slices.SortStableFunc(layers, func(a, b layer) int { return cmpFloat(b.spacing, a.spacing) })
	s := &Surface{side: fields[0].Side, strength: 1, half: int(math.Ceil((reach + fadedDeg + 1) / surfaceStep))}
	s.fill(layers, ageYears, float64(share))
	return s, nil
}

func cmpFloat(a, b float64) int {
	if a < b {
		return -1
	} else if a > b {
		return 1
	}
	return 0
}

// fill computes every node from the layers, coarse ones first.
func (s *Surface) fill(layers []layer, age, share float64) {
	n := 2*s.half + 1
	s.loss, s.sens, s.outside = make([]float32, n*n), make([]float32, n*n), make([]float32, n*n)
	var drawn, dist [][]float64
	for _, l := range layers {
		d := make([]float64, n*n)
		for q := range d {
			d[q] = l.hull.distance(s.node(q))
		}
		dist, drawn = append(dist, d), append(drawn, l.draw(s.half, d))
	}
	norm := s.normMap(age)
	for q := range s.loss {
		loss, out := drawn[0][q], dist[0][q]
		for i := range layers[1:] {
			d := dist[i+1][q]
			w := 1 - smoothStep((d+joinDeg)/(2*joinDeg))
			loss += w * (drawn[i+1][q] - loss)
			out = math.Min(out, d)
		}
		out = math.Max(out, 0)
		loss *= 1 - smoothStep((out-heldDeg)/(fadedDeg-heldDeg))
		s.loss[q], s.outside[q] = float32(loss), float32(out)
		s.sens[q] = float32(norm.value(s.node(q)) - loss - share)
	}
}

// normMap is the age norm at every degree, in dB.
func (s *Surface) normMap(age float64) mapOf {
	n := int(float64(s.half)*surfaceStep)*2 + 3
	m := mapOf{light.GridAround(0, 0, n, n, 1), make([]float32, n*n)}
	for q := range m.v {
		x, y := m.Centre(q%n, q/n)
		m.v[q] = float32(Normal(s.side, unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}, age))
	}
	return m
}

// node returns the direction of node q.
func (s *Surface) node(q int) (x, y float64) {
	n := 2*s.half + 1
	return float64(q%n-s.half) * surfaceStep, float64(s.half-q/n) * surfaceStep
}

// Scaled returns the surface with every loss multiplied by k >= 0 (0 none, 1 as
// measured).
func (s *Surface) Scaled(k float64) *Surface {
	out := *s
	out.strength = k
	return &out
}

// LossDB returns the loss in dB >= 0 at a direction from fixation, degrees, as
// the patient sees it; 0 where nothing is known.
func (s *Surface) LossDB(xDeg, yDeg float64) float64 {
	return s.strength * s.read(s.loss, xDeg, yDeg, 0)
}

// SensitivityDB returns the sensitivity as measured, in dB, drawn like the loss
// (strength plays no part), and NaN where nothing is known.
func (s *Surface) SensitivityDB(xDeg, yDeg float64) float64 {
	return s.read(s.sens, xDeg, yDeg, math.NaN())
}

// Tested reports whether a direction lies inside the area the test covered.
func (s *Surface) Tested(xDeg, yDeg float64) bool {
	return s.read(s.outside, xDeg, yDeg, math.Inf(1)) <= 1e-4
}

// Uncertain reports whether the loss there means "at least this much": the
// sensitivity as measured is below [UncertainDB].
func (s *Surface) Uncertain(xDeg, yDeg float64) bool {
	return s.Tested(xDeg, yDeg) && s.SensitivityDB(xDeg, yDeg) < UncertainDB
}

// Side returns the eye of the surface.
func (s *Surface) Side() unit.Side { return s.side }

// None reports whether the loss is 0 everywhere.
func (s *Surface) None() bool {
	return s.strength == 0 || !slices.ContainsFunc(s.loss, func(v float32) bool { return v != 0 })
}

// read interpolates a map between its four nodes.
func (s *Surface) read(m []float32, x, y, beyond float64) float64 {
	n := 2*s.half + 1
	u, v := x/surfaceStep+float64(s.half), float64(s.half)-y/surfaceStep
	if !(u >= 0 && v >= 0 && u < float64(n-1) && v < float64(n-1)) {
		return beyond
	}
	i, j := int(u), int(v)
	fu, fv := u-float64(i), v-float64(j)
	q := j*n + i
	top := float64(m[q])*(1-fu) + float64(m[q+1])*fu
	low := float64(m[q+n])*(1-fu) + float64(m[q+n+1])*fu
	return top*(1-fv) + low*fv
}

// smoothStep rises from 0 at t <= 0 to 1 at t >= 1 with level ends.
func smoothStep(t float64) float64 {
	t = math.Min(math.Max(t, 0), 1)
	return t * t * (3 - 2*t)
}
