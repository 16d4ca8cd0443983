package cause

import (
	"fmt"
	"math"
	"math/rand/v2"

	"simview/internal/eye"
	"simview/internal/raytrace"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// How implants come to lie after surgery. A place is drawn as two independent
// normal numbers, so that its distance has the mean σ √(π/2) and the standard
// deviation σ √(2-π/2).
const (
	// placeSDMM gives 0.28 ± 0.15 mm; published means 0.27 to 0.30, SD 0.16
	// (Baumeister 2009, Eppig 2009, from memory).
	placeSDMM = 0.223
	// tiltSDDeg gives 2.7 ± 1.4 degrees; published means 2.6 to 2.9, SD 1.4
	// (the same, from memory).
	tiltSDDeg = 2.19
	// turnSDDeg and axialSDMM are assumptions.
	turnSDDeg = 4.0
	axialSDMM = 0.25
	// Cylinder that the operation makes: 0.24 D on average when a lens is put
	// straight, 0.65 D when it is exchanged (read, IOVS 2017;58:4747), as a place of mean length
	// C/2 in the plane (J0, J45).
	straightCylinderD  = 0.24
	exchangedCylinderD = 0.65
	// newPowerSDD is how far the power of a new lens is off; an assumption.
	newPowerSDD = 0.6
)

const (
	placeWords     = "lens lies 0.28 mm and 2.7 degrees off on average (published, from memory), turned by 0 ± 4 degrees if toric and 0 ± 0.25 mm fore or aft (assumed)"
	straightWords  = placeWords + "; the operation makes 0.24 D of cylinder on average (published); optics alone, no complications"
	exchangedWords = "a lens of the same kind, its power chosen for the glasses worn and off by 0 ± 0.60 D (assumed); " + placeWords + "; the operation makes 0.65 D of cylinder on average (published); optics alone, no complications"

	straightLost  = "worse best-corrected acuity after it in 21 in 100 eyes with a late dislocated lens (Kristianslund 2017, randomised)"
	exchangedLost = "worse best-corrected acuity after it in 26 in 100 eyes with a late dislocated lens (Kristianslund 2017, randomised)"
)

var lensKinds = []*kind{
	lensKind("lens-straight-same-glasses", "Lens put straight, same glasses", straightWords, straightLost, straightened(false)),
	lensKind("lens-straight-refracted", "Lens put straight, new glasses", straightWords, straightLost, straightened(true)),
	lensKind("lens-exchanged-same-glasses", "Lens exchanged, same glasses", exchangedWords, exchangedLost, exchanged(false)),
	lensKind("lens-exchanged-refracted", "Lens exchanged, new glasses", exchangedWords, exchangedLost, exchanged(true)),
}

func lensKind(id, label, assumes, published string, apply func(*tryout, map[string]float64) error) *kind {
	return &kind{id: id, label: label, whatIf: true, at: lensPlane, assumes: assumes, published: published, keys: whatIfKeys, apply: apply}
}

// straightened puts the lens in its place, or draws where it comes to lie.
func straightened(refracted bool) func(*tryout, map[string]float64) error {
	return func(t *tryout, _ map[string]float64) error {
		t.refracted(refracted)
		return t.placed(straightCylinderD)
	}
}

// exchanged also chooses the sphere for the glasses worn: only then does the
// mean error in them go.
func exchanged(refracted bool) func(*tryout, map[string]float64) error {
	return func(t *tryout, _ map[string]float64) error {
		t.refracted(refracted)
		if t.luck.now {
			return nil
		}
		aim, err := t.e.best(t.set, t.s.PupilMM)
		if err != nil {
			return err
		}
		t.shift.M += aim.M - t.own.M
		if err := t.placed(exchangedCylinderD); err != nil || t.rand == nil {
			return err
		}
		t.shift.M += unit.Dioptres(newPowerSDD * t.rand.NormFloat64())
		return nil
	}
}

func (t *tryout) refracted(yes bool) {
	if yes {
		t.glasses = bestGlasses
	}
}

// placed draws the place of the lens and the cylinder of the operation, and
// traces that lens.
func (t *tryout) placed(cylinderD float64) error {
	if t.rand == nil || t.luck.now {
		return nil
	}
	l, err := t.e.implant()
	if err != nil {
		return err
	}
	place := drawPlace(t.rand, t.e.Side)
	w, err := l.eye.Wavefront(place, l.pupilMM)
	if err != nil {
		return err
	}
	t.lies = &lies{l, place}
	t.s.Colours.Lens = l.colours(place)
	if w, err = w.Sub(l.centred); err != nil {
		return err
	}
	w = w.Keep(2, w.Order())
	t.s, t.touched = t.s.With(eye.Part{By: string(Lens), Plane: eye.Lens, From: eye.Assumed, PathUM: w.PathUM}), true
	t.shift = t.shift.Add(drawCylinder(t.rand, t.e.Side, cylinderD))
	return nil
}

// lies is the implant of a draw and the place where it came to lie.
type lies struct {
	lens *lensModel
	at   raytrace.DisplacedLens
}

// edged finds the light that passes beside a lens that was drawn, through the
// pupil that the trial leaves.
func (t *tryout) edged() (err error) {
	if t.lies != nil {
		off := math.Hypot(float64(t.s.PupilAt.X), float64(t.s.PupilAt.Y))
		t.s.Past, err = t.lies.lens.pastWithin(t.lies.at, off+t.s.PupilMM/2)
	}
	return err
}

// drawPlace draws where an implant comes to lie; the fellow eye's place is the
// mirror image.
func drawPlace(r *rand.Rand, side unit.Side) raytrace.DisplacedLens {
	out := side.TemporalX()
	x, y := placeSDMM*r.NormFloat64(), placeSDMM*r.NormFloat64()
	a, b := tiltSDDeg*r.NormFloat64(), tiltSDDeg*r.NormFloat64()
	return raytrace.DisplacedLens{
		Decentration: unit.PupilPoint{X: unit.MM(out * x), Y: unit.MM(y)},
		Tilt:         unit.Degrees(math.Hypot(a, b)), TiltToward: unit.Degrees(math.Atan2(b, out*a) * 180 / math.Pi),
		Rotation: unit.Degrees(out * turnSDDeg * r.NormFloat64()), AxialMM: unit.MM(axialSDMM * r.NormFloat64()),
	}
}

// drawCylinder draws a cylinder of that mean size at any axis:
//
//	σ = (C/2) / √(π/2)  of J0 and of J45
func drawCylinder(r *rand.Rand, side unit.Side, meanD float64) refraction.PowerVector {
	sd := meanD / 2 / math.Sqrt(math.Pi/2)
	return refraction.PowerVector{J0: unit.Dioptres(sd * r.NormFloat64()), J45: unit.Dioptres(side.TemporalX() * sd * r.NormFloat64())}
}

// implant returns the traced model of this eye's implant, displaced or not.
func (e *Eye) implant() (*lensModel, error) {
	if e.Data.Lens != "implant" {
		return nil, fmt.Errorf("the %s eye has no implant (lens: %s); hint: choose a trial for another plane", e.Side, e.Data.Lens)
	}
	l, err := e.tracedLens()
	if err != nil {
		return nil, fmt.Errorf("implant: %w", err)
	}
	return l, nil
}

// tracedLens is the displaced implant, or one in its place, which is solved once.
func (e *Eye) tracedLens() (*lensModel, error) {
	if e.lens != nil {
		return e.lens, nil
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.inPlace == nil {
		l, err := e.tracedEye(raytrace.DisplacedLens{}, max(tracePupilMM, e.dimMM))
		if err != nil {
			return nil, err
		}
		e.inPlace = l
	}
	return e.inPlace, nil
}
