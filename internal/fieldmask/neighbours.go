package fieldmask

import "math"

// Reach of the neighbours that bound an estimate.
const (
	nearSpacings = 1.5  // spacings within which a place counts fully as a neighbour
	farSpacings  = 0.5  // further spacings over which it ceases to count
	farDeg       = 3.0  // degrees over which it ceases at least, so that the bounds of a fine pattern have no step
	spanDB       = 50.0 // more than any two measurements differ by
	apartDeg     = 2.0  // spacings added between the halves of the field on the nose's side
)

// seen is one measurement that a surface is drawn from.
type seen struct {
	x, y    float64 // degrees, x to the temple
	td      float64 // total deviation, dB
	normal  float64 // age-normal sensitivity there, dB
	tests   int     // tests that the value is the mean of
	spacing float64 // degrees to the next place of the same pattern
}

// neighbourRange returns the lowest and highest total deviation that the
// neighbours of a place measured, x to the temple; skip leaves one out (-1 for
// none). A place is a neighbour within one and a half spacings of its pattern,
// or half a spacing more than the nearest one; over another half spacing, at
// least 3 degrees, it ceases to be one, by a bound that gives way, so that the range changes
// without a step. Across the midline on the nose's side there are none.
func neighbourRange(all []seen, x, y float64, skip int, rho []float64) (lo, hi float64) {
	near := math.Inf(1) // rho: distance in spacings
	apart := apartDeg * (1 - smoothStep(x/mergeDeg))
	for i := range all {
		s := &all[i]
		rho[i] = math.Hypot(s.x-x, s.y-y) / s.spacing
		if s.y*y < 0 {
			rho[i] += apart
		}
		if i != skip {
			near = math.Min(near, rho[i])
		}
	}
	full := math.Max(nearSpacings, near+farSpacings)
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range all {
		give := spanDB * math.Max(0, rho[i]-full) / math.Max(farSpacings, farDeg/all[i].spacing)
		if i == skip || give >= spanDB {
			continue
		}
		lo, hi = math.Min(lo, all[i].td+give), math.Max(hi, all[i].td-give)
	}
	return lo, hi
}

// within bounds v.
func within(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }
