package fieldmask

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"simview/internal/light"
	"simview/internal/unit"
)

const (
	surfaceStep = 0.25 // degrees between nodes of the surface
	heldDeg     = 3.0  // degrees beyond the tested area over which the loss is held
	fadedDeg    = 6.0  // degrees beyond the tested area from which nothing is known
	// UncertainDB is the sensitivity below which the depth of a loss is not
	// reliable and means "at least this much" (15 to 19 dB in the literature,
	// Gardiner2016).
	UncertainDB = 15.0
)

// Surface is the loss of one eye over its visual field: what is to be expected
// at every place, given all measurements with their retest noise and what real
// fields teach about the loss between places ([PriorSource]). It stays within
// the range of the neighbouring measurements (no overshoot), keeps the upper and
// lower half apart on the nose's side of fixation, and is exactly 0 where every
// neighbour is unharmed. A measurement that its surround does not bear out is
// drawn towards it, by at most one standard deviation of a retest. The blind spot is no loss: the pair of places in it is left
// out and its surround is drawn across it ([InBlindSpot]). Beyond the tested area the nearest loss is held for 3
// degrees, then falls to 0 over 3 more: what lies there is unknown and is drawn
// as no loss ([Surface.Known]). How far the truth may lie off is [Surface.SD],
// [Surface.Interval] and, as whole fields, [Surface.Draw]. A Surface is
// read-only and safe for several goroutines.
type Surface struct {
	side     unit.Side
	strength float64
	age      float64
	share    float64
	norm     *Norm
	hulls    []hull
	half     int // nodes from fixation to the edge
	loss     []float32
	td       []float32 // total deviation to be expected, dB
	normal   []float32 // age norm, dB
	outside  []float32 // degrees beyond the tested area, 0 inside
	post     *posterior
	spread   *spreadMap
	views    *sampler
	changed  string // what was done to it, "" for the field as measured
}

// NewSurface draws the loss surface of one eye from one or more fields of it
// (sensitivity or total deviation; merged in total deviation, the finer grid
// winning where both tested), for an age in years and the share that the optics
// explain ([OpticsShare]). Fields of two sides, none, or more than 1000 places
// are an error.
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
	all, hulls, err := merge(ageYears, fields)
	if err != nil {
		return nil, err
	}
	e, err := newEvidence(all, nil)
	if err != nil {
		return nil, err
	}
	post, err := e.posterior()
	if err != nil {
		return nil, err
	}
	reach := 0.0
	for _, s := range all {
		reach = max(reach, math.Abs(s.x), math.Abs(s.y))
	}
	s := &Surface{
		side: fields[0].Side, strength: 1, age: ageYears, share: float64(share), norm: fields[0].Norm,
		hulls: hulls, post: post, spread: &spreadMap{}, views: &sampler{},
		half: int(math.Ceil((reach + fadedDeg + 1) / surfaceStep)),
	}
	s.outside = s.distances()
	s.expect()
	return s, nil
}

// distances returns how far each node lies beyond what was tested, degrees.
func (s *Surface) distances() []float32 {
	n := 2*s.half + 1
	out := make([]float32, n*n)
	for q := range out {
		x, y := s.node(q)
		d := math.Inf(1)
		for _, h := range s.hulls {
			d = math.Min(d, h.distance(x*temple(s.side), y))
		}
		out[q] = float32(math.Max(d, 0))
	}
	return out
}

// expect works out age norm and total deviation at every node where anything is
// known, and draws the loss.
func (s *Surface) expect() {
	s.normal = make([]float32, len(s.outside))
	norm, room := s.normMap(), make([]float64, len(s.post.all))
	s.draw(func(q int) float64 {
		x, y := s.node(q)
		s.normal[q] = float32(norm.value(x, y))
		return s.post.estimate(x*temple(s.side), y, room)
	})
}

// draw sets total deviation and loss of every node where anything is known.
func (s *Surface) draw(td func(q int) float64) {
	dev, loss := make([]float32, len(s.outside)), make([]float32, len(s.outside))
	for q, out := range s.outside {
		if out <= fadedDeg {
			dev[q] = float32(td(q))
			loss[q] = float32(NeuralLoss(float64(dev[q]), unit.PerimetricDB(s.share)) * s.hold(float64(out)))
		}
	}
	s.td, s.loss = dev, loss
}

// hold is how much of the nearest loss is drawn so many degrees beyond the
// tested area.
func (s *Surface) hold(out float64) float64 {
	return 1 - smoothStep((out-heldDeg)/(fadedDeg-heldDeg))
}

// normMap is the age norm at every degree, in dB.
func (s *Surface) normMap() mapOf {
	n := int(float64(s.half)*surfaceStep)*2 + 3
	m := mapOf{light.GridAround(0, 0, n, n, 1), make([]float32, n*n)}
	for q := range m.v {
		x, y := m.Centre(q%n, q/n)
		m.v[q] = float32(s.norm.At(s.side, unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}, s.age))
	}
	return m
}

// node returns the direction of node q, as the patient sees it.
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

// SensitivityDB returns the sensitivity to be expected of the field test there,
// in dB (strength plays no part), and NaN where nothing is known.
func (s *Surface) SensitivityDB(xDeg, yDeg float64) float64 {
	if !s.Known(xDeg, yDeg) {
		return math.NaN()
	}
	return s.read(s.normal, xDeg, yDeg, 0) + s.read(s.td, xDeg, yDeg, 0)
}

// Tested reports whether a direction lies inside the area the test covered.
func (s *Surface) Tested(xDeg, yDeg float64) bool { return s.beyond(xDeg, yDeg) <= 1e-4 }

// Known reports whether anything is known of a direction: it lies inside the
// tested area or at most 3 degrees beyond it. Elsewhere [Surface.LossDB] fades to
// 0, which means unknown, not normal.
func (s *Surface) Known(xDeg, yDeg float64) bool { return s.beyond(xDeg, yDeg) <= heldDeg }

// beyond is how far a direction lies outside the tested area, degrees.
func (s *Surface) beyond(xDeg, yDeg float64) float64 {
	return s.read(s.outside, xDeg, yDeg, math.Inf(1))
}

// AtLeast reports whether the loss there means "at least this much": the
// direction was tested and its sensitivity is below [UncertainDB].
func (s *Surface) AtLeast(xDeg, yDeg float64) bool {
	return s.Tested(xDeg, yDeg) && s.SensitivityDB(xDeg, yDeg) < UncertainDB
}

// Side returns the eye of the surface.
func (s *Surface) Side() unit.Side { return s.side }

// Changed says in words what was done to the field before it was drawn, and is
// empty for the field as measured.
func (s *Surface) Changed() string { return s.changed }

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

// spreadMap is the variance of the estimate on a grid, worked out when first
// asked for.
type spreadMap struct {
	once    sync.Once
	m, pull mapOf
}
