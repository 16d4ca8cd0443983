package casefile

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"simview/internal/unit"
)

// need adds a problem when ok is false: a key that must be there is not.
func (d *decoder) need(ok bool, path, hint string) {
	if !ok {
		d.add(path, "is missing", "", hint)
	}
}

// oneOf checks a word against the words that a key takes.
func (d *decoder) oneOf(path, word string, words []string) {
	if !slices.Contains(words, word) {
		last := len(words) - 1
		list := strings.Join(words[:last], ", ") + " or " + words[last]
		d.add(path, "must be "+list, quoted(word), hintFor(word, words))
	}
}

// hintFor suggests the word that was most likely meant.
func hintFor(word string, words []string) string {
	if best := nearest(strings.ToLower(word), words); best != "" {
		return "did you mean " + best + "?"
	}
	return "write the word as it stands here"
}

// failed reports whether a problem at the key, or inside it, is known already,
// so that one slip gives one message.
func (d *decoder) failed(path string) bool {
	return slices.Contains(d.meant, path) || slices.ContainsFunc(d.problems, func(p Problem) bool {
		rest, inside := strings.CutPrefix(p.Key, path)
		return inside && (rest == "" || rest[0] == '.' || rest[0] == '[')
	})
}

// needValue adds a problem when a value is neither given nor already refused.
func needValue[T any](d *decoder, v unit.Value[T], path, hint string) {
	d.need(v.Given() || d.failed(path), path, hint)
}

// validate checks what no single key can show, for the whole case.
func (d *decoder) validate(c *Case) {
	if c.Eyes.Right == nil && c.Eyes.Left == nil && !d.failed("eyes") {
		d.add("eyes", "describes no eye", "", "describe at least one eye under eyes: right: or eyes: left:")
	}
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		if eye := c.Eye(side); eye != nil {
			eye.Side = side
			d.eye(eye, "eyes."+side.String())
		} else if c.Complaint == side.String() && !d.failed("eyes") {
			d.add("complaint_eye", "names an eye that the case does not describe", quoted(c.Complaint), "add eyes: "+side.String()+":")
		}
	}
}

// eye checks one eye.
func (d *decoder) eye(e *Eye, path string) {
	d.pupils(e, path)
	if e.AccommodationD.V > 0 && e.Lens != "natural" {
		d.add(path+".accommodation_d", "must be 0 or left out, since only a natural lens accommodates", fmt.Sprintf("%g", e.AccommodationD.V), "write reading help as worn_near")
	}
	d.refraction(e.Refraction, path+".refraction")
	d.worn(e, path)
	d.wavefront(e.Wavefront, path+".wavefront", "whole-eye")
	d.implant(e, path+".implant")
	d.cornea(e, path+".cornea")
	d.tears(e.Tears, path+".tears")
	d.biometry(e.Biometry, path+".biometry")
	for i := range e.Fields {
		d.field(&e.Fields[i], e.Side, fmt.Sprintf("%s.fields[%d]", path, i+1))
	}
	for i := range e.Acuity {
		d.acuity(&e.Acuity[i], fmt.Sprintf("%s.acuity[%d]", path, i+1))
	}
}

// pupils checks that a pupil is known and that it widens in dim light.
func (d *decoder) pupils(e *Eye, path string) {
	bright, dim := e.PupilBrightMM, e.PupilDimMM
	if !bright.Given() && !dim.Given() && !d.failed(path+".pupil_bright_mm") {
		needValue(d, dim, path+".pupil_dim_mm", "write at least one of pupil_bright_mm and pupil_dim_mm; every fault of the optics depends on it")
	}
	if bright.Given() && dim.Given() && dim.V < bright.V {
		d.add(path+".pupil_dim_mm", fmt.Sprintf("must not be below pupil_bright_mm, which is %g", bright.V), fmt.Sprintf("%g", dim.V), "were the two exchanged?")
	}
	d.direction(e.Side, e.PupilOffWords, &e.PupilOffDeg, e.PupilOffMM, path+".pupil_direction")
}

// refraction checks the correction that the eye needs.
func (d *decoder) refraction(r *Refraction, path string) {
	if r == nil {
		return
	}
	d.axis(r.CylinderD, r.AxisDeg, path)
}

// axis checks that a cylinder has an axis.
func (d *decoder) axis(cyl unit.Value[unit.Dioptres], axis unit.Value[unit.Degrees], path string) {
	if cyl.V != 0 {
		needValue(d, axis, path+".axis_deg", "a cylinder needs the axis it was found at, 0 to 180")
	}
	if axis.Given() && !cyl.Given() && !d.failed(path+".cylinder_d") {
		d.add(path+".cylinder_d", "is missing beside axis_deg", "", "write cylinder_d, or leave the axis out")
	}
}

// worn checks the corrections worn far and near.
func (d *decoder) worn(e *Eye, path string) {
	d.glasses(e.WornFar, path+".worn_far")
	d.glasses(e.WornNear, path+".worn_near")
	if far := e.WornFar; far != nil && far.AddD.Given() {
		d.add(path+".worn_far.add_d", "belongs to worn_near only", fmt.Sprintf("%g", far.AddD.V), "move it under worn_near")
	}
	if near := e.WornNear; near != nil && near.AddD.Given() && e.WornFar == nil {
		d.add(path+".worn_near.add_d", "needs worn_far, to which it is added", "", "write worn_far, with none: true when there are no far glasses")
	}
}

// glasses checks one worn correction.
func (d *decoder) glasses(g *Glasses, path string) {
	if g == nil {
		return
	}
	lens := g.SphereD.Given() || g.CylinderD.Given() || g.AxisDeg.Given() || g.VertexMM.Given()
	switch {
	case g.None && (lens || g.AddD.Given()):
		d.add(path, "says none and gives a lens", "", "keep one of the two")
	case g.AddD.Given() && lens:
		d.add(path, "gives an addition and a lens of its own", "", "keep add_d, or sphere_d and the rest")
	case g.None || g.AddD.Given() || d.failed(path+".add_d") || d.failed(path+".none"):
	default:
		needValue(d, g.SphereD, path+".sphere_d", "write 0 for none, or none: true for no glasses")
		needValue(d, g.VertexMM, path+".vertex_mm", "write the distance from the cornea, about 12 to 14; 0 for a contact lens")
		d.axis(g.CylinderD, g.AxisDeg, path)
	}
}

// date checks a day written as 2024-05-03.
func (d *decoder) date(path, s string) {
	if _, err := time.Parse(time.DateOnly, s); s != "" && err != nil {
		d.add(path, "must be a day written as 2024-05-03", quoted(s), "write year, month and day, or leave it out")
	}
}
