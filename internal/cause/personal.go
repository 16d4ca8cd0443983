package cause

import (
	"fmt"
	"math"
	"strings"

	"simview/internal/casefile"
	"simview/internal/raytrace"
	"simview/internal/unit"
)

// personal returns what the case knows of the eye that a lens is traced
// through. The cornea has the spherical aberration of the reference eye unless
// its asphericity was measured.
func (e *Eye) personal(centred unit.Value[unit.Dioptres]) raytrace.PersonalEye {
	p := raytrace.PersonalEye{RefractionD: centred, FocusPupilMM: e.brightMM, PupilCentre: e.Data.PupilShift()}
	p.CorneaSAUM, p.LensSAUM = e.sphericalAberrations()
	if b := e.Data.Biometry; b != nil {
		p.CorneaFlatMM, p.CorneaSteepMM, p.SteepAxis = b.FlatMM, b.SteepMM, b.SteepAxisDeg
		p.CorneaConic, p.AxialMM, p.DepthMM = b.AsphericityQ, b.AxialMM, b.DepthMM
	}
	if k := e.Data.Cornea; k != nil && k.Map != nil && !p.CorneaFlatMM.Given() {
		best := k.Map.Front.Best
		r := unit.Value[unit.MM]{V: unit.MM(best.RadiusMM), From: unit.Measured, Source: bestFit}
		p.CorneaFlatMM, p.CorneaSteepMM = r, r
		p.CorneaConic = p.CorneaConic.Or(best.Q, unit.Measured, bestFit)
	}
	if m := e.Data.Implant; m != nil {
		p.PowerD, p.OpticMM, p.CylinderD, p.CylinderAxis = m.PowerD, m.OpticMM, m.ToricCylinderD, m.ToricAxisDeg
	}
	return p
}

const bestFit = "best-fit conic of the map"

// sphericalAberrations returns c(4,0) at 6 mm of cornea and implant as the
// reference eye has them: what resolveTypical takes.
func (e *Eye) sphericalAberrations() (cornea, lens unit.Value[unit.UM]) {
	if m := e.Data.Implant; m != nil {
		lens = m.SphericalAberrationUM
	}
	return e.corneaC40, lens.Or(naturalSAUM-corneaSAUM, unit.Typical, "whole eye +0.13, Salmon and van de Pol 2006")
}

// tracedEye builds the eye for a displacement. What the eye needs, less what the
// displacement makes of it, is the refraction of the centred eye,
//
//	M_centred = M_need - M_share
//
// and the share hardly depends on it, so that two rounds settle it.
func (e *Eye) tracedEye(at raytrace.DisplacedLens, pupilMM float64) (*lensModel, error) {
	need, err := e.needValue()
	if err != nil {
		return nil, err
	}
	l := &lensModel{pupilMM: pupilMM, at: at}
	for range 2 {
		centred := need
		if need.Given() {
			centred.V -= l.share.M
		}
		if err := l.build(e.personal(centred), e.brightMM); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// needValue is the mean sphere at the cornea that the eye needs, if it is known.
func (e *Eye) needValue() (v unit.Value[unit.Dioptres], err error) {
	r := e.Data.Refraction
	if r == nil {
		return v, nil
	}
	need, err := atCornea(r.SphereD.V, r.CylinderD.V, r.AxisDeg.V, r.VertexMM.V)
	return unit.Value[unit.Dioptres]{V: need.M, From: r.SphereD.From, Source: "less the displaced lens's share"}, err
}

// build solves the eye and works out the share over a pupil.
func (l *lensModel) build(p raytrace.PersonalEye, pupilMM float64) (err error) {
	if l.eye, l.taken, err = raytrace.NewPersonalEye(p); err != nil {
		return err
	}
	if l.centred, err = l.eye.Wavefront(raytrace.DisplacedLens{}, l.pupilMM); err != nil {
		return err
	}
	l.share, err = l.shareAt(pupilMM)
	return err
}

// takenWords says in one line what the traced eye rests on.
func takenWords(taken []raytrace.Taken) string {
	var words []string
	for _, from := range []unit.Origin{unit.Measured, unit.Typical, unit.Assumed} {
		var items []string
		for _, t := range taken {
			if t.From == from {
				items = append(items, t.String())
			}
		}
		if len(items) > 0 {
			words = append(words, from.String()+" "+strings.Join(items, ", "))
		}
	}
	return strings.Join(append(words, "cornea's thickness, iris and media as in the schematic eye of "+raytrace.UsualEye), "; ")
}

// displaced reports whether the implant sits where it should not.
func displaced(m *casefile.Implant) bool {
	return m != nil && (m.DecentrationMM.V != 0 || m.TiltDeg.V != 0 || m.AxialShiftMM.V != 0 || m.RotationDeg.V != 0 && m.ToricCylinderD.V != 0)
}

// displacement names what is wrong with the implant's place.
func displacement(m *casefile.Implant) string {
	direction := m.Direction
	if direction == "" {
		direction = fmt.Sprintf("towards %.0f degrees", float64(m.DirectionDeg.V))
	}
	var words []string
	if m.DecentrationMM.V != 0 {
		words = append(words, fmt.Sprintf("%.1f mm %s", float64(m.DecentrationMM.V), direction))
	}
	if m.TiltDeg.V != 0 {
		words = append(words, fmt.Sprintf("tilted %.0f degrees", float64(m.TiltDeg.V)))
	}
	if m.RotationDeg.V != 0 && m.ToricCylinderD.V != 0 {
		words = append(words, fmt.Sprintf("turned %.0f degrees off its axis", float64(m.RotationDeg.V)))
	}
	if m.AxialShiftMM.V != 0 {
		words = append(words, fmt.Sprintf("%.1f mm %s its place", math.Abs(float64(m.AxialShiftMM.V)), map[bool]string{true: "behind", false: "in front of"}[m.AxialShiftMM.V > 0]))
	}
	return "implant " + strings.Join(words, ", ")
}
