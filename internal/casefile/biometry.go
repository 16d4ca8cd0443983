package casefile

import (
	"fmt"
	"strings"

	"simview/internal/unit"
)

// direction checks a direction that is given in words at path, or in degrees at
// path_deg, for a shift by the amount, and turns the words into degrees.
func (d *decoder) direction(side unit.Side, words string, deg *unit.Value[unit.Degrees], amount unit.Value[unit.MM], path string) {
	key := path[strings.LastIndexByte(path, '.')+1:]
	switch {
	case words != "" && deg.Given():
		d.add(path, "stands beside "+key+"_deg", quoted(words), "keep one of the two")
	case words != "":
		a, ok := directionWords(side, words)
		if !ok {
			d.add(path, "must be "+directionList, quoted(words), "out is towards the temple, in towards the nose; or write "+key+"_deg")
			break
		}
		*deg = unit.Value[unit.Degrees]{V: a, From: amount.From, Source: "from the words " + words, File: d.file, Line: d.lineOf(path)}
	case amount.V > 0:
		needValue(d, *deg, path+"_deg", "write it, or "+key+" in words, as in up-and-out")
	}
}

// toric checks that the cylinder of a lens and its axis come together, and
// notices a turn that can change nothing.
func (d *decoder) toric(m *Implant, path string) {
	if m.ToricCylinderD.V != 0 {
		needValue(d, m.ToricAxisDeg, path+".toric_axis_deg", "write the plus axis that the lens was meant to lie at, 0 to 180")
	}
	if m.ToricAxisDeg.Given() && !m.ToricCylinderD.Given() && !d.failed(path+".toric_cylinder_d") {
		d.add(path+".toric_cylinder_d", "is missing beside toric_axis_deg", "", "write toric_cylinder_d, or leave the axis out")
	}
	if m.RotationDeg.V != 0 && m.ToricCylinderD.V == 0 && !d.failed(path) {
		d.notices = append(d.notices, Notice{
			File: d.file, Line: d.lineOf(path + ".rotation_deg"), Key: path + ".rotation_deg",
			What: "changes nothing, since the lens has no cylinder", Hint: "write toric_cylinder_d and toric_axis_deg of a toric lens",
		})
	}
}

// biometry checks the dimensions of an eye.
func (d *decoder) biometry(b *Biometry, path string) {
	if b == nil || d.failed(path) {
		return
	}
	flat, steep := b.FlatMM, b.SteepMM
	d.need(flat.Given() || steep.Given() || b.AsphericityQ.Given() || b.AxialMM.Given() || b.DepthMM.Given() || b.SteepAxisDeg.Given(),
		path, "write at least one dimension, or leave biometry out")
	const both = "write both; of a cornea that is round they are the same"
	if flat.Given() || b.SteepAxisDeg.Given() {
		needValue(d, steep, path+".corneal_radius_steep_mm", both)
	}
	if steep.Given() || b.SteepAxisDeg.Given() {
		needValue(d, flat, path+".corneal_radius_flat_mm", both)
	}
	if !flat.Given() || !steep.Given() {
		return
	}
	if flat.V < steep.V {
		d.add(path+".corneal_radius_flat_mm", fmt.Sprintf("must not be below corneal_radius_steep_mm, which is %g", steep.V), fmt.Sprintf("%g", flat.V), "the flatter meridian has the larger radius; were the two exchanged?")
	} else if flat.V > steep.V {
		needValue(d, b.SteepAxisDeg, path+".steep_axis_deg", "write the meridian of the smaller radius, 0 to 180")
	}
}

// biometryWords says which dimensions are known; of an eye whose lens is not
// traced only what was given.
func (e *Eye) biometryWords() []string {
	b := e.Biometry
	if b == nil {
		if e.Implant == nil {
			return nil
		}
		return []string{"Biometry: not given; a usual eye will be assumed for tracing the lens."}
	}
	var known []string
	add := func(given bool, words string) {
		if given {
			known = append(known, words)
		}
	}
	radii := "corneal radii " + said(b.FlatMM, " mm") + " flat, " + said(b.SteepMM, " mm") + " steep"
	if b.SteepAxisDeg.Given() {
		radii += " at " + num(b.SteepAxisDeg.V) + " degrees"
	}
	add(b.FlatMM.Given(), radii)
	add(b.AsphericityQ.Given(), "asphericity Q "+said(b.AsphericityQ, ""))
	add(b.AxialMM.Given(), "length "+said(b.AxialMM, " mm"))
	add(b.DepthMM.Given(), "front of the cornea to front of the lens "+said(b.DepthMM, " mm"))
	return []string{"Biometry: " + strings.Join(known, "; ") + "; what is missing will be assumed."}
}

// lensWords says what is known of the lens itself, in an eye whose length is
// known or not.
func (m *Implant) lensWords(length bool) []string {
	var out []string
	if m.AxialShiftMM.V != 0 {
		out = append(out, "Implant: "+axialWords(m.AxialShiftMM))
	}
	if m.ToricCylinderD.V != 0 {
		out = append(out, "Implant: own cylinder "+said(m.ToricCylinderD, " D")+" in plus form, meant for axis "+said(m.ToricAxisDeg, " degrees")+".")
	}
	power := "a usual 21 D will be assumed, and the length of the eye that goes with it"
	if length {
		power = "what length and refraction ask for will be assumed"
	}
	return append(out, "Implant: power "+said(m.PowerD, " D")+ifMissing(m.PowerD.Given(), power)+
		" Optic "+said(m.OpticMM, " mm")+ifMissing(m.OpticMM.Given(), "6 mm will be assumed"))
}

func axialWords(shift unit.Value[unit.MM]) string {
	if shift.V < 0 {
		shift.V = -shift.V
		return "in front of its place by " + said(shift, " mm") + ", towards the cornea."
	}
	return "behind its place by " + said(shift, " mm") + ", towards the retina."
}

// pupilPlaceWords says where the pupil lies, when that was given.
func (e *Eye) pupilPlaceWords() []string {
	if e.PupilOffMM.V == 0 {
		return nil
	}
	return []string{fmt.Sprintf("Pupil: %s from the axis of the cornea towards %s (%s degrees counter-clockwise from the clinician's right).",
		said(e.PupilOffMM, " mm"), directionName(e.Side, e.PupilOffDeg.V), num(e.PupilOffDeg.V))}
}
