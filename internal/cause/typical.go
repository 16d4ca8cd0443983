package cause

import (
	"fmt"
	"math"

	"simview/internal/casefile"
	"simview/internal/cornea"
	"simview/internal/eye"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// Typical spherical aberration, c(4,0) at 6 mm.
const (
	corneaSAUM  = 0.28  // ISO 11979-2 model eye 2, and Wang et al. 2003: 0.280 +- 0.086 (from memory)
	corneaSDUM  = 0.086 // one standard deviation of the latter
	naturalSAUM = 0.13  // whole eye, Salmon and van de Pol 2006 (abstract read)
	at6RadiusMM = 3.0
)

// resolveTypical gives the reference eye its own aberration: the cornea's and
// the lens's spherical aberration about the axis of the cornea, measured or
// typical, seen from the middle of the pupil; every other higher-order mean of a
// population is about 0 (Thibos, Bradley, Hong 2002).
func (e *Eye) resolveTypical() error {
	if err := e.regularCornea(); err != nil {
		return err
	}
	lens, lensFrom := naturalSAUM-corneaSAUM, unit.Typical
	switch {
	case e.Data.Implant != nil && e.Data.Implant.SphericalAberrationUM.Given():
		given := e.Data.Implant.SphericalAberrationUM
		lens, lensFrom = float64(given.V), given.From
	case e.Data.Lens == "none":
		lens = 0
	default:
		e.note("lens's spherical aberration %+.2f µm at 6 mm: typical (whole eye +0.13, Salmon and van de Pol 2006)", lens)
	}
	var err error
	if e.corneaSA, err = e.aboutPupil(spherical(float64(e.corneaC40.V))); err != nil {
		return err
	}
	lensSA, err := e.aboutPupil(spherical(lens))
	if err != nil {
		return err
	}
	e.typical = []eye.Part{
		{By: "typical", Plane: eye.FrontCornea, From: eye.OriginOf(e.corneaC40.From), PathUM: e.corneaSA.PathUM},
		{By: "typical", Plane: eye.Lens, From: eye.OriginOf(lensFrom), PathUM: lensSA.PathUM},
	}
	return nil
}

// regularCornea sets c(4,0) at 6 mm of this eye's cornea without its
// irregularity: as stated; else of the conic of the measured radii and
// asphericity, traced exactly; else of the conic that fits a map best, if it is
// within two standard deviations of the usual; else the usual.
func (e *Eye) regularCornea() error {
	k, b := e.Data.Cornea, e.Data.Biometry
	switch {
	case k != nil && k.SphericalAberrationUM.Given():
		e.corneaC40 = k.SphericalAberrationUM
		return nil
	case b != nil && b.AsphericityQ.Given() && b.FlatMM.Given():
		from := max(b.AsphericityQ.From, b.FlatMM.From, b.SteepMM.From)
		return e.conicCornea(cornea.Conic{RadiusMM: e.frontRadius(), Q: b.AsphericityQ.V, N: cornea.CorneaIndex}, from, "corneal radii and asphericity")
	case k != nil && k.Map != nil:
		best := k.Map.Front.Best
		if c := best.C40UM(at6RadiusMM); math.Abs(c-corneaSAUM) <= 2*corneaSDUM {
			return e.conicCornea(best, unit.Measured, bestFit)
		}
		e.note("the conic that fits the map has no usual spherical aberration: it counts as irregular")
	}
	e.corneaC40 = unit.Value[unit.UM]{V: corneaSAUM, From: unit.Typical, Source: "ISO 11979-2"}
	e.note("cornea's spherical aberration %+.2f µm at 6 mm: typical (ISO 11979-2)", corneaSAUM)
	return nil
}

// conicCornea takes c(4,0) of a conic, traced exactly.
func (e *Eye) conicCornea(k cornea.Conic, from unit.Origin, source string) error {
	c := k.C40UM(at6RadiusMM)
	if math.IsNaN(c) {
		p := casefile.Problem{
			File: e.Case.File, Hint: "check it and the corneal radii",
			What: fmt.Sprintf("a cornea of radius %.2f mm with this value does not reach across a pupil of 6 mm", k.RadiusMM), Got: fmt.Sprintf("%+.2f", k.Q),
		}
		if b := e.Data.Biometry; b != nil {
			p.Key, p.Line = e.keyOf("biometry.corneal_asphericity_q", b.AsphericityQ.Line)
		}
		return p
	}
	e.corneaC40 = unit.Value[unit.UM]{V: unit.UM(c), From: from, Source: source}
	e.note("cornea's spherical aberration %+.2f µm at 6 mm: of a conic of radius %.2f mm and Q %+.2f (%s: %s)", c, k.RadiusMM, k.Q, from, source)
	return nil
}

func spherical(c40 float64) zernike.Terms {
	return zernike.Terms{RadiusMM: at6RadiusMM, WavelengthNM: 555}.With(4, 0, c40)
}

// aboutPupil returns terms about the axis of the cornea as terms about the
// middle of the pupil, p away, in orders 3 and up: lower ones are in the
// refraction.
//
//	W(x, y) = W_axis(x + p_x, y + p_y)
func (e *Eye) aboutPupil(t zernike.Terms) (zernike.Terms, error) {
	p := e.Data.PupilShift()
	px, py := float64(p.X), float64(p.Y)
	if px == 0 && py == 0 {
		return t, nil
	}
	wide, err := t.ScaleUp(t.RadiusMM + math.Hypot(px, py))
	if err != nil {
		return t, err
	}
	at, err := wide.Translate(px, py, t.RadiusMM)
	return at.Keep(3, at.Order()), err
}
