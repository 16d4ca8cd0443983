package explain

import (
	"fmt"
	"slices"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/refraction"
	"simview/internal/shares"
	"simview/internal/unit"
)

// alone is the eye as it would be if one cause were all that is wrong with it, at
// its measured strength: everything else is taken out of the case and the case
// resolved again, its refraction being what that one cause would have made it. So
// tests can be tried on it as on any eye.
func alone(g *engine, id cause.ID) (*cause.Eye, error) {
	d := *g.e.Data
	if d.Implant != nil && id != cause.Lens {
		m := *d.Implant
		m.DecentrationMM.V, m.TiltDeg.V, m.AxialShiftMM.V, m.RotationDeg.V = 0, 0, 0, 0
		d.Implant = &m
	}
	if d.Cornea != nil && id != cause.Cornea {
		k := *d.Cornea
		k.Wavefront, k.Map, k.Surface, k.Back = nil, nil, nil, nil
		d.Cornea = &k
	}
	d.Wavefront = nil
	if id != cause.Scatter {
		d.Straylight = nil
	}
	if id != cause.Field {
		d.Fields = nil
	}
	if err := refractedFor(g, id, &d); err != nil {
		return nil, err
	}
	e, err := again(g.e, &d)
	if err != nil {
		return nil, fmt.Errorf("with %s alone: %w", id, err)
	}
	return e, nil
}

// refractedFor writes the refraction that leaves, in the glasses worn, the error
// of one cause and no other.
func refractedFor(g *engine, id cause.ID, d *casefile.Eye) error {
	if d.Refraction == nil || d.WornFar == nil {
		return nil
	}
	var left refraction.PowerVector
	switch {
	case id == cause.Lens && g.lensPath != nil:
		left = powerOf(g.lensPath)
	case id == cause.Cylinder:
		s, err := g.state(shares.Set(0).With(g.index(id)), suited)
		if err != nil {
			return err
		}
		at := slices.IndexFunc(s.Parts, func(p eye.Part) bool { return p.By == string(cause.Cylinder) })
		left = powerOf(s.Parts[at].PathUM)
	}
	worn, err := wornAtCornea(d.WornFar)
	if err != nil {
		return err
	}
	r := *d.Refraction
	n := worn.Add(left).SphereCylinder()
	r.SphereD.V, r.CylinderD.V, r.AxisDeg.V, r.VertexMM.V = n.Sphere, n.Cylinder, n.AxisDeg, 0
	d.Refraction = &r
	return nil
}

func wornAtCornea(w *casefile.Glasses) (refraction.PowerVector, error) {
	if w == nil || w.None {
		return refraction.PowerVector{}, nil
	}
	return refraction.SphereCylinder{Sphere: w.SphereD.V, Cylinder: w.CylinderD.V, AxisDeg: w.AxisDeg.V}.PowerVector().ToCornea(w.VertexMM.V)
}

// powerOf reads a path that is nothing but sphere and cylinder,
//
//	M = -(W(1,0) + W(0,1)),  J0 = -(W(1,0) - W(0,1)),  J45 = -W(1,1) - M
func powerOf(path func(x, y float64) float64) refraction.PowerVector {
	o := path(0, 0)
	a, b, c := path(1, 0)-o, path(0, 1)-o, path(1, 1)-o
	m := -(a + b)
	return refraction.PowerVector{M: unit.Dioptres(m), J0: unit.Dioptres(b - a), J45: unit.Dioptres(-c - m)}
}
