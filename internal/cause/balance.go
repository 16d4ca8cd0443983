package cause

import (
	"simview/internal/casefile"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// Balance is how the leftover error comes about, everything at the cornea:
//
//	left = need - worn,  rest = left - share
type Balance struct {
	Need, Worn refraction.PowerVector
	Left       refraction.PowerVector // crossed cylinders, in one plane
	Share      refraction.PowerVector // what the displaced lens made of the need, through the bright pupil
	Rest       refraction.PowerVector // the remainder, a cause of its own

	NeedFrom, WornFrom unit.Origin // Missing: taken from the other
	NeedKind           string      // manifest, automatic or wavefront; "" = not given
	Displaced          bool        // the eye has a share
}

// Balance returns the refraction of the eye taken apart, and false where the case
// states neither what it needs nor what it wears.
func (e *Eye) Balance() (Balance, bool) {
	b := Balance{Need: e.need, Worn: e.worn, Left: e.left, Rest: e.rest, Displaced: e.lens != nil}
	if r := e.Data.Refraction; r != nil {
		b.NeedFrom, b.NeedKind = r.SphereD.From, r.Kind
	} else {
		b.Need = e.worn
	}
	if w := e.Data.WornFar; w != nil {
		b.WornFrom = wornFrom(w)
	}
	if e.lens != nil {
		b.Share = e.lens.share
	}
	return b, b.NeedFrom != unit.Missing || b.WornFrom != unit.Missing
}

// wornFrom is where what is worn is known from; no glasses are seen.
func wornFrom(w *casefile.Glasses) unit.Origin {
	if w.None {
		return unit.Measured
	}
	return w.SphereD.From
}
