package casefile

import (
	"fmt"
	"strings"

	"simview/internal/fieldmask"
	"simview/internal/unit"
)

// Understood says in plain words what was read from the case and what is
// missing, so that whoever wrote it can see whether it was understood. Lines
// about an eye start with its side. Every number carries its unit, its noise
// and where it came from.
func (c *Case) Understood() []string {
	head := c.Title
	if c.Invented {
		head += " (an invented person)"
	}
	out := []string{head}
	if c.Words != "" {
		out = append(out, "In their words: "+c.Words)
	}
	out = append(out, "The complaint is about: "+c.eyeWord()+".", "Age: "+said(c.AgeYears, " years")+".")
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		name := strings.ToUpper(side.String()[:1]) + side.String()[1:] + " eye: "
		e := c.Eye(side)
		if e == nil {
			out = append(out, name+"not described; there is no picture of it.")
			continue
		}
		for _, l := range e.understood() {
			out = append(out, name+l)
		}
	}
	return append(out, c.Checks.understood()...)
}

// eyeWord names the eye of the complaint.
func (c *Case) eyeWord() string {
	if c.Complaint == "both" {
		return "both eyes"
	}
	return "the " + c.Complaint + " eye"
}

// said writes a value with its unit, noise and provenance.
func said[T ~float64](v unit.Value[T], unitWord string) string {
	if !v.Given() {
		return "not given"
	}
	s := num(v.V) + unitWord
	if v.SD > 0 {
		s += " ± " + num(v.SD)
	}
	s += " (" + v.From.String()
	if v.Source != "" {
		s += ": " + v.Source
	}
	return s + ")"
}

// understood says what is known of one eye.
func (e *Eye) understood() []string {
	out := []string{lensWords[e.Lens] + ".", e.pupilWords(), e.irisWords()}
	if e.Lens == "natural" {
		out = append(out, "Accommodation left: "+said(e.AccommodationD, " D")+ifMissing(e.AccommodationD.Given(), "what is usual at this age will be assumed"))
	}
	out = append(out, e.refractionWords(), "Worn for far: "+e.WornFar.words("the best correction will be assumed"),
		"Worn for near: "+e.WornNear.words("the far correction will be assumed"), e.Wavefront.words("Wavefront of the whole eye"))
	out = append(out, e.pupilPlaceWords()...)
	out = append(out, e.implantWords()...)
	out = append(out, e.biometryWords()...)
	out = append(out, e.corneaWords()...)
	out = append(out, e.Cornea.backWords()...)
	out = append(out, e.Tears.words()...)
	out = append(out, e.straylightWords())
	if len(e.Fields) == 0 {
		out = append(out, "Visual field: not given; a full field will be assumed.")
	}
	for i := range e.Fields {
		out = append(out, e.Fields[i].words())
	}
	for _, a := range e.Acuity {
		out = append(out, "Acuity with "+acuityWith[a.With]+": "+said(a.LogMAR, " logMAR")+".")
	}
	return out
}

var lensWords = map[string]string{
	"natural": "natural lens", "implant": "lens implant, which does not accommodate", "none": "no lens",
}

var acuityWith = map[string]string{
	"glasses": "glasses", "pinhole": "a pinhole", "none": "nothing before the eye", "contact-lens": "a contact lens",
}

// ifMissing ends a sentence, with what will be done when the value is missing.
func ifMissing(given bool, then string) string {
	if given {
		return "."
	}
	return "; " + then + "."
}

func (e *Eye) pupilWords() string {
	return "Pupil in bright light: " + said(e.PupilBrightMM, " mm") + ifMissing(e.PupilBrightMM.Given(), "what is usual at this age will be assumed") +
		" In dim light: " + said(e.PupilDimMM, " mm") + ifMissing(e.PupilDimMM.Given(), "what is usual at this age will be assumed")
}

func (e *Eye) irisWords() string {
	if e.IrisPigment == "" {
		return "Iris: not given; brown will be assumed for glare (pigment factor 0.5)."
	}
	return fmt.Sprintf("Iris: %s (pigment factor %g for glare).", e.IrisPigment, e.PigmentFactor())
}

func (e *Eye) refractionWords() string {
	r := e.Refraction
	if r == nil {
		return "Refraction: not given; no error of sphere and cylinder will be assumed."
	}
	return fmt.Sprintf("Refraction (%s): %s.", r.Kind, lensText(r.SphereD, r.CylinderD, r.AxisDeg, r.VertexMM))
}

// lensText writes sphere, cylinder, axis and vertex distance.
func lensText(s, c unit.Value[unit.Dioptres], a unit.Value[unit.Degrees], v unit.Value[unit.MM]) string {
	out := fmt.Sprintf("sphere %+.2f D", float64(s.V))
	if c.V != 0 {
		out += fmt.Sprintf(", cylinder %+.2f D at %s degrees", float64(c.V), num(a.V))
	}
	if v.V == 0 {
		return out + ", at the cornea" + origins(s.From, c.From)
	}
	return out + fmt.Sprintf(", %s mm before the cornea", num(v.V)) + origins(s.From, c.From)
}

// origins names the provenance of a lens when any of it was not measured.
func origins(of ...unit.Origin) string {
	for _, o := range of {
		if o > unit.Measured {
			return " (" + o.String() + ")"
		}
	}
	return ""
}

// words says what is worn.
func (g *Glasses) words(otherwise string) string {
	switch {
	case g == nil:
		return "not given; " + otherwise + "."
	case g.None:
		return "nothing."
	case g.AddD.Given():
		return fmt.Sprintf("an addition of %+.2f D over the far correction.", float64(g.AddD.V))
	}
	return lensText(g.SphereD, g.CylinderD, g.AxisDeg, g.VertexMM) + "."
}

// words says which terms were read and their size.
func (w *Wavefront) words(of string) string {
	if w == nil {
		return of + ": not given."
	}
	high := w.Terms.Keep(3, maxOrder)
	return fmt.Sprintf("%s: %d terms (%s) up to order %d, %.3f µm RMS in the orders from 3 up, over a pupil of %s mm at %s nm.",
		of, len(w.TermsUM), w.Scheme, w.Terms.Order(), high.RMS(), num(w.PupilMM.V), num(w.WavelengthNM.V))
}

func (e *Eye) implantWords() []string {
	m := e.Implant
	if m == nil {
		if e.Lens == "implant" {
			return []string{"Implant: its place is not given; a centred lens will be assumed."}
		}
		return nil
	}
	out := []string{"Implant: not shifted."}
	if m.DecentrationMM.V > 0 {
		out[0] = fmt.Sprintf("Implant: shifted by %s towards %s (%s degrees counter-clockwise from the clinician's right).",
			said(m.DecentrationMM, " mm"), directionName(e.Side, m.DirectionDeg.V), num(m.DirectionDeg.V))
	}
	if m.TiltDeg.V > 0 {
		out = append(out, fmt.Sprintf("Implant: tilted by %s; its %s edge is the one that comes forward.",
			said(m.TiltDeg, " degrees"), directionName(e.Side, m.ForwardEdgeDeg())))
	}
	if m.RotationDeg.V != 0 {
		out = append(out, "Implant: turned about the line of sight by "+said(m.RotationDeg, " degrees")+", counter-clockwise to the clinician.")
	}
	out = append(out, m.lensWords(e.Biometry != nil && e.Biometry.AxialMM.Given())...)
	return append(out, "Implant: spherical aberration "+said(m.SphericalAberrationUM, " µm at a 6 mm pupil")+ifMissing(m.SphericalAberrationUM.Given(), "a usual value will be assumed"))
}

func (e *Eye) corneaWords() []string {
	k := e.Cornea
	if k == nil {
		return []string{"Cornea: not given; a regular cornea with the usual spherical aberration will be assumed."}
	}
	out := []string{"Cornea: spherical aberration " + said(k.SphericalAberrationUM, " µm at a 6 mm pupil") + ifMissing(k.SphericalAberrationUM.Given(), e.instead())}
	if k.Haze != "" {
		out = append(out, "Cornea: "+k.Haze+" haze"+ifMissing(e.Straylight != nil, "straylight will be assumed from it"))
	}
	if k.Wavefront != nil {
		out = append(out, k.Wavefront.words("Cornea: wavefront"))
	}
	if k.Map != nil {
		out = append(out, k.Map.words())
	}
	if s := k.Surface; s != nil {
		out = append(out, fmt.Sprintf("Cornea: irregular (%s, pattern %s%s), height %s root mean square, grain %s, within %s of the place %.2f mm to the clinician's right and %.2f mm above the centre of the pupil; seeded map number %d, not the measured one.",
			orWord(s.Words, "not named"), s.Kind, s.mediumWords(), said(s.RMSUM, " µm"), said(s.GrainMM, " mm"), said(s.ZoneRadiusMM, " mm"),
			float64(s.ZoneCentre.X), float64(s.ZoneCentre.Y), s.Seed))
	}
	return out
}

// orWord returns s, or other when s is empty.
func orWord(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func (e *Eye) straylightWords() string {
	if e.Straylight == nil {
		return "Straylight: not measured; what is usual at this age will be assumed."
	}
	return fmt.Sprintf("Straylight: log s %s, scattered by the %s.", said(e.Straylight.LogS, ""), e.Straylight.Source)
}

// words says what was read of a field and where its worst area lies, for the
// clinician to confirm that left and right are as they should be.
func (f *FieldData) words() string {
	out := fmt.Sprintf("Visual field %s, %s: %d points, x written %s", f.Pattern, f.Field.Kind, len(f.Field.Points), f.XIs)
	if f.Date != "" {
		out += ", of " + f.Date
	}
	p := worst(f.Field)
	return out + fmt.Sprintf(". Lowest: %s dB at %s as the patient sees it. Is that right?", num(p.DB), placeWords(f.Field.Side, p.At))
}

// worst returns the point of lowest dB, leaving out the blind spot.
func worst(f fieldmask.Field) fieldmask.Point {
	var low fieldmask.Point
	for _, p := range f.Points {
		if blind := f.Pattern != "10-2" && fieldmask.IsBlindSpot(f.Side, p.At); !blind && (low.Line == 0 || p.DB < low.DB) {
			low = p
		}
	}
	return low
}

// placeWords names a place of the field.
func placeWords(side unit.Side, at unit.SightPoint) string {
	name := func(v unit.Degrees, plus, minus string) string {
		way, word := plus, " degrees "
		if v < 0 {
			v, way = -v, minus
		}
		if v == 1 {
			word = " degree "
		}
		return num(v) + word + way
	}
	plus, minus := "right (temporal)", "left (nasal)"
	if side == unit.Left {
		plus, minus = "right (nasal)", "left (temporal)"
	}
	return name(at.X, plus, minus) + " and " + name(at.Y, "up", "down")
}

// understood says which checks were done; not done is said loudly.
func (k Checks) understood() []string {
	var out []string
	for _, c := range k.Named() {
		line := "Check, " + c.Name + ": NOT DONE"
		if c.Check.Done() {
			line = "Check, " + c.Name + ": done"
		}
		if c.Check.Words != "" {
			line += ", " + c.Check.Words
		}
		out = append(out, line+".")
	}
	return out
}
