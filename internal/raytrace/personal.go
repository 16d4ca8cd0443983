package raytrace

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// PersonalEye is what is known of one eye with an implant; a value that is not
// given is taken from a usual eye by [PersonalSpec].
type PersonalEye struct {
	CorneaFlatMM, CorneaSteepMM unit.Value[unit.MM]      // radii of the front of the cornea; both or neither
	SteepAxis                   unit.Value[unit.Degrees] // 0 to 180
	CorneaConic                 unit.Value[float64]      // Q of the front of the cornea
	CorneaSAUM                  unit.Value[unit.UM]      // c(4,0) of the cornea at 6 mm; chooses Q where that is not given
	AxialMM                     unit.Value[unit.MM]      // vertex of the cornea to the retina
	DepthMM                     unit.Value[unit.MM]      // vertex of the cornea to the front of the lens
	PowerD                      unit.Value[unit.Dioptres]
	OpticMM                     unit.Value[unit.MM]
	LensSAUM                    unit.Value[unit.UM] // c(4,0) that the lens adds at 6 mm; below 0 it cancels the cornea's
	CylinderD                   unit.Value[unit.Dioptres]
	CylinderAxis                unit.Value[unit.Degrees]
	RefractionD                 unit.Value[unit.Dioptres] // mean sphere of the centred eye, at the cornea
	FocusPupilMM                float64                   // pupil through which that was found, mm; above 0
	PupilCentre                 unit.PupilPoint           // from the axis of the cornea, mm
}

// Taken is one number that a personal eye was built with, and where it came from.
type Taken struct {
	Name   string
	Value  float64
	Unit   string // "mm", "D", "µm", or "" for a plain number
	From   unit.Origin
	Source string // instrument, norm or reason; may be empty when measured
	Yields string // what was measured and had to yield, with its unit; "" = nothing
}

// String writes the number with its unit, as in "length 23.80 mm", and what was
// measured when that yielded.
func (t Taken) String() string {
	s := fmt.Sprintf("%s %.2f", t.Name, t.Value)
	if t.Unit != "" {
		s += " " + t.Unit
	}
	if t.Yields != "" {
		s += " (measured " + t.Yields + ")"
	}
	return s
}

// The usual eye. Cornea and indices: Liou and Brennan 1997; depth and power of
// an implant: common practice, from memory; material and edge: the bench lens.
const (
	usualRadiusMM    = 7.77
	usualConic       = -.18
	usualBackMM      = 6.40
	usualBackConic   = -.60
	usualCorneaMM    = .50
	usualCorneaIndex = 1.376
	usualMedium      = 1.336
	usualIrisMM      = 3.66
	usualDepthMM     = 4.5
	usualPowerD      = 21
	usualOpticMM     = 6
	usualLensIndex   = 1.4577
	usualAbbe        = 47 // Abbe numbers of implants run from 37 to 58 (from memory)
	usualEdgeMM      = .31
	usualNM          = 555
)

// UsualEye is the schematic eye from which what is not known of a personal eye's
// cornea, iris and media is taken.
const UsualEye = "Liou and Brennan 1997"

// PersonalSpec returns the eye to trace and every number it rests on, measured
// or not. The centred eye has the refraction asked for over FocusPupilMM, by the
// fit of least RMS. Where the power of the lens is known, or neither it nor the
// length, the length is left open, to be solved for: a length that was measured
// too then yields. Where only the length is known the power is left open. An
// error names what makes no eye.
func PersonalSpec(p PersonalEye) (ImplantSpec, []Taken, error) {
	if checkPupil(p.FocusPupilMM) != nil {
		return ImplantSpec{}, nil, fmt.Errorf("personal eye: %w", checkPupil(p.FocusPupilMM))
	}
	if p.PowerD.Given() && p.PowerD.V == 0 {
		return ImplantSpec{}, nil, EyeError{AboutLength, "a lens of 0 D bends no light", "write the power of the lens, or leave it out", nil}
	}
	b := personalBuilder{PersonalEye: p}
	b.spec = ImplantSpec{
		CorneaBackConic: usualBackConic, CorneaThicknessMM: usualCorneaMM, CorneaIndex: usualCorneaIndex,
		MediumIndex: usualMedium, FocusPupilMM: p.FocusPupilMM, WavelengthNM: usualNM, PupilCentre: p.PupilCentre,
	}
	if err := b.cornea(); err != nil {
		return ImplantSpec{}, nil, err
	}
	b.place()
	b.lens()
	if err := b.conic(); err != nil {
		return ImplantSpec{}, nil, err
	}
	return b.spec, b.taken, b.spec.check()
}

// personalBuilder fills a spec and keeps count of what it took.
type personalBuilder struct {
	PersonalEye
	spec  ImplantSpec
	taken []Taken
}

// take notes and returns a value, or the usual one where it is not given.
func take[T ~float64](b *personalBuilder, name, inUnit string, v unit.Value[T], usual float64, source string) float64 {
	v = v.Or(T(usual), unit.Assumed, source)
	b.taken = append(b.taken, Taken{Name: name, Value: float64(v.V), Unit: inUnit, From: v.From, Source: v.Source})
	return float64(v.V)
}

// cornea sets its radii; the back scales with the front:
//
//	R = 2 / (1/R_flat + 1/R_steep),  R_back = R 6.40/7.77
func (b *personalBuilder) cornea() error {
	if b.CorneaFlatMM.Given() != b.CorneaSteepMM.Given() || b.CorneaFlatMM.V < b.CorneaSteepMM.V {
		return fmt.Errorf("personal eye: corneal radii come in pairs, the flat one not below the steep one (got %g and %g mm)", float64(b.CorneaFlatMM.V), float64(b.CorneaSteepMM.V))
	}
	flat := take(b, "corneal radius", "mm", b.CorneaFlatMM, usualRadiusMM, UsualEye)
	steep := flat
	if b.CorneaSteepMM.Given() && b.CorneaSteepMM.V != b.CorneaFlatMM.V {
		steep = take(b, "steep corneal radius", "mm", b.CorneaSteepMM, 0, "")
		b.spec.SteepAxis = b.SteepAxis.V
	}
	b.spec.CorneaRadiusMM = 2 / (1/flat + 1/steep)
	b.spec.CorneaCrossPerMM = 1/steep - 1/flat
	b.spec.CorneaBackRadiusMM = take(b, "back of the cornea", "mm", unit.Value[float64]{}, b.spec.CorneaRadiusMM*usualBackMM/usualRadiusMM, "in proportion to its front, "+UsualEye)
	return nil
}

// place sets where lens, iris and retina lie and the refraction asked for.
func (b *personalBuilder) place() {
	b.spec.LensFrontMM = take(b, "lens depth", "mm", b.DepthMM, usualDepthMM, "usual depth of an implant, from memory")
	b.spec.StopMM = math.Min(usualIrisMM, b.spec.LensFrontMM)
	b.spec.RefractionD = take(b, "refraction", "D", b.RefractionD, 0, "no error")
	if b.AxialMM.Given() && !b.PowerD.Given() {
		b.spec.AxialMM = take(b, "length", "mm", b.AxialMM, 0, "")
	}
}

// lens sets the implant. Its centre is as thick as its edge and both sags:
//
//	t = edge + (D/2)² P / (2 (n - m))
func (b *personalBuilder) lens() {
	l := &b.spec.Lens
	l.Index, l.AbbeNumber = usualLensIndex, usualAbbe
	p := usualPowerD * 1.
	if !b.AxialMM.Given() || b.PowerD.Given() {
		p = take(b, "lens", "D", b.PowerD, usualPowerD, "usual power of an implant, from memory")
		l.PowerD = p
	}
	l.OpticMM = take(b, "optic", "mm", b.OpticMM, usualOpticMM, "usual optic, common practice")
	sag := l.OpticMM * l.OpticMM / 4 * p / 1000 / (2 * (l.Index - usualMedium))
	l.ThicknessMM = usualEdgeMM + math.Max(0, sag)
	l.SA = SphericalAberration{Kind: SANeutral}
	if b.LensSAUM.Given() {
		l.SA = SphericalAberration{Kind: SACancels, AmountUM: -take(b, "lens c(4,0) at 6 mm", "µm", b.LensSAUM, 0, "")}
	}
	if b.CylinderD.V != 0 {
		l.CylinderD = take(b, "lens cylinder", "D", b.CylinderD, 0, "")
		l.CylinderAxis = b.CylinderAxis.V
	}
}

// conic sets the cornea's Q: as given, or so that the cornea has the spherical
// aberration that was given.
func (b *personalBuilder) conic() error {
	b.spec.CorneaConic = usualConic
	if b.CorneaConic.Given() || !b.CorneaSAUM.Given() {
		b.spec.CorneaConic = take(b, "corneal Q", "", b.CorneaConic, usualConic, UsualEye)
		return nil
	}
	goal := take(b, "corneal c(4,0) at 6 mm", "µm", b.CorneaSAUM, 0, "")
	if err := b.spec.check(); err != nil {
		return err
	}
	q, err := secant(usualConic, usualConic-.1, solvedC40UM, func(q float64) (float64, error) {
		b.spec.CorneaConic = q
		w, err := ImplantEye{Spec: b.spec}.CorneaWavefront(saPupilMM)
		if err != nil {
			return 0, err
		}
		return w.At(4, 0) - goal, nil
	})
	if err != nil {
		what := fmt.Sprintf("no cornea of %.2f mm has c(4,0) = %+.2f µm at %d mm", b.spec.CorneaRadiusMM, goal, saPupilMM)
		return EyeError{AboutCorneaSA, what, "check the two", err}
	}
	b.spec.CorneaConic = q
	return nil
}

// NewPersonalEye builds and solves the eye of [PersonalSpec]; the list then also
// holds what was solved for, marked assumed.
func NewPersonalEye(p PersonalEye) (ImplantEye, []Taken, error) {
	spec, taken, err := PersonalSpec(p)
	if err != nil {
		return ImplantEye{}, nil, err
	}
	e, err := NewImplantEye(spec)
	if err != nil {
		return e, nil, err
	}
	solved := Taken{Name: "length", Value: e.Centred.RetinaZ, Unit: "mm", From: unit.Assumed, Source: "solved for the refraction"}
	switch {
	case spec.AxialMM != 0:
		solved.Name, solved.Value, solved.Unit = "lens", e.PowerD, "D"
	case p.AxialMM.Given():
		solved.Yields = fmt.Sprintf("%.2f mm", float64(p.AxialMM.V))
	}
	taken = append(taken, solved)
	return e, taken, nil
}
