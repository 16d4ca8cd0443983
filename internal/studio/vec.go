package studio

import (
	"math"

	"simview/internal/light"
)

// V3 is a place in metres or a direction: right, up, ahead.
type V3 struct{ X, Y, Z float64 }

// Add returns a + b.
func (a V3) Add(b V3) V3 { return V3{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a V3) Sub(b V3) V3 { return V3{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Mul returns k a.
func (a V3) Mul(k float64) V3 { return V3{a.X * k, a.Y * k, a.Z * k} }

// Dot returns the scalar product.
func (a V3) Dot(b V3) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross returns the vector product.
func (a V3) Cross(b V3) V3 {
	return V3{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Len returns the length.
func (a V3) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Unit returns the direction of a, which must not be zero.
func (a V3) Unit() V3 { return a.Mul(1 / a.Len()) }

// RotY turns a by an angle in degrees about the upright axis, from ahead
// towards the right.
func (a V3) RotY(deg float64) V3 {
	s, c := math.Sincos(deg * math.Pi / 180)
	return V3{a.X*c + a.Z*s, a.Y, a.Z*c - a.X*s}
}

// rotX turns a by an angle in degrees about the axis to the right, from ahead
// upwards.
func (a V3) rotX(deg float64) V3 {
	s, c := math.Sincos(deg * math.Pi / 180)
	return V3{a.X, a.Y*c + a.Z*s, a.Z*c - a.Y*s}
}

func minV(a, b V3) V3 { return V3{min(a.X, b.X), min(a.Y, b.Y), min(a.Z, b.Z)} }
func maxV(a, b V3) V3 { return V3{max(a.X, b.X), max(a.Y, b.Y), max(a.Z, b.Z)} }

// basis returns two directions that make a right angle with n and each other.
func basis(n V3) (t, b V3) {
	if math.Abs(n.X) > 0.9 {
		t = V3{0, 1, 0}
	} else {
		t = V3{1, 0, 0}
	}
	t = t.Sub(n.Mul(n.Dot(t))).Unit()
	return t, n.Cross(t)
}

// RGB is light or a reflectance per linear sRGB primary.
type RGB struct{ R, G, B float64 }

// Grey returns a colour with three equal parts.
func Grey(v float64) RGB { return RGB{v, v, v} }

// Add returns a + b.
func (a RGB) Add(b RGB) RGB { return RGB{a.R + b.R, a.G + b.G, a.B + b.B} }

// Mul returns k a.
func (a RGB) Mul(k float64) RGB { return RGB{a.R * k, a.G * k, a.B * k} }

// Times returns the product by parts.
func (a RGB) Times(b RGB) RGB { return RGB{a.R * b.R, a.G * b.G, a.B * b.B} }

// Mix returns a for t = 0 and b for t = 1, and between them a straight line.
func (a RGB) Mix(b RGB, t float64) RGB { return a.Mul(1 - t).Add(b.Mul(t)) }

// Y returns the luminance, with the weights of linear sRGB (IEC 61966-2-1).
func (a RGB) Y() float64 { return light.WeightR*a.R + light.WeightG*a.G + light.WeightB*a.B }

// ToY returns the colour scaled to a luminance.
func (a RGB) ToY(y float64) RGB { return a.Mul(y / a.Y()) }

func (a RGB) top() float64 { return max(a.R, a.G, a.B) }

// ray is a half line from o along the unit direction d.
type ray struct{ o, d V3 }

func (r ray) at(t float64) V3 { return r.o.Add(r.d.Mul(t)) }
