package raytrace

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// saPupilMM is the entrance pupil over which an implant's spherical aberration
// is stated (the usual 6 mm).
const saPupilMM = 6

// SAKind says how the spherical aberration of an implant is stated.
type SAKind int

// The ways to state it; all speak of c(4,0) over a 6 mm entrance pupil, centred.
const (
	SASpherical SAKind = iota // both surfaces are spheres
	SANeutral                 // the lens adds none: the eye keeps the cornea's
	SACancels                 // the lens takes AmountUM off the cornea's
	SAWholeEye                // the whole eye is left with AmountUM
)

// SphericalAberration is what the front surface of an implant is solved for.
type SphericalAberration struct {
	Kind     SAKind
	AmountUM float64 // µm, for SACancels and SAWholeEye
}

// LensSpec describes a generic implant by what a clinician or an optics bench
// states of it; it is nobody's design.
type LensSpec struct {
	// PowerD is the thick-lens power in the medium of the eye (D, mean of the
	// meridians); 0 = solve for the refraction, AxialMM then being given.
	PowerD float64
	// Index and ThicknessMM (centre) of the lens.
	Index, ThicknessMM float64
	// AbbeNumber states the dispersion of the material; 0 = not stated, and the
	// eye can then be traced at its own wavelength only.
	AbbeNumber float64
	// ShapeFactor X = (R2 + R1)/(R2 - R1): 0 equiconvex, +1 flat back.
	ShapeFactor float64
	// RadiiMM, when not 0, are used instead of PowerD and ShapeFactor.
	RadiiMM [2]float64
	// OpticMM is the diameter of the optic; 0 = not stated, no edge.
	OpticMM float64
	// SA is the spherical aberration asked for.
	SA SphericalAberration
	// CylinderD is extra power (D, at the lens) in the meridian square to
	// CylinderAxis (standard axis notation); 0 = not toric.
	CylinderD    float64
	CylinderAxis unit.Degrees
}

// ImplantSpec describes an eye with an implant. Lengths are in mm from the
// vertex of the cornea.
type ImplantSpec struct {
	CorneaRadiusMM, CorneaConic float64
	// CorneaCrossPerMM is the curvature of the cornea's steepest meridian less
	// that of its flattest, 1/mm, and SteepAxis that meridian; the radius above
	// is then that of the mean curvature. 0 = round.
	CorneaCrossPerMM float64
	SteepAxis        unit.Degrees
	// CorneaBackRadiusMM 0 makes the cornea a single surface in front of the
	// medium; otherwise all four of its back, thickness and index are needed.
	CorneaBackRadiusMM, CorneaBackConic, CorneaThicknessMM, CorneaIndex float64
	// MediumIndex is the index of aqueous and vitreous.
	MediumIndex float64
	StopMM      float64 // plane of the iris
	LensFrontMM float64 // front vertex of the lens
	Lens        LensSpec
	// AxialMM is the length of the eye; 0 = solve for the refraction.
	AxialMM float64
	// RefractionD is the refraction asked for at the corneal vertex (myopia <
	// 0). It is used where AxialMM or Lens.PowerD is left open.
	RefractionD float64
	// FocusPupilMM is the pupil over which RefractionD is meant (RMS fit); 0
	// takes the paraxial focus, which no eye is ever refracted to.
	FocusPupilMM float64
	WavelengthNM float64
	// PupilCentre moves the pupil off the axis (clinician's axes, mm).
	PupilCentre unit.PupilPoint
}

// BenchSpec returns a neutral eye for checks on displaced lenses: a single-
// surface cornea R 7.575 mm, Q -.14135 in front of 1.3375, an equiconvex lens
// R ±11.043 mm, 1.14 mm thick, index 1.4577, at 4.5 mm, stop at 4 mm, 555 nm,
// paraxial focus on the retina.
func BenchSpec(sa SphericalAberration) ImplantSpec {
	return ImplantSpec{
		CorneaRadiusMM: 7.575, CorneaConic: -.14135, MediumIndex: 1.3375,
		StopMM: 4, LensFrontMM: 4.5, WavelengthNM: 555,
		Lens: LensSpec{RadiiMM: [2]float64{11.043, -11.043}, Index: 1.4577, ThicknessMM: 1.14, OpticMM: 6, SA: sa},
	}
}

// check returns the first thing wrong with the description.
func (s *ImplantSpec) check() error {
	l := &s.Lens
	open := s.AxialMM == 0
	solved := l.PowerD == 0 && l.RadiiMM == [2]float64{}
	rules := []struct {
		bad  bool
		what string
	}{
		{!s.finite(), "every number must be finite"},
		{!(s.CorneaRadiusMM >= 4 && s.CorneaRadiusMM <= 12), fmt.Sprintf("corneal radius must be 4 to 12 mm (got %g); is it in dioptres?", s.CorneaRadiusMM)},
		{s.CorneaCrossPerMM < 0 || s.CorneaCrossPerMM > .1, fmt.Sprintf("curvatures of the cornea's meridians must differ by 0 to 0.1 per mm, the steeper less the flatter (got %g)", s.CorneaCrossPerMM)},
		{s.CorneaBackRadiusMM != 0 && !(s.CorneaThicknessMM > 0 && s.CorneaIndex > 1), "a cornea with a back surface needs a thickness above 0 mm and an index above 1"},
		{!(s.MediumIndex > 1 && s.MediumIndex < 1.6), fmt.Sprintf("index of the medium must be between 1 and 1.6 (got %g)", s.MediumIndex)},
		{!(l.Index > 1 && l.Index < 2) || l.Index == s.MediumIndex, fmt.Sprintf("index of the lens must be between 1 and 2 and differ from the medium (got %g)", l.Index)},
		{!(l.ThicknessMM > 0), fmt.Sprintf("lens thickness must be above 0 mm (got %g)", l.ThicknessMM)},
		{!(s.LensFrontMM > s.CorneaThicknessMM), fmt.Sprintf("lens front must lie behind the cornea (got %g mm)", s.LensFrontMM)},
		{!(s.StopMM > s.CorneaThicknessMM && s.StopMM <= s.LensFrontMM), fmt.Sprintf("stop must lie between cornea and lens (got %g mm)", s.StopMM)},
		{open && solved, "lens power or axial length must be given; only one of them can be solved for"},
		{!(s.WavelengthNM >= 360 && s.WavelengthNM <= 1100), fmt.Sprintf("wavelength must be 360 to 1100 nm (got %g)", s.WavelengthNM)},
		{s.FocusPupilMM != 0 && checkPupil(s.FocusPupilMM) != nil, fmt.Sprintf("pupil of the refraction must be above 0 and at most %d mm (got %g)", widestPupilMM, s.FocusPupilMM)},
		{l.AbbeNumber != 0 && !(l.AbbeNumber >= 15 && l.AbbeNumber <= 100), fmt.Sprintf("Abbe number must be 15 to 100, or 0 where it is not stated (got %g)", l.AbbeNumber)},
		{l.OpticMM < 0, fmt.Sprintf("optic diameter must be 0 (not stated) or above (got %g mm)", l.OpticMM)},
		{l.SA.Kind < SASpherical || l.SA.Kind > SAWholeEye, "spherical aberration must be spherical, neutral, a cancelled amount or the whole eye's"},
	}
	for _, r := range rules {
		if r.bad {
			return fmt.Errorf("implant eye: %s", r.what)
		}
	}
	if !open && !(s.AxialMM > s.LensFrontMM+l.ThicknessMM) {
		what := fmt.Sprintf("the lens (front at %.2f mm, %.2f mm thick) does not fit into an eye of %.2f mm", s.LensFrontMM, l.ThicknessMM, s.AxialMM)
		return EyeError{AboutLength, what, "check its thickness, its depth and the length of the eye", nil}
	}
	return nil
}

// finite reports whether no number is NaN or infinite.
func (s *ImplantSpec) finite() bool {
	l := &s.Lens
	for _, v := range []float64{
		s.CorneaRadiusMM, s.CorneaConic, s.CorneaCrossPerMM, float64(s.SteepAxis), s.CorneaBackRadiusMM, s.CorneaBackConic, s.CorneaThicknessMM, s.CorneaIndex,
		s.MediumIndex, s.StopMM, s.LensFrontMM, s.AxialMM, s.RefractionD, s.FocusPupilMM, s.WavelengthNM,
		float64(s.PupilCentre.X), float64(s.PupilCentre.Y), l.PowerD, l.Index, l.AbbeNumber, l.ThicknessMM, l.ShapeFactor,
		l.RadiiMM[0], l.RadiiMM[1], l.OpticMM, l.SA.AmountUM, l.CylinderD, float64(l.CylinderAxis),
	} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// curvatures returns the curvatures (1/mm) of a thick lens of the power (D) and
// shape factor X in a medium of index m:
//
//	c1 = K (X+1)/2,  c2 = K (X-1)/2
//	P = Δn K + (t/n) Δn² K² (X²-1)/4,  Δn = n - m
func (l *LensSpec) curvatures(powerD, m float64) (c1, c2 float64, err error) {
	if l.RadiiMM != [2]float64{} {
		return inverse(l.RadiiMM[0]), inverse(l.RadiiMM[1]), nil
	}
	dn, x, p := l.Index-m, l.ShapeFactor, powerD/1000
	a := l.ThicknessMM / l.Index * dn * dn * (x*x - 1) / 4
	disc := dn*dn + 4*a*p
	if !(disc >= 0) {
		return 0, 0, fmt.Errorf("implant eye: no lens of %g D can have this index, thickness and shape factor; check them", powerD)
	}
	k := 2 * p / (dn + math.Copysign(math.Sqrt(disc), dn))
	return k * (x + 1) / 2, k * (x - 1) / 2, nil
}

// power returns the thick-lens power (D) of two curvatures in a medium of index m.
//
//	P = φ1 + φ2 - (t/n) φ1 φ2,  φ1 = (n-m) c1,  φ2 = (m-n) c2
func (l *LensSpec) power(c1, c2, m float64) float64 {
	p1, p2 := (l.Index-m)*c1, (m-l.Index)*c2
	return 1000 * (p1 + p2 - l.ThicknessMM/l.Index*p1*p2)
}

// inverse returns 1/r, 0 for 0 (a plane); it is its own inverse.
func inverse(r float64) float64 {
	if r == 0 {
		return 0
	}
	return 1 / r
}
