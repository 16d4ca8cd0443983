package raytrace

import (
	"math"
	"strings"
	"testing"

	"simview/internal/unit"
	"simview/internal/zernike"
)

func given[T any](v T) unit.Value[T] { return unit.Value[T]{V: v, From: unit.Measured} }

// known is an eye of which everything was measured but its length.
func known() PersonalEye {
	return PersonalEye{
		CorneaFlatMM: given(unit.MM(7.9)), CorneaSteepMM: given(unit.MM(7.7)), SteepAxis: given(unit.Degrees(80)),
		CorneaConic: given(-.2), DepthMM: given(unit.MM(4.6)), PowerD: given(unit.Dioptres(24)), OpticMM: given(unit.MM(6)),
		LensSAUM: given(unit.UM(-.2)), RefractionD: given(unit.Dioptres(-1.5)), FocusPupilMM: 3,
	}
}

func personalEye(t *testing.T, p PersonalEye) (ImplantEye, []Taken) {
	t.Helper()
	e, taken, err := NewPersonalEye(p)
	if err != nil {
		t.Fatal(err)
	}
	return e, taken
}

// M = -4√3 c20/r² is the RMS refraction, M = (-4√3 c20 + 12√5 c40 - 24√7 c60)/r²
// the paraxial one (Thibos et al. 2004), both in the plane of the entrance pupil
// and carried to the cornea by L' = L / (1 + d L). Orders above 6 give less
// than 0.01 D at 4 mm.
func TestAPersonalEyeIsAtItsRefractedFocusNotTheParaxialOne(t *testing.T) {
	const tol = .01
	p := known()
	p.CorneaSteepMM, p.FocusPupilMM, p.LensSAUM = p.CorneaFlatMM, 4, given(unit.UM(.1))
	e, _ := personalEye(t, p)
	w := must(e.Wavefront(DisplacedLens{}, 4))(t)
	first := must(e.Centred.Paraxial())(t)
	d := first.EntrancePupilZ / 1000
	rms := -4 * math.Sqrt(3) * w.At(2, 0) / 4
	paraxial := (-4*math.Sqrt(3)*w.At(2, 0) + 12*math.Sqrt(5)*w.At(4, 0) - 24*math.Sqrt(7)*w.At(6, 0)) / 4
	near(t, "refraction", rms/(1+d*rms), -1.5, 1e-5)
	near(t, "paraxial refraction", first.RefractionAtCornealVtxD, paraxial/(1+d*paraxial), tol)
	if first.RefractionAtCornealVtxD < -1.5+.2 {
		t.Errorf("paraxial refraction %.3f D: this eye should tell the two apart", first.RefractionAtCornealVtxD)
	}
}

// Step-along vergence (any optics textbook), a route that shares nothing with the
// tracer: L' = L + F at a surface, L / (1 - (t/n) L) on the way to the next. At a
// pupil of 0.3 mm spherical aberration is worth under 0.002 D.
func TestStepAlongVergenceEndsOnTheRetina(t *testing.T) {
	p := known()
	p.CorneaSteepMM, p.FocusPupilMM = p.CorneaFlatMM, .3
	e, _ := personalEye(t, p)
	spec, s := e.Spec, e.Centred
	v := -1.5 + 376/7.9
	step := func(mm, n, power float64) { v = v/(1-mm/1000/n*v) + power }
	step(.5, 1.376, (1.336-1.376)*1000/spec.CorneaBackRadiusMM)
	step(4.6-.5, 1.336, (spec.Lens.Index-1.336)*1000/s.Surfaces[2].RadiusMM)
	step(spec.Lens.ThicknessMM, spec.Lens.Index, (1.336-spec.Lens.Index)*1000/s.Surfaces[3].RadiusMM)
	behind := s.RetinaZ - 4.6 - spec.Lens.ThicknessMM
	const slope = 2.8 // dioptres of refraction for 1 mm of length, in a usual eye
	near(t, "place of the focus, mm", 1336/v, behind, .002/slope)
	near(t, "back of the cornea", spec.CorneaBackRadiusMM, 7.9*6.4/7.77, 1e-12)
}

// The usual eye has the cornea and iris of Liou and Brennan 1997, whose entrance
// pupil lies at 3.0981 mm (computed from the prescription by a separate program).
func TestTheUsualEyeHasTheEntrancePupilOfItsSchematicEye(t *testing.T) {
	e, _ := personalEye(t, PersonalEye{FocusPupilMM: 3})
	near(t, "entrance pupil", must(e.Centred.Paraxial())(t).EntrancePupilZ, 3.0981, .0005)
}

func TestCorneaAndLensHaveTheirStatedSphericalAberration(t *testing.T) {
	p := known()
	p.CorneaConic, p.CorneaSAUM = unit.Value[float64]{}, given(unit.UM(.28))
	e, _ := personalEye(t, p)
	near(t, "cornea", e.CorneaC40UM, .28, 1e-5)
	near(t, "whole", e.WholeC40UM, .28-.2, 1e-5)
	p.LensSAUM = unit.Value[unit.UM]{}
	e, _ = personalEye(t, p)
	near(t, "a lens of unknown design adds none", e.WholeC40UM, .28, 1e-5)
}

// A cornea of 7.9 mm by 7.7 mm has 376 (1/7.7 - 1/7.9) = 1.236 D of cylinder
// with its minus axis square to the steep meridian. At the entrance pupil, 3 mm
// on, the vergences of the meridians are those at the cornea within 0.6 %.
func TestAToricCorneaHasTheCylinderOfItsRadii(t *testing.T) {
	p := known()
	p.RefractionD = given(unit.Dioptres(0))
	e, _ := personalEye(t, p)
	w := must(e.Wavefront(DisplacedLens{}, 2))(t)
	c := -376 * (1/7.7 - 1/7.9)
	sin, cos := math.Sincos(2 * 170 * math.Pi / 180)
	near(t, "J0", -2*math.Sqrt(6)*w.At(2, 2), -c/2*cos, .01)
	near(t, "J45", -2*math.Sqrt(6)*w.At(2, -2), -c/2*sin, .01)
}

func TestAMirroredPersonalEyeGivesMirroredTerms(t *testing.T) {
	p := known()
	p.PupilCentre, p.CylinderD, p.CylinderAxis = unit.PupilPoint{X: .3, Y: -.1}, given(unit.Dioptres(2)), given(unit.Degrees(30))
	d := DisplacedLens{Decentration: unit.PupilPoint{X: .4, Y: .3}, Tilt: 6, TiltToward: 20, Rotation: 8, AxialMM: .1}
	a, _ := personalEye(t, p)
	p.PupilCentre.X, p.SteepAxis.V, p.CylinderAxis.V = -.3, 100, 150
	b, _ := personalEye(t, p)
	sameTerms(t, must(a.Wavefront(d, 5))(t).Mirror(), must(b.Wavefront(d.Mirrored(), 5))(t))
}

func TestATurnedPersonalEyeGivesTurnedTerms(t *testing.T) {
	const turn = 25
	p := known()
	p.PupilCentre, p.CylinderD, p.CylinderAxis = unit.PupilPoint{X: .3}, given(unit.Dioptres(2)), given(unit.Degrees(30))
	d := shifted(.5, 40)
	d.Tilt, d.TiltToward, d.Rotation = 6, 20, 8
	a, _ := personalEye(t, p)
	sin, cos := math.Sincos(turn * math.Pi / 180)
	p.PupilCentre = unit.PupilPoint{X: unit.MM(.3 * cos), Y: unit.MM(.3 * sin)}
	p.SteepAxis.V += turn
	p.CylinderAxis.V += turn
	b, _ := personalEye(t, p)
	e := shifted(.5, 40+turn)
	e.Tilt, e.TiltToward, e.Rotation = 6, 20+turn, 8
	sameTerms(t, must(a.Wavefront(d, 5))(t).Rotate(-turn), must(b.Wavefront(e, 5))(t))
}

// What is seen at one side by an eye is seen at the other by its mirror image,
// and the oblique part changes its sign. Exact but for rounding.
func TestOffAxisRefractionIsMirroredWithTheEye(t *testing.T) {
	p := known()
	d := DisplacedLens{Decentration: unit.PupilPoint{X: .4, Y: .3}, Tilt: 6, TiltToward: 20}
	a, _ := personalEye(t, p)
	p.SteepAxis.V = 180 - p.SteepAxis.V
	b, _ := personalEye(t, p)
	for _, field := range []unit.Degrees{0, 10, -30} {
		x, y := must(a.OffAxis(d, field))(t), must(b.OffAxis(d.Mirrored(), -field))(t)
		near(t, "tangential", y.TangentialD, x.TangentialD, 1e-6)
		near(t, "sagittal", y.SagittalD, x.SagittalD, 1e-6)
		near(t, "oblique", y.ObliqueD, -x.ObliqueD, 1e-6)
	}
	if x, y := must(a.OffAxis(d, 30))(t), must(a.OffAxis(d, -30))(t); math.Abs(x.TangentialD-y.TangentialD) < .1 {
		t.Error("both sides are alike: the check cannot fail")
	}
}

// sameTerms compares orders 2 to 6; 1e-4 µm is what sampling at other places of
// the pupil turns in the fit.
func sameTerms(t *testing.T, a, b zernike.Terms) {
	t.Helper()
	if d := must(a.Sub(b))(t); d.RMSOrders(2, 6) > 1e-4 {
		t.Errorf("terms differ by %.6f µm:\n%v\n%v", d.RMSOrders(2, 6), a.C, b.C)
	}
}

func TestWhatIsMissingIsListedAsAssumed(t *testing.T) {
	origin := func(p PersonalEye) map[string]unit.Origin {
		e, taken := personalEye(t, p)
		out := map[string]unit.Origin{}
		for _, x := range taken {
			out[x.Name] = x.From
			if x.From != unit.Measured && x.Source == "" {
				t.Errorf("%s without a reason", x)
			}
			if x.Name == "length" {
				near(t, "length", x.Value, e.Centred.RetinaZ, 1e-12)
			}
		}
		return out
	}
	nothing, all := origin(PersonalEye{FocusPupilMM: 3}), origin(known())
	for _, name := range []string{"corneal radius", "corneal Q", "lens depth", "lens", "optic", "refraction"} {
		if nothing[name] != unit.Assumed || all[name] != unit.Measured {
			t.Errorf("%s: %v when missing, %v when measured", name, nothing[name], all[name])
		}
	}
	if all["length"] != unit.Assumed || all["back of the cornea"] != unit.Assumed {
		t.Errorf("what was solved or scaled is said to be %v, %v", all["length"], all["back of the cornea"])
	}
	byLength := PersonalEye{FocusPupilMM: 3, AxialMM: given(unit.MM(23.5))}
	if got := origin(byLength); got["length"] != unit.Measured || got["lens"] != unit.Assumed {
		t.Errorf("length measured: %v", got)
	}
}

// A length that was measured beside the power yields, and both are said.
func TestALengthBesideAPowerYieldsAndIsSaid(t *testing.T) {
	p := known()
	p.AxialMM = given(unit.MM(23))
	_, taken := personalEye(t, p)
	last := taken[len(taken)-1]
	if last.Name != "length" || last.From != unit.Assumed || !strings.HasSuffix(last.String(), " mm (measured 23.00 mm)") {
		t.Errorf("%+v", last)
	}
}

func TestAnEyeThatCannotBeIsRefusedInWords(t *testing.T) {
	for want, change := range map[string]func(*PersonalEye){
		"come in pairs":          func(p *PersonalEye) { p.CorneaSteepMM = unit.Value[unit.MM]{} },
		"flat one not below":     func(p *PersonalEye) { p.CorneaFlatMM.V = 7 },
		"in dioptres":            func(p *PersonalEye) { p.CorneaFlatMM.V, p.CorneaSteepMM.V = 44, 44 },
		"diameter must be above": func(p *PersonalEye) { p.FocusPupilMM = 0 },
		"no cornea of": func(p *PersonalEye) {
			p.CorneaConic, p.CorneaSAUM = unit.Value[float64]{}, given(unit.UM(90))
		},
		"behind the cornea": func(p *PersonalEye) { p.DepthMM.V = .2 },
		"must be finite":    func(p *PersonalEye) { p.RefractionD.V = unit.Dioptres(math.NaN()) },
	} {
		p := known()
		change(&p)
		if _, _, err := NewPersonalEye(p); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
}

// The centre of a lens is its edge of 0.31 mm and two spherical caps, R - √(R² - (D/2)²)
// with R = 2 (n - m)/P (geometry, thin lens): the parabolas of the formula leave out
// (D/2)⁴/(4 R³), 0.02 mm here, and what the caps leave out of that.
func TestALensIsAsThickAsItsEdgeAndTwoCaps(t *testing.T) {
	const tol = .03
	for _, power := range []float64{10, 24} {
		p := known()
		p.PowerD = given(unit.Dioptres(power))
		spec, _, err := PersonalSpec(p)
		if err != nil {
			t.Fatal(err)
		}
		r := 1000 * 2 * (spec.Lens.Index - 1.336) / power
		near(t, "thickness", spec.Lens.ThicknessMM, .31+2*(r-math.Sqrt(r*r-9)), tol)
	}
}
