package cause

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/unit"
)

// resolveScatter gives the reference eye the straylight usual for its age and
// kind of lens, and the cause the measured value.
func (e *Eye) resolveScatter() error {
	p := e.Data.PigmentFactor()
	norm, _, source := light.NormLogS(e.age(), e.Data.Lens != "natural")
	var err error
	if e.glare0, err = light.GlareFromLogS(norm, light.NormAtDeg, p); err != nil {
		return fmt.Errorf("straylight norm: %w", err)
	}
	e.glare1 = e.glare0
	m := e.Data.Straylight
	if m == nil {
		e.note("straylight log s %.2f: typical (%s)", norm, source)
		return e.resolveHaze(norm)
	}
	if h := e.hazeWord(); h != "" {
		e.note("%s haze of the cornea: in the measured straylight, not counted again", h)
	}
	if e.glare1, err = light.GlareFromLogS(m.LogS.V, light.NormAtDeg, p); err != nil {
		return fmt.Errorf("straylight.log_s: %w", err)
	}
	if e.glare1.Scale <= e.glare0.Scale {
		e.glare0 = e.glare1
		e.note("straylight log s %.2f: no more than usual (%.2f), so every view has it and it is no cause", m.LogS.V, norm)
		return nil
	}
	e.add(Cause{
		ID: Scatter, Label: "Scattered light", From: m.LogS.From,
		Amount: fmt.Sprintf("straylight log s %.2f from the %s, usual for this age %.2f", m.LogS.V, m.Source, norm),
	})
	return nil
}

// hazes are the words of a case for haze, by light.Haze.
var hazes = [...]string{"", "trace", "mild", "marked"}

func (e *Eye) hazeWord() string {
	if e.Data.Cornea == nil {
		return ""
	}
	return e.Data.Cornea.Haze
}

// resolveHaze makes a cause of a hazy cornea whose straylight was not measured.
func (e *Eye) resolveHaze(norm float64) error {
	word := e.hazeWord()
	if word == "" {
		return nil
	}
	s, err := light.HazeStraylight(light.Haze(slices.Index(hazes[:], word)))
	if err != nil {
		return fmt.Errorf("cornea.haze: %w", err)
	}
	if e.glare1, err = e.glare0.Plus(s, light.NormAtDeg); err != nil {
		return fmt.Errorf("cornea.haze: %w", err)
	}
	e.note("straylight of a cornea with %s haze: assumed; how a cornea looks says little about how it scatters", word)
	e.add(Cause{
		ID: Scatter, Label: "Scattered light", From: unit.Assumed,
		Amount: fmt.Sprintf("%s haze of the cornea, taken as straylight log s %.2f; usual for this age %.2f", word, e.glare1.LogS(light.NormAtDeg), norm),
	})
	return nil
}

// glare scales the excess of straylight over the norm by k, in s.
func (e *Eye) glare(k float64) light.Glare {
	g := e.glare0
	g.Scale += k * (e.glare1.Scale - e.glare0.Scale)
	return g
}

// resolveField draws the loss of the nerve from all fields of the eye: total
// deviation less what this eye's optics explain in the test.
func (e *Eye) resolveField() error {
	var fields []fieldmask.Field
	var words []string
	for _, f := range e.Data.Fields {
		td := f.Field.ToTotalDeviation(e.age())
		fields = append(fields, td)
		words = append(words, fmt.Sprintf("%s mean deviation %.1f dB", f.Pattern, td.MeanDeviation()))
		if f.Field.Kind == fieldmask.Sensitivity {
			e.note("field %s: deviations from an age norm worked out from an open data set, assumed to fit (mean about 1 dB high)", f.Pattern)
		}
	}
	if len(fields) == 0 {
		e.note("no visual field: taken as full (assumed)")
		return nil
	}
	share := fieldmask.OpticsShare(e.testLossDB(), fields...)
	e.note("of the field's depression %.1f dB are put down to the optics in the test (assumed)", float64(share))
	e.tests = &FieldTests{Deviations: fields, Share: share}
	if w, twice := fieldmask.TwiceExplained(e.testLossDB(), fields...); twice {
		e.note("warning: %s", string(w))
		e.tests.Warnings = append(e.tests.Warnings, w)
	}
	s, err := fieldmask.NewSurface(e.age(), share, fields...)
	if err != nil {
		return err
	}
	e.tests.Surface, e.tests.Harmed = s, !s.None() && harmed(fields)
	if !e.tests.Harmed {
		e.note("visual field within normal limits: taken as full")
		return nil
	}
	e.field = s
	e.note("field: drawn as what all answers together make likely (%s)", fieldmask.PriorSource)
	e.add(Cause{
		ID: Field, Label: "Lost visual field", From: unit.Measured,
		Amount: strings.Join(words, ", ") + ", worst " + fields[0].WorstArea(e.age()),
	})
	return nil
}

// testLossDB is what scatter beyond the usual takes from the spot of the field
// test, which is far wider than the blur of an eye with its test lens,
//
//	10 log10((1 - T0)/(1 - T1))
//
// T the share of the light that is scattered, usual and measured.
func (e *Eye) testLossDB() float64 {
	return 10 * math.Log10(e.glare0.Keep()/e.glare1.Keep())
}

// Limits of a field that is taken as full, of total deviation in dB: common
// practice, from memory; retest noise alone passes neither.
const (
	harmedMeanDB  = -2.0
	harmedPointDB = -5.0
	harmedPoints  = 3
)

// harmed reports whether a field is worse than noise: in its mean, or in three
// of its points.
func harmed(fields []fieldmask.Field) bool {
	for _, f := range fields {
		low := 0
		for _, p := range f.Points {
			if p.DB < harmedPointDB && !fieldmask.IsBlindSpot(f.Side, p.At) {
				low++
			}
		}
		if low >= harmedPoints || f.MeanDeviation() < harmedMeanDB {
			return true
		}
	}
	return false
}
