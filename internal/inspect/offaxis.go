package inspect

import (
	"fmt"

	"simview/internal/cause"
	"simview/internal/raytrace"
	"simview/internal/unit"
)

// OffAxis is how the refraction changes to one side of straight ahead, for a
// narrow bundle through the middle of the pupil; not in any picture.
type OffAxis struct {
	FieldDeg float64 `json:"field_deg"` // as the patient sees, right positive
	M        float64 `json:"m_d"`       // less that of straight ahead
	J0       float64 `json:"j0_d"`
	J45      float64 `json:"j45_d"`
}

// fieldsDeg are the directions listed, as the patient sees, along the horizontal.
var fieldsDeg = []float64{-30, -20, -10, 10, 20, 30}

// offAxis traces the eye's refraction to both sides, where it has an implant:
//
//	ΔM = (t + s)/2 - (t + s)/2 at 0, and so for J0 = (t - s)/2 and J45
func (r *Report) offAxis(e *cause.Eye, k float64) error {
	traced, at, ok := e.Traced(k)
	if !ok {
		if e.Data.Lens != "implant" {
			return nil
		}
		var err error
		if traced, _, err = e.TracedCentred(); err != nil {
			r.Notes = append(r.Notes, "off-axis refraction not worked out: "+err.Error())
			return nil
		}
	}
	ahead, err := side(traced, at, 0)
	if err != nil {
		return err
	}
	for _, f := range fieldsDeg {
		o, err := side(traced, at, f)
		if err != nil {
			return err
		}
		r.OffAxis = append(r.OffAxis, OffAxis{f, o.M - ahead.M, o.J0 - ahead.J0, o.J45 - ahead.J45})
	}
	return nil
}

// side traces one direction; the patient's right is the clinician's left.
func side(e raytrace.ImplantEye, at raytrace.DisplacedLens, fieldDeg float64) (OffAxis, error) {
	o, err := e.OffAxis(at, unit.Degrees(-fieldDeg))
	if err != nil {
		return OffAxis{}, fmt.Errorf("refraction at %g degrees: %w", fieldDeg, err)
	}
	return OffAxis{fieldDeg, (o.TangentialD + o.SagittalD) / 2, (o.TangentialD - o.SagittalD) / 2, o.ObliqueD}, nil
}
