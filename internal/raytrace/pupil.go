package raytrace

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// widestPupilMM is the widest entrance pupil that is traced: wider than any
// living eye's, so that a slip of the unit is caught.
const widestPupilMM = 10

// checkPupil refuses diameters that are no pupil.
func checkPupil(pupilMM float64) error {
	if !(pupilMM > 0 && pupilMM <= widestPupilMM) {
		return fmt.Errorf("pupil: diameter must be above 0 and at most %d mm (got %g)", widestPupilMM, pupilMM)
	}
	return nil
}

// hit is where an outgoing ray passes the reference plane, in that plane's
// axes: place (mm), direction cosines along x and y, optical path (mm).
type hit struct{ x, y, l, m, opl float64 }

// beam is light from one point of the retina, leaving through a plane in front
// of the eye.
type beam struct {
	sys   *System
	from  Vec
	plane Frame // origin: centre of the entrance pupil; -z: out of the eye
	// chief is the slope pair (dx/d(-z), dy/d(-z)) inside the eye that leaves
	// through the plane's origin, and back turns an error there into slopes.
	chief [2]float64
	back  [2][2]float64
	mid   hit
}

// newBeam finds the chief ray of the light from a retinal point.
func (s *System) newBeam(from Vec) (*beam, error) {
	z, _ := s.entrancePupil()
	centre := Vec{float64(s.PupilCentre.X), float64(s.PupilCentre.Y), z}
	b := &beam{sys: s, from: from, plane: Frame{centre, identity}}
	depth := from.Z - s.StopZ
	b.chief = [2]float64{(centre.X - from.X) / depth, (centre.Y - from.Y) / depth}
	return b, b.settle()
}

// settle aims the chief ray at the plane's origin by Newton's method, leaving
// the derivative for the other rays.
func (b *beam) settle() error {
	const settledMM = 1e-11
	for range 30 {
		h, err := b.trace(b.chief)
		if err != nil {
			return named(err, b.sys.Name, "middle of the pupil")
		}
		if err := b.differentiate(h); err != nil {
			return err
		}
		if b.mid = h; math.Hypot(h.x, h.y) < settledMM {
			return nil
		}
		b.chief = b.corrected(b.chief, h, 0, 0)
	}
	return fmt.Errorf("%s: no ray from the retina leaves through the centre of the pupil; check the displacement and the pupil's place", b.sys.Name)
}

// differentiate sets back to the inverse of d(x, y)/d(slopes) about the chief ray.
func (b *beam) differentiate(h hit) error {
	const tiny = 1e-5
	hx, err := b.trace([2]float64{b.chief[0] + tiny, b.chief[1]})
	if err != nil {
		return err
	}
	hy, err := b.trace([2]float64{b.chief[0], b.chief[1] + tiny})
	if err != nil {
		return err
	}
	xx, yx := (hx.x-h.x)/tiny, (hx.y-h.y)/tiny
	xy, yy := (hy.x-h.x)/tiny, (hy.y-h.y)/tiny
	det := xx*yy - xy*yx
	if math.Abs(det) < 1e-9 {
		return fmt.Errorf("%s: the pupil is imaged onto the retina, so the wavefront has no meaning; check powers and distances", b.sys.Name)
	}
	b.back = [2][2]float64{{yy / det, -xy / det}, {-yx / det, xx / det}}
	return nil
}

// corrected moves slopes towards those that leave through (x, y).
func (b *beam) corrected(s [2]float64, h hit, x, y float64) [2]float64 {
	dx, dy := x-h.x, y-h.y
	return [2]float64{s[0] + b.back[0][0]*dx + b.back[0][1]*dy, s[1] + b.back[1][0]*dx + b.back[1][1]*dy}
}

// trace sends one ray out and extends it to the reference plane.
func (b *beam) trace(slope [2]float64) (hit, error) {
	r, err := b.sys.TraceOut(Ray{P: b.from, D: Vec{slope[0], slope[1], -1}.Unit()})
	if err != nil {
		return hit{}, err
	}
	p, d := b.plane.in(r.P), b.plane.r.undo(r.D)
	t := -p.Z / d.Z
	h := hit{p.X + t*d.X, p.Y + t*d.Y, d.X, d.Y, r.OPL + b.sys.Media[0].N*t}
	if math.IsNaN(h.x + h.y + h.opl) {
		return hit{}, fmt.Errorf("%s: a ray has no finite path; check that all radii, indices and distances are finite", b.sys.Name)
	}
	return h, nil
}

// aim returns the ray that leaves within closeMM of (x, y) in the plane's axes.
func (b *beam) aim(x, y, closeMM float64) (hit, error) {
	h := b.mid
	slope := b.corrected(b.chief, h, x, y)
	for range 60 {
		var err error
		if h, err = b.trace(slope); err != nil {
			return h, named(err, b.sys.Name, fmt.Sprintf("pupil point (%.2f, %.2f) mm", hundredths(x), hundredths(y)))
		}
		if math.Hypot(h.x-x, h.y-y) < closeMM {
			return h, nil
		}
		slope = b.corrected(slope, h, x, y)
	}
	return h, fmt.Errorf("%s: no ray found through pupil point (%.2f, %.2f) mm; try a smaller pupil", b.sys.Name, x, y)
}

// hundredths rounds, and makes -0 a 0.
func hundredths(x float64) float64 { return math.Round(100*x)/100 + 0 }

// path returns the wavefront of a ray in µm: the way of the chief ray less its
// own, so that light that leaves early counts as advanced (W > 0).
func (b *beam) path(h hit) float64 { return 1000 * (b.mid.opl - h.opl) }

// PathsAt returns the wavefront in µm at points of the entrance pupil (mm from
// its centre) for light from a point of the retina: the map beside the terms.
func (s *System) PathsAt(from Vec, points []unit.PupilPoint) ([]unit.UM, error) {
	b, err := s.newBeam(from)
	if err != nil {
		return nil, err
	}
	const exactMM = 1e-9
	out := make([]unit.UM, len(points))
	for i, p := range points {
		h, err := b.aim(float64(p.X), float64(p.Y), exactMM)
		if err != nil {
			return nil, err
		}
		out[i] = unit.UM(b.path(h))
	}
	return out, nil
}
