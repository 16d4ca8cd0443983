package cause

import (
	"fmt"

	"simview/internal/raytrace"
)

// Traced returns the eye through which the displaced implant is traced and where
// the implant sits at strength k (1 = as measured), and false when the case
// has no displaced implant.
func (e *Eye) Traced(k float64) (raytrace.ImplantEye, raytrace.DisplacedLens, bool) {
	if e.lens == nil {
		return raytrace.ImplantEye{}, raytrace.DisplacedLens{}, false
	}
	return e.lens.eye, e.lens.at.Times(k), true
}

// TracedCentred returns the traced eye with this case's implant in its place, for
// an implant that is not displaced, and what it rests on in words. An eye
// without an implant is an error.
func (e *Eye) TracedCentred() (raytrace.ImplantEye, string, error) {
	if e.Data.Lens != "implant" {
		return raytrace.ImplantEye{}, "", fmt.Errorf("the %s eye has no implant (lens: %s)", e.Side, e.Data.Lens)
	}
	l, err := e.tracedLens()
	if err != nil {
		return raytrace.ImplantEye{}, "", e.untraceable(err, 1)
	}
	return l.eye, takenWords(l.taken), nil
}
