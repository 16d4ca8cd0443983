package raytrace

import (
	"math"

	"simview/internal/unit"
)

// Vec is a point (mm) or a direction (unit length) in the eye's frame; see the
// package's conventions for its axes.
type Vec struct{ X, Y, Z float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Mul returns s v.
func (v Vec) Mul(s float64) Vec { return Vec{s * v.X, s * v.Y, s * v.Z} }

// Dot returns the scalar product of v and w.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Norm returns the length of v.
func (v Vec) Norm() float64 { return math.Sqrt(v.Dot(v)) }

// Unit returns v at length 1; v must not be the zero vector.
func (v Vec) Unit() Vec { return v.Mul(1 / v.Norm()) }

// mat3 is a rotation; its columns are the turned axes.
type mat3 [3]Vec

var identity = mat3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

// apply turns v: the sum of the columns times the components of v.
func (m mat3) apply(v Vec) Vec {
	return m[0].Mul(v.X).Add(m[1].Mul(v.Y)).Add(m[2].Mul(v.Z))
}

// undo turns v back: a rotation's inverse is its transpose.
func (m mat3) undo(v Vec) Vec { return Vec{m[0].Dot(v), m[1].Dot(v), m[2].Dot(v)} }

// times returns the rotation that applies n first and m after it.
func (m mat3) times(n mat3) mat3 {
	return mat3{m.apply(n[0]), m.apply(n[1]), m.apply(n[2])}
}

// turnedAboutZ turns x towards y by the angle: counter-clockwise for the
// clinician who looks at the eye.
func turnedAboutZ(a unit.Degrees) mat3 {
	s, c := math.Sincos(a.Radians())
	return mat3{{c, s, 0}, {-s, c, 0}, {0, 0, 1}}
}

// tippedTowards turns +z (the posterior pole) towards the direction that lies
// counter-clockwise from +x by the angle toward.
func tippedTowards(tilt, toward unit.Degrees) mat3 {
	s, c := math.Sincos(tilt.Radians())
	zTowardsX := mat3{{c, 0, -s}, {0, 1, 0}, {s, 0, c}}
	return turnedAboutZ(toward).times(zTowardsX).times(turnedAboutZ(-toward))
}

// Frame is the place of a surface or a gradient: the origin is its vertex (mm
// in the eye's frame) and the rotation turns its own axes into the eye's.
type Frame struct {
	O Vec
	r mat3
}

// frameAt returns an unturned frame whose vertex lies on the axis at z mm.
func frameAt(z float64) Frame { return Frame{Vec{0, 0, z}, identity} }

// in returns p in the frame's own axes.
func (f Frame) in(p Vec) Vec { return f.r.undo(p.Sub(f.O)) }

// out returns in the eye's axes the point that is p in the frame's own axes.
func (f Frame) out(p Vec) Vec { return f.r.apply(p).Add(f.O) }

// motion is a rigid displacement: turn about pivot, then shift.
type motion struct {
	pivot, shift Vec
	r            mat3
}

// moved returns the frame carried along by the motion:
//
//	o' = pivot + shift + R (o - pivot),  r' = R r
func (f Frame) moved(m motion) Frame {
	o := m.r.apply(f.O.Sub(m.pivot)).Add(m.pivot).Add(m.shift)
	return Frame{o, m.r.times(f.r)}
}
