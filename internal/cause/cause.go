package cause

import (
	"fmt"
	"maps"
	"slices"

	"simview/internal/unit"
)

// ID names a cause, in flags and records.
type ID string

// The causes, in the order in which sheets and tables show them.
const (
	Lens     ID = "lens"
	Cylinder ID = "cylinder"
	Cornea   ID = "cornea"
	Scatter  ID = "scatter"
	Field    ID = "field"
	// Rest is what a measured wavefront holds and no cause explains.
	Rest ID = "unexplained"
)

// Order lists every cause in the order of sheets and tables.
var Order = []ID{Lens, Cylinder, Cornea, Scatter, Field, Rest}

// MaxStrength is the highest strength of a cause.
const MaxStrength = 3

// Cause is one thing wrong with one eye, as found in its case.
type Cause struct {
	ID     ID
	Label  string      // in plain words: "Displaced lens"
	Amount string      // the clinical quantity at strength 1, with units
	From   unit.Origin // where that quantity came from
	Shows  Place       // a scene and pupil that shows it, as in the built-in case
	Hides  Place       // one that must not
}

// Strengths says how much of each cause a view has; a missing one is 0 (put
// right), 1 is as measured.
type Strengths map[ID]float64

// Check refuses a strength outside [0, 3] or a cause this eye does not have.
func (s Strengths) Check(e *Eye) error {
	for _, id := range slices.Sorted(maps.Keys(s)) {
		k := s[id]
		if !(k >= 0 && k <= MaxStrength) {
			return fmt.Errorf("strength of %s: must be between 0 and %d (got %g)", id, MaxStrength, k)
		}
		if _, ok := e.Cause(id); !ok {
			return fmt.Errorf("cause %q: the %s eye of this case has no such cause; hint: `simview causes` lists them", id, e.Side)
		}
	}
	return nil
}

// Only returns the strengths of one cause alone.
func Only(id ID, k float64) Strengths { return Strengths{id: k} }

// All returns every cause of the eye at its measured strength.
func (e *Eye) All() Strengths {
	s := Strengths{}
	for _, c := range e.Causes {
		s[c.ID] = 1
	}
	return s
}

// AllBut returns every cause but one at its measured strength.
func (e *Eye) AllBut(id ID) Strengths {
	s := e.All()
	delete(s, id)
	return s
}

// Cause returns the cause with that id.
func (e *Eye) Cause(id ID) (Cause, bool) {
	for _, c := range e.Causes {
		if c.ID == id {
			return c, true
		}
	}
	return Cause{}, false
}
