package cause

import (
	"fmt"
	"sync"

	"simview/internal/casefile"
	"simview/internal/cornea"
	"simview/internal/eye"
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// Eye is one eye of a case with its causes resolved, once and together. Safe
// for concurrent use.
type Eye struct {
	Side   unit.Side
	Case   *casefile.Case
	Data   *casefile.Eye
	Causes []Cause
	Notes  []string // what was assumed, for every output

	typical     []eye.Part          // the reference eye's own aberration
	corneaC40   unit.Value[unit.UM] // of the reference eye's cornea at 6 mm, about its axis
	corneaSA    zernike.Terms       // the same about the centre of the pupil, orders 3 and up
	lens        *lensModel
	cornea      []eye.Part             // at strength 1
	left        refraction.PowerVector // need minus worn, as measured
	rest        refraction.PowerVector // leftover error without the lens's share
	worn        refraction.PowerVector // at the cornea
	need        refraction.PowerVector // at the cornea
	unexplained eye.Part               // measured minus explained
	film        *cornea.TearFilm       // nil: the case has none
	glare0      light.Glare
	glare1      light.Glare
	field       *fieldmask.Surface
	tests       *FieldTests // nil: the case holds none

	addD           unit.Dioptres
	accommodationD unit.Dioptres
	wornWords      string
	brightMM       float64
	dimMM          float64
	limitMM        float64 // widest measured pupil; 0 = none measured

	// Extrapolate lets a pupil be wider than the widest measurement; panels
	// then say so.
	Extrapolate bool

	mu        sync.Mutex
	refracted map[string]refraction.PowerVector
	spreads   map[string]Spread
	inPlace   *lensModel // of an implant that is not displaced
}

// Resolve works out the causes of one eye of a case: the lens's share is taken
// out of the refraction, the cornea out of a whole-eye wavefront, and what
// nothing explains becomes a cause of its own. An eye the case does not
// describe is an error.
func Resolve(c *casefile.Case, side unit.Side) (*Eye, error) {
	d := c.Eye(side)
	if d == nil {
		return nil, fmt.Errorf("%s: describes no %s eye; hint: add eyes.%s or choose the other eye", c.File, side, side)
	}
	e := &Eye{Side: side, Case: c, Data: d, refracted: map[string]refraction.PowerVector{}}
	for _, step := range []func() error{
		e.resolvePupil, e.resolveTypical, e.resolveLens, e.resolveRefraction,
		e.resolveCornea, e.resolveTears, e.resolveScatter, e.resolveField, e.resolveRest,
	} {
		if err := step(); err != nil {
			return nil, placed(err, fmt.Errorf("%s eye: %w", side, err))
		}
	}
	return e, nil
}

func (e *Eye) note(format string, a ...any) { e.Notes = append(e.Notes, fmt.Sprintf(format, a...)) }

func (e *Eye) age() float64 { return e.Case.AgeYears.V }

// Luminances of the adapting fields, 30 degrees across, that bright and dim pupil
// stand for.
const (
	brightCdM2 = 300
	dimCdM2    = 0.5
	fieldDeg2  = 707
)

// usualPupilMM is the pupil of the unified formula for this age in an adapting
// field, held to the ages that it was measured at.
func (e *Eye) usualPupilMM(cdM2 float64) float64 {
	return light.PupilMM(cdM2, fieldDeg2, min(83, max(20, e.age())), 2)
}

// resolvePupil takes the measured pupils or the usual ones of a typical bright and
// dim adapting field.
func (e *Eye) resolvePupil() error {
	why := "unified pupil formula, Watson and Yellott 2012"
	b := e.Data.PupilBrightMM.Or(unit.MM(e.usualPupilMM(brightCdM2)), unit.Typical, why)
	d := e.Data.PupilDimMM.Or(unit.MM(e.usualPupilMM(dimCdM2)), unit.Typical, why)
	e.brightMM, e.dimMM = float64(b.V), float64(d.V)
	for k, v := range [...]unit.Value[unit.MM]{b, d} {
		if v.From != unit.Measured {
			e.note("%s pupil %.1f mm: %s (%s)", [...]string{"bright", "dim"}[k], float64(v.V), v.From, v.Source)
		}
	}
	return nil
}

// resolveRefraction works out the leftover error,
//
//	E = (need - worn) - lens's share at strength 1
//
// at the cornea. Unless both what the eye needs and what it wears are stated,
// the best correction is taken as worn and nothing is left over.
func (e *Eye) resolveRefraction() (err error) {
	if r := e.Data.Refraction; r != nil {
		if e.need, err = atCornea(r.SphereD.V, r.CylinderD.V, r.AxisDeg.V, r.VertexMM.V); err != nil {
			return fmt.Errorf("refraction: %w", err)
		}
	}
	if err := e.resolveWorn(); err != nil {
		return err
	}
	if err := e.resolveNear(); err != nil {
		return err
	}
	if e.Data.Refraction == nil || e.Data.WornFar == nil {
		return nil
	}
	e.left = e.need.Sub(e.worn)
	e.rest = e.left
	words := "left over by the glasses worn"
	if e.lens != nil {
		e.rest = e.left.Sub(e.lens.share)
		words += ", the displaced lens's share taken out"
	}
	if e.rest.Length() >= leftoverD {
		e.add(Cause{
			ID: Cylinder, Label: "Leftover cylinder", From: e.Data.Refraction.CylinderD.From,
			Amount: e.rest.String() + " D " + words,
		})
	}
	return nil
}

// leftoverD is the least error that is called a cause: half a trial lens step.
const leftoverD = 0.125

func (e *Eye) resolveWorn() (err error) {
	switch w := e.Data.WornFar; {
	case w == nil:
		e.worn, e.wornWords = e.need, "best correction (assumed)"
		e.note("no correction stated: the best one is taken as worn (assumed)")
	case w.None:
		e.wornWords = "no glasses"
	default:
		e.wornWords = "own glasses"
		if e.Data.Refraction == nil {
			e.note("no refraction stated: the correction worn is taken as the best one (assumed)")
		}
		if e.worn, err = atCornea(w.SphereD.V, w.CylinderD.V, w.AxisDeg.V, w.VertexMM.V); err != nil {
			return fmt.Errorf("worn_far: %w", err)
		}
	}
	return nil
}

func (e *Eye) resolveNear() error {
	switch n := e.Data.WornNear; {
	case n != nil && n.AddD.Given():
		e.addD = n.AddD.V
	case n != nil && !n.None:
		full, err := atCornea(n.SphereD.V, n.CylinderD.V, n.AxisDeg.V, n.VertexMM.V)
		if err != nil {
			return fmt.Errorf("worn_near: %w", err)
		}
		e.addD = full.M - e.worn.M
	case n == nil:
		e.note("no near correction stated: none is worn for near (assumed)")
	}
	e.resolveAccommodation()
	return nil
}

func (e *Eye) resolveAccommodation() {
	if e.Data.Lens != "natural" {
		return // an implant does not accommodate
	}
	usual := unit.Dioptres(max(0, 15-0.25*e.age()))
	a := e.Data.AccommodationD.Or(usual, unit.Assumed, "Hofstetter's minimum amplitude 15 - 0.25 age, from memory")
	e.accommodationD = a.V
	if a.From != unit.Measured {
		e.note("accommodation %.2f D: %s (%s)", float64(a.V), a.From, a.Source)
	}
}

func atCornea(sphere, cylinder unit.Dioptres, axis unit.Degrees, vertex unit.MM) (refraction.PowerVector, error) {
	sc := refraction.SphereCylinder{Sphere: sphere, Cylinder: cylinder, AxisDeg: axis}
	if err := sc.Check(); err != nil {
		return refraction.PowerVector{}, err
	}
	return sc.PowerVector().ToCornea(vertex)
}
