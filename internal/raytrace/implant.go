package raytrace

import "simview/internal/zernike"

// ImplantEye is an eye with a generic implant, solved so that the centred eye
// has the spherical aberration and the refraction asked for. It is read-only
// and may be used by several goroutines.
type ImplantEye struct {
	Spec        ImplantSpec
	Centred     System     // the eye with the lens in its place
	FrontEven   [2]float64 // factors of r⁴ (mm^-3) and r⁶ (mm^-5) on the lens's front, as solved
	PowerD      float64    // thick-lens power in the medium, as given or solved
	CorneaC40UM float64    // c(4,0) of the cornea alone at a 6 mm entrance pupil
	WholeC40UM  float64    // c(4,0) of the centred eye at 6 mm
	RefractionD float64    // refraction of the centred eye at the corneal vertex
	lensFirst   int        // index of the lens's front surface
}

// NewImplantEye builds the eye and solves what was left open. A description
// that makes no eye, or that no front surface can meet, is an error.
func NewImplantEye(spec ImplantSpec) (ImplantEye, error) {
	e := ImplantEye{Spec: spec, PowerD: spec.Lens.PowerD}
	if err := spec.check(); err != nil {
		return e, err
	}
	cornea, err := e.CorneaWavefront(saPupilMM)
	if err != nil {
		return e, err
	}
	e.CorneaC40UM = cornea.At(4, 0)
	if err := e.solveAsphericity(); err != nil {
		return e, err
	}
	return e, e.measure()
}

// CorneaWavefront returns the terms (µm) of the cornea alone over an entrance
// pupil centred on the axis: light from the cornea's own paraxial focus. The
// lens's share of an eye's terms is what is left after taking these away.
func (e ImplantEye) CorneaWavefront(pupilMM float64) (zernike.Terms, error) {
	s := e.cornea()
	p, err := s.cardinal()
	if err != nil {
		return zernike.Terms{}, err
	}
	s.RetinaZ = p.FocusZ
	return e.centredTerms(&s, pupilMM)
}

// measure sets what the solved eye has.
func (e *ImplantEye) measure() error {
	var err error
	if e.RefractionD, err = e.refraction(&e.Centred); err != nil {
		return err
	}
	w, err := e.centredTerms(&e.Centred, saPupilMM)
	if err != nil {
		return err
	}
	e.WholeC40UM = w.At(4, 0)
	return nil
}

// cornea returns the eye without a lens.
func (e *ImplantEye) cornea() System {
	c := &e.Spec
	s := System{
		Name: "implant eye", WavelengthNM: c.WavelengthNM, StopZ: c.StopMM, StopAfter: 1,
		PupilCentre: c.PupilCentre, RetinaZ: c.AxialMM,
		Surfaces: []Surface{{Name: "cornea front", At: frameAt(0), RadiusMM: c.CorneaRadiusMM, Conic: c.CorneaConic, SemiDiameterMM: corneaEdgeMM}},
		Media:    []Medium{air()},
	}
	if cross := c.CorneaCrossPerMM; cross != 0 {
		f := &s.Surfaces[0]
		f.RadiusMM, f.CrossCurvature = inverse(inverse(c.CorneaRadiusMM)-cross/2), cross
		f.At.r = turnedAboutZ(c.SteepAxis)
	}
	if c.CorneaBackRadiusMM != 0 {
		s.Surfaces = append(s.Surfaces, Surface{Name: "cornea back", At: frameAt(c.CorneaThicknessMM), RadiusMM: c.CorneaBackRadiusMM, Conic: c.CorneaBackConic})
		s.Media = append(s.Media, Medium{Name: "cornea", N: c.CorneaIndex, Chroma: corneaCauchy.from(c.WavelengthNM)})
		s.StopAfter = 2
	}
	s.Media = append(s.Media, Medium{Name: "medium", N: c.MediumIndex, Chroma: aqueousCauchy.from(c.WavelengthNM)})
	return s
}

// assemble sets the lens of the given front even terms and power into the eye. The
// surfaces go on beyond the edge of the optic; see [ImplantEye.Covered].
func (e *ImplantEye) assemble(even [2]float64, powerD float64) (System, error) {
	s, l := e.cornea(), &e.Spec.Lens
	c1, c2, err := l.curvatures(powerD, e.Spec.MediumIndex)
	if err != nil {
		return s, err
	}
	e.PowerD = l.power(c1, c2, e.Spec.MediumIndex)
	e.lensFirst = len(s.Surfaces)
	cross := l.CylinderD / 1000 / (l.Index - e.Spec.MediumIndex)
	front := Surface{Name: "implant front", At: frameAt(e.Spec.LensFrontMM), RadiusMM: inverse(c1 - cross/2), CrossCurvature: cross}
	if even != [2]float64{} {
		front.Even = even[:]
	}
	front.At.r = turnedAboutZ(l.CylinderAxis + 90)
	back := Surface{Name: "implant back", At: frameAt(e.Spec.LensFrontMM + l.ThicknessMM), RadiusMM: inverse(c2)}
	s.Surfaces = append(s.Surfaces, front, back)
	implant := Medium{Name: "implant", N: l.Index}
	if l.AbbeNumber != 0 {
		implant.Chroma = abbeCauchy(l.Index, l.AbbeNumber).from(e.Spec.WavelengthNM)
	}
	vitreous := *s.last()
	vitreous.Name = "vitreous"
	s.Media = append(s.Media, implant, vitreous)
	return s, nil
}

// At returns the eye with its lens displaced: for drawings and for tracing.
func (e ImplantEye) At(d DisplacedLens) (System, error) {
	return e.Centred.Moved(e.lensFirst, len(e.Centred.Surfaces)-1, d)
}

// Wavefront returns the terms of orders 0 to 6 (µm, ANSI sense: light leaving
// the eye from the axial retina) over an entrance pupil of diameter pupilMM,
// with the lens displaced. Nothing is refocused: take the difference to the
// centred eye (the zero displacement) for what the displacement adds. The
// lens's surfaces are continued beyond its edge; see [ImplantEye.Covered].
func (e ImplantEye) Wavefront(d DisplacedLens, pupilMM float64) (zernike.Terms, error) {
	s, err := e.At(d)
	if err != nil {
		return zernike.Terms{}, err
	}
	return s.Wavefront(s.OnAxis(), pupilMM)
}
