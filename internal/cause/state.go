package cause

import (
	"fmt"

	"simview/internal/eye"
)

// State returns the eye in a view with the given strengths of its causes,
// focused as Glasses says. Errors name an unknown cause or strength, or a pupil
// that no model covers.
func (e *Eye) State(set Strengths, v Viewing, g Glasses) (eye.State, error) {
	if err := set.Check(e); err != nil {
		return eye.State{}, err
	}
	if err := v.check(); err != nil {
		return eye.State{}, err
	}
	s, err := e.optics(set)
	if err != nil {
		return s, err
	}
	s = e.atPupil(s, v)
	s.Colours = eye.Colours{PupilOff: e.Data.PupilShift(), Natural: e.Data.Lens == "natural"}
	if s, err = e.withTears(s, v); err != nil {
		return s, err
	}
	if set[Lens] > 0 && s.PupilMM > e.lens.pupilMM {
		s = s.Note(fmt.Sprintf("displaced lens continued beyond the %.1f mm that were traced", e.lens.pupilMM))
	}
	if k := set[Lens]; k > 0 {
		if s.Past, err = e.lens.past(e.lens.at.Times(k)); err != nil {
			return s, e.untraceable(err, k)
		}
		s.Colours.Lens = e.lens.colours(e.lens.at.Times(k))
	}
	s.Glare = e.glare(set[Scatter])
	if s.Glare.Saturated() {
		s = s.Note("more than half of the light is scattered: how bright the veil is, is an estimate")
	}
	s.Field, s.FieldK = e.field, set[Field]
	if s, err = e.focused(s, set, v, g); err != nil {
		return s, err
	}
	return settled(s), nil
}

// Reference is the eye with every cause at strength 0: same side, age, pupil,
// worn correction and implant, age-typical aberration and straylight, full
// field.
func (e *Eye) Reference(v Viewing) (eye.State, error) { return e.State(Strengths{}, v, Refracted) }

// optics returns the wavefront of a set of causes, without its focus.
func (e *Eye) optics(set Strengths) (eye.State, error) {
	s := eye.State{Side: e.Side, AgeYears: e.age(), Parts: append([]eye.Part(nil), e.typical...)}
	if k := set[Lens]; k > 0 {
		part, err := e.lens.part(k)
		if err != nil {
			return s, e.untraceable(err, k)
		}
		s = s.With(part)
	}
	if k := set[Cornea]; k > 0 {
		for _, p := range e.cornea {
			s = s.With(scaled(p, k))
		}
	}
	if k := set[Rest]; k > 0 {
		s = s.With(scaled(e.unexplained, k))
	}
	return s, nil
}

func scaled(p eye.Part, k float64) eye.Part {
	path := p.PathUM
	p.PathUM = func(x, y float64) float64 { return k * path(x, y) }
	return p
}

// atPupil sets the pupil of the viewing, within what was measured.
func (e *Eye) atPupil(s eye.State, v Viewing) eye.State {
	d := v.PupilMM
	if d == 0 {
		d = e.brightMM
		if v.Night {
			d = e.dimMM
		}
	}
	s, d = e.limited(s, d)
	s.PupilMM = d
	s.Light = 1
	s.Condition = v.Words(s.PupilMM)
	return s
}

// limited holds a pupil of d mm to the widest measurement of the wavefront, unless
// asked to go on; the state says which.
func (e *Eye) limited(s eye.State, d float64) (eye.State, float64) {
	if e.limitMM == 0 || d <= e.limitMM {
		return s, d
	}
	if e.Extrapolate {
		return s.Note(fmt.Sprintf("extrapolated beyond the %.1f mm that were measured", e.limitMM)), d
	}
	return s.Note(fmt.Sprintf("pupil limited to the %.1f mm that were measured", e.limitMM)), e.limitMM
}
