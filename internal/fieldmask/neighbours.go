package fieldmask

import "math"

// Reach of the neighbours that bound an estimate.
const (
	nearSpacings  = 1.5  // spacings within which a place counts fully as a neighbour
	moreSpacings  = 0.5  // spacings beyond the nearest place within which it does in any case
	fadeSpacings  = 1.0  // further spacings over which it ceases to count
	spanDB        = 50.0 // more than any two measurements differ by
	apartSpacings = 2.0  // spacings added between the halves of the field on the nose's side
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
// none), d is room for one number a measurement. A place is a neighbour within
// one and a half spacings, or half a spacing more than the nearest one; over one
// more spacing it ceases to be one, by a bound that gives way, first slowly, so
// that the range changes without a step. The spacing is that of its pattern, and
// grows away from a fine pattern until the coarse one takes over. Across the
// midline on the nose's side there are no neighbours.
func neighbourRange(all []seen, x, y float64, skip int, d []float64) (lo, hi float64) {
	near, spacing := math.Inf(1), math.Inf(1)
	for i := range all {
		a, b := all[i].x-x, all[i].y-y
		if d[i] = math.Sqrt(a*a + b*b); i != skip {
			spacing = min(spacing, max(all[i].spacing, d[i]))
		}
	}
	apart := apartSpacings * (1 - smoothStep(x/mergeDeg))
	for i := range all {
		d[i] /= max(all[i].spacing, spacing)
		if apart > 0 && all[i].y*y < 0 {
			d[i] += apart
		}
		if i != skip {
			near = min(near, d[i])
		}
	}
	full := max(nearSpacings, near+moreSpacings)
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range all {
		if i == skip || d[i] >= full+fadeSpacings {
			continue
		}
		give := max(0, d[i]-full) / fadeSpacings
		give *= give * spanDB
		lo, hi = min(lo, all[i].td+give), max(hi, all[i].td-give)
	}
	return lo, hi
}

// within bounds v.
func within(v, lo, hi float64) float64 { return min(max(v, lo), hi) }
