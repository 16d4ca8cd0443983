package inspect

import (
	"fmt"

	"simview/internal/cause"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// Lens is one line of how the leftover error comes about, at the cornea, in minus
// form and as a power vector.
type Lens struct {
	What      string  `json:"what"`
	SphereD   float64 `json:"sphere_d"`
	CylinderD float64 `json:"cylinder_d"`
	AxisDeg   float64 `json:"axis_deg"`
	M         float64 `json:"spherical_equivalent_d"`
	J0        float64 `json:"j0_d"`
	J45       float64 `json:"j45_d"`
	From      string  `json:"from"`
}

// balance lists what the eye needs, what is worn, what that leaves over, the part
// of it that the displaced lens made, and the remainder; nothing where the case
// states no refraction.
func balance(e *cause.Eye) []Lens {
	b, ok := e.Balance()
	if !ok {
		return nil
	}
	need := "needed"
	if b.NeedKind != "" {
		need += " (" + b.NeedKind + ")"
	}
	lines := []Lens{
		lens(need, b.Need, from(b.NeedFrom, "taken from what is worn")),
		lens("worn for far", b.Worn, from(b.WornFrom, "taken from what is needed")),
		lens("left over: needed less worn", b.Left, "computed"),
	}
	if b.Displaced {
		lines = append(lines,
			lens("of that the displaced lens's", b.Share, "traced"),
			lens("remainder", b.Rest, "computed"))
	}
	return lines
}

func from(o unit.Origin, otherwise string) string {
	if o == unit.Missing {
		return otherwise
	}
	return o.String()
}

func lens(what string, p refraction.PowerVector, from string) Lens {
	s := p.SphereCylinder()
	return Lens{
		What: what, SphereD: float64(s.Sphere), CylinderD: float64(s.Cylinder), AxisDeg: float64(s.AxisDeg),
		M: float64(p.M), J0: float64(p.J0), J45: float64(p.J45), From: from,
	}
}

// balance prints the lines.
func (t *table) balance(lines []Lens) {
	if len(lines) == 0 {
		return
	}
	t.line("  refraction at the cornea\tsphere, cylinder D, axis\tspherical equivalent D\tJ0 D\tJ45 D\tknown")
	for _, l := range lines {
		t.line("    %s\t%s\t%+.2f\t%+.2f\t%+.2f\t%s", l.What, l.words(), l.M, l.J0, l.J45, l.From)
	}
	t.flushed()
}

// words are as on a prescription; a cylinder that rounds to nothing has no axis.
func (l Lens) words() string {
	if l.CylinderD > -0.005 {
		return fmt.Sprintf("%+.2f", l.SphereD)
	}
	return fmt.Sprintf("%+.2f / %+.2f x %.0f", l.SphereD, l.CylinderD, l.AxisDeg)
}
