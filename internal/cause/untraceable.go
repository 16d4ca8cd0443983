package cause

import (
	"errors"
	"fmt"
	"strings"

	"simview/internal/casefile"
	"simview/internal/raytrace"
	"simview/internal/unit"
)

// untraceable says which key of the case asks for a lens that cannot be traced;
// strength is 1 where the lens lies as measured.
func (e *Eye) untraceable(err error, strength float64) error {
	p := casefile.Problem{File: e.Case.File, Hint: "check decentration, tilt and power of the lens, and the radii and Q under biometry"}
	p.Key, p.Line = e.keyOf("implant", implantLines(e.Data.Implant)...)
	var built raytrace.EyeError
	if errors.As(err, &built) {
		p.What, p.Hint = "no eye can be built to trace the lens through: "+built.What, built.Hint
		if key, line := e.keyAbout(built.About); key != "" {
			p.Key, p.Line = key, line
		}
		return p
	}
	where, why := "where it lies", strings.TrimPrefix(err.Error(), "displaced lens: ")
	if strength != 1 {
		where = fmt.Sprintf("at strength %g of its displacement", strength)
		p.Hint = "show it at a lower strength, or check what was measured of its place"
	}
	var ray raytrace.RayError
	if errors.As(err, &ray) {
		why = ray.Sentence()
	}
	if strings.HasPrefix(ray.Surface, "cornea") {
		if d := e.Data.PupilDimMM; d.Given() {
			p.Key, p.Line = e.keyOf("pupil_dim_mm", d.Line)
		}
		p.What = "the eye cannot be traced across its pupil: " + why
		p.Hint = "check width and place of the pupil, and the radii and Q under biometry"
		return p
	}
	p.What = fmt.Sprintf("the lens cannot be traced %s: %s", where, why)
	return p
}

// keyAbout returns the key that a subject was read from, if it was given.
func (e *Eye) keyAbout(s raytrace.Subject) (string, int) {
	b, m, c := e.Data.Biometry, e.Data.Implant, e.Data.Cornea
	switch {
	case s == raytrace.AboutLength && m != nil && m.PowerD.Given():
		return e.keyOf("implant.power_d", m.PowerD.Line)
	case s == raytrace.AboutLength && b != nil && b.AxialMM.Given():
		return e.keyOf("biometry.axial_length_mm", b.AxialMM.Line)
	case s == raytrace.AboutLensSA && m != nil && m.SphericalAberrationUM.Given():
		return e.keyOf("implant.spherical_aberration_at_6mm_um", m.SphericalAberrationUM.Line)
	case s == raytrace.AboutLensSA && b != nil && b.AxialMM.Given():
		return e.keyOf("biometry.axial_length_mm", b.AxialMM.Line)
	case s == raytrace.AboutCorneaSA && c != nil && c.SphericalAberrationUM.Given():
		return e.keyOf("cornea.spherical_aberration_at_6mm_um", c.SphericalAberrationUM.Line)
	}
	return "", 0
}

// keyOf returns a key of this eye and the first of the lines that is one.
func (e *Eye) keyOf(key string, lines ...int) (string, int) {
	first := 0
	for _, l := range lines {
		if l > 0 && (first == 0 || l < first) {
			first = l
		}
	}
	return fmt.Sprintf("eyes.%s.%s", e.Side, key), first
}

// implantLines are the lines of what is displaced.
func implantLines(m *casefile.Implant) []int {
	if m == nil {
		return nil
	}
	var lines []int
	for _, l := range []struct {
		from unit.Origin
		line int
	}{
		{m.DecentrationMM.From, m.DecentrationMM.Line},
		{m.TiltDeg.From, m.TiltDeg.Line},
		{m.RotationDeg.From, m.RotationDeg.Line},
		{m.AxialShiftMM.From, m.AxialShiftMM.Line},
		{m.PowerD.From, m.PowerD.Line},
	} {
		if l.from != unit.Missing {
			lines = append(lines, l.line)
		}
	}
	return lines
}

// placed returns the problem of a case file that an error comes from, which names
// its place by itself, and otherwise the error in other words.
func placed(err, said error) error {
	var p casefile.Problem
	if errors.As(err, &p) {
		return p
	}
	return said
}
