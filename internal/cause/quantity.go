package cause

import (
	"math"

	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/quality"
	"simview/internal/unit"
)

// Quantity is what a clinician measures of a cause and a strength scales, so that
// strength and unit can be turned into each other:
//
//	value = Zero + k (One - Zero)                        linear
//	value = log10(10^Zero + k (10^One - 10^Zero))        Log
type Quantity struct {
	Key  string      // what it is, as in a case file: "decentration_mm"
	Unit string      // "mm", "deg", "D", "um", "log" or "dB"
	Zero float64     // at strength 0
	One  float64     // at strength 1, as measured
	SD   float64     // of One, in the same unit; 0 is not stated
	Log  bool        // a logarithm of what is scaled
	From unit.Origin // where One came from
	// PupilMM is the pupil over which an RMS was taken; 0 for anything else.
	PupilMM float64
}

// At is the value at strength k, 0 to [MaxStrength].
func (q Quantity) At(k float64) float64 {
	if q.Log {
		zero, one := math.Pow(10, q.Zero), math.Pow(10, q.One)
		return math.Log10(zero + k*(one-zero))
	}
	return q.Zero + k*(q.One-q.Zero)
}

// Quantities lists what the strength of a cause scales, the chief one first; nil
// for a cause that this eye does not have. An error is one of a wavefront that
// cannot be sampled.
func (e *Eye) Quantities(id ID) ([]Quantity, error) {
	if c, ok := e.Cause(id); ok {
		switch id {
		case Lens:
			return e.lensQuantities(), nil
		case Cylinder:
			return e.leftQuantities(), nil
		case Cornea:
			return e.uneven(e.cornea, e.corneaSD(), c.From)
		case Rest:
			return e.uneven([]eye.Part{e.unexplained}, 0, c.From)
		case Scatter:
			return []Quantity{e.scatterQuantity(c.From)}, nil
		case Field:
			return e.fieldQuantities(c.From), nil
		}
	}
	return nil, nil
}

func (e *Eye) lensQuantities() (list []Quantity) {
	add := func(key, u string, v, sd float64, from unit.Origin) {
		if v != 0 {
			list = append(list, Quantity{Key: key, Unit: u, One: v, SD: sd, From: from})
		}
	}
	m := e.Data.Implant
	add("decentration_mm", "mm", float64(m.DecentrationMM.V), m.DecentrationMM.SD, m.DecentrationMM.From)
	add("tilt_deg", "deg", float64(m.TiltDeg.V), m.TiltDeg.SD, m.TiltDeg.From)
	if m.ToricCylinderD.V != 0 {
		add("rotation_deg", "deg", float64(m.RotationDeg.V), m.RotationDeg.SD, m.RotationDeg.From)
	}
	add("axial_shift_mm", "mm", float64(m.AxialShiftMM.V), m.AxialShiftMM.SD, m.AxialShiftMM.From)
	return list
}

// leftQuantities are sphere and cylinder in minus form, the larger part first.
func (e *Eye) leftQuantities() []Quantity {
	sc, r := e.rest.SphereCylinder(), e.Data.Refraction
	c := Quantity{Key: "cylinder_d", Unit: "D", One: float64(sc.Cylinder), SD: r.CylinderD.SD, From: r.CylinderD.From}
	s := Quantity{Key: "sphere_d", Unit: "D", One: float64(sc.Sphere), SD: r.SphereD.SD, From: r.SphereD.From}
	if math.Abs(c.One) < leftoverD {
		return []Quantity{s, c}
	}
	return []Quantity{c, s}
}

// uneven is the RMS of a path beyond sphere and cylinder over the dim pupil; share
// is its standard deviation over its value.
func (e *Eye) uneven(parts []eye.Part, share float64, from unit.Origin) ([]Quantity, error) {
	pupil := e.dimMM
	if e.limitMM > 0 {
		pupil = min(pupil, e.limitMM)
	}
	path := func(x, y float64) (w float64) {
		for _, p := range parts {
			w += p.PathUM(x, y)
		}
		return w
	}
	const sphereAndCylinder = 2
	_, left, err := quality.FitPath(pupil, path, quality.FitSamples, sphereAndCylinder)
	if err != nil {
		return nil, err
	}
	rms := quality.RMS(left)
	return []Quantity{{Key: "rms_um", Unit: "um", One: rms, SD: share * rms, From: from, PupilMM: pupil}}, nil
}

// corneaSD is the stated spread of a seeded surface over its height; 0 where the
// case states none.
func (e *Eye) corneaSD() float64 {
	k := e.Data.Cornea
	if k == nil || k.Surface == nil || k.Surface.RMSUM.V == 0 {
		return 0
	}
	return k.Surface.RMSUM.SD / float64(k.Surface.RMSUM.V)
}

func (e *Eye) scatterQuantity(from unit.Origin) Quantity {
	q := Quantity{Key: "log_s", Unit: "log", Zero: e.glare0.LogS(light.NormAtDeg), One: e.glare1.LogS(light.NormAtDeg), Log: true, From: from}
	if m := e.Data.Straylight; m != nil {
		q.SD = m.LogS.SD
	}
	return q
}

// fieldQuantities are the mean deviations of the tests, in the order of the case.
func (e *Eye) fieldQuantities(from unit.Origin) (list []Quantity) {
	for _, f := range e.tests.Deviations {
		list = append(list, Quantity{Key: "mean_deviation_db_" + f.Pattern, Unit: "dB", One: float64(f.MeanDeviation()), From: from})
	}
	return list
}
