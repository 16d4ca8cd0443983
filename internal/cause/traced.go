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

// TracedCentred returns this eye, usual in what was not measured, with its
// implant in its place, for an implant that is not displaced. An eye without an implant is an error.
func (e *Eye) TracedCentred() (raytrace.ImplantEye, error) {
	if e.lens != nil {
		return e.lens.eye, nil
	}
	m := e.Data.Implant
	if m == nil && e.Data.Lens != "implant" {
		return raytrace.ImplantEye{}, fmt.Errorf("the %s eye has no implant (lens: %s)", e.Side, e.Data.Lens)
	}
	need, err := e.needValue()
	if err != nil {
		return raytrace.ImplantEye{}, err
	}
	traced, _, err := raytrace.NewPersonalEye(e.personal(need))
	return traced, err
}
