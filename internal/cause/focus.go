package cause

import (
	"fmt"
	"strings"

	"simview/internal/eye"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// Glasses says how a view is corrected.
type Glasses int

const (
	// Refracted gives the eye, before the leftover error of the case is
	// added, the spectacles that suit the rest of it best.
	Refracted Glasses = iota
	// Same keeps the spectacles of the eye with all causes at strength 1.
	Same
)

// focused adds the second-order part of the view:
//
//	P = G + L + E k + V - A
//
// G the error that suits the rest of the eye best (of this set of causes, or of
// all of them with the same glasses), L the displaced lens's share of the
// leftover error, which only the same glasses leave, E the leftover error
// without it, k its strength, V the vergence of the scene less the near addition
// worn, A what accommodation gives. All in dioptres at the cornea.
func (e *Eye) focused(s eye.State, set Strengths, v Viewing, g Glasses) (eye.State, error) {
	best, err := e.best(set, s.PupilMM)
	if err != nil {
		return s, err
	}
	p := best
	if g == Same {
		if p, err = e.best(e.All(), s.PupilMM); err != nil {
			return s, err
		}
		p = p.Add(e.left.Sub(e.rest))
	}
	left := e.rest.Times(set[Cylinder])
	p = p.Add(left)
	asked, words := e.distance(v)
	p.M += asked
	given := accommodation(p.M-best.M, e.accommodationD)
	p.M -= given
	s.Focus = words
	if g == Refracted && len(set) > 0 {
		s.Focus = strings.Replace(words, e.wornWords, refractedWords, 1)
	}
	if given > 0 {
		s.Focus += fmt.Sprintf(", accommodating %.2f D", float64(given))
	}
	if set[Cylinder] > 0 {
		s = s.With(eye.Part{By: string(Cylinder), Plane: eye.Glasses, From: e.leftFrom(), PathUM: left.PathUM})
	}
	return s.With(eye.Part{By: "focus", Plane: eye.Glasses, From: eye.Computed, PathUM: p.Sub(left).PathUM}), nil
}

// leftFrom is where the refraction that the leftover error comes from came from.
func (e *Eye) leftFrom() eye.Origin {
	if e.Data.Refraction == nil {
		return eye.NotStated
	}
	return eye.OriginOf(e.Data.Refraction.CylinderD.From)
}

// refractedWords say that the panel of a cause wears the glasses that suit the
// rest of that eye, not its owner's.
const refractedWords = "refracted for the rest"

// accommodation is what the eye gives when its best focus is m dioptres of plus
// away:
// no more than asked, no more than it has, never minus.
func accommodation(m, has unit.Dioptres) unit.Dioptres { return max(0, min(m, has)) }

// distance returns what the scene's distance asks of the eye beyond its
// correction, and the correction in words.
func (e *Eye) distance(v Viewing) (unit.Dioptres, string) {
	if !v.isNear() {
		return v.vergence(), e.wornWords
	}
	return v.vergence() - e.addD, fmt.Sprintf("%s, near add %+.2f", e.wornWords, float64(e.addD))
}

// best returns the error that suits the higher orders of the set best, in
// quarter dioptres, kept by set and pupil.
func (e *Eye) best(set Strengths, pupilMM float64) (refraction.PowerVector, error) {
	key := fmt.Sprintf("%.3f %.4f %.4f %.4f", pupilMM, set[Lens], set[Cornea], set[Rest])
	e.mu.Lock()
	defer e.mu.Unlock()
	if p, ok := e.refracted[key]; ok {
		return p, nil
	}
	s, err := e.optics(set)
	if err != nil {
		return refraction.PowerVector{}, err
	}
	pupil, err := quality.NewPupil(pupilMM, s.PathUM)
	if err != nil {
		return refraction.PowerVector{}, err
	}
	p, _ := pupil.Refract(pupil.FlatStart())
	e.refracted[key] = p
	return p, nil
}
