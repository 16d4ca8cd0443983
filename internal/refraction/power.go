package refraction

import (
	"math"

	"simview/internal/unit"
	"simview/internal/zernike"
)

// PowerVector is a refraction as three independent numbers, in dioptres, that
// may be added and subtracted: mean sphere, and the crossed cylinders at 0 and
// at 45 degrees.
type PowerVector struct {
	M, J0, J45 unit.Dioptres
}

// Add returns p + q: two thin lenses in one plane, crossed cylinders and all.
func (p PowerVector) Add(q PowerVector) PowerVector {
	return PowerVector{p.M + q.M, p.J0 + q.J0, p.J45 + q.J45}
}

// Sub returns p - q: what is left of refraction p behind correction q.
func (p PowerVector) Sub(q PowerVector) PowerVector { return p.Add(q.Times(-1)) }

// Times returns p with every component multiplied by k.
func (p PowerVector) Times(k float64) PowerVector {
	d := unit.Dioptres(k)
	return PowerVector{d * p.M, d * p.J0, d * p.J45}
}

// Sphere returns the power vector of a sphere of d dioptres.
func Sphere(d unit.Dioptres) PowerVector { return PowerVector{M: d} }

// Astigmatism returns J = √(J0² + J45²), half the cylinder, in dioptres.
func (p PowerVector) Astigmatism() unit.Dioptres {
	return unit.Dioptres(math.Hypot(float64(p.J0), float64(p.J45)))
}

// Length returns √(M² + J0² + J45²), the strength of the blur in dioptres.
func (p PowerVector) Length() unit.Dioptres {
	return unit.Dioptres(math.Hypot(float64(p.M), float64(p.Astigmatism())))
}

// Turn returns the same lens turned counter-clockwise (as the clinician sees
// it) by the angle: its axis goes from α to α + angle.
//
//	J0'  = J0 cos 2φ - J45 sin 2φ
//	J45' = J0 sin 2φ + J45 cos 2φ
func (p PowerVector) Turn(angle unit.Degrees) PowerVector {
	s, c := math.Sincos(2 * angle.Radians())
	sin, cos := unit.Dioptres(s), unit.Dioptres(c)
	return PowerVector{p.M, p.J0*cos - p.J45*sin, p.J0*sin + p.J45*cos}
}

// Mirror returns the refraction reflected left to right, axis α to 180 - α: the
// same shape in the fellow eye.
func (p PowerVector) Mirror() PowerVector { return PowerVector{p.M, p.J0, -p.J45} }

// Along returns the power in the meridian at the angle from +x, in dioptres.
//
//	F(θ) = M + J0 cos 2θ + J45 sin 2θ
func (p PowerVector) Along(angle unit.Degrees) unit.Dioptres {
	s, c := math.Sincos(2 * angle.Radians())
	return p.M + p.J0*unit.Dioptres(c) + p.J45*unit.Dioptres(s)
}

// PathUM returns the wavefront of an eye with this refraction at the point
// (xMM, yMM) of its pupil, in µm; 0 at the centre.
//
//	W(x, y) = -½ [M (x²+y²) + J0 (x²-y²) + 2 J45 x y]
func (p PowerVector) PathUM(xMM, yMM float64) float64 {
	xx, yy, xy := xMM*xMM, yMM*yMM, xMM*yMM
	return -(float64(p.M)*(xx+yy) + float64(p.J0)*(xx-yy) + 2*float64(p.J45)*xy) / 2
}

// ToTerms returns the same wavefront as [PowerVector.PathUM] without its
// piston, as Zernike terms over a pupil of radiusMM at wavelengthNM.
//
//	c(2,0) = -M r²/(4√3),  c(2,2) = -J0 r²/(2√6),  c(2,-2) = -J45 r²/(2√6)
func (p PowerVector) ToTerms(radiusMM, wavelengthNM float64) (zernike.Terms, error) {
	r2 := radiusMM * radiusMM
	t := zernike.Terms{RadiusMM: radiusMM, WavelengthNM: wavelengthNM}.
		With(2, 0, -float64(p.M)*r2/(4*math.Sqrt(3))).
		With(2, 2, -float64(p.J0)*r2/(2*math.Sqrt(6))).
		With(2, -2, -float64(p.J45)*r2/(2*math.Sqrt(6)))
	return t, t.Check()
}

// FromTermsRMS returns the refraction of the sphere and cylinder that fit the
// wavefront best in the least-squares sense over its pupil.
//
//	M = -4√3 c(2,0)/r²,  J0 = -2√6 c(2,2)/r²,  J45 = -2√6 c(2,-2)/r²
func FromTermsRMS(t zernike.Terms) (PowerVector, error) {
	k := -1 / (t.RadiusMM * t.RadiusMM)
	return PowerVector{
		M:   unit.Dioptres(4 * math.Sqrt(3) * k * t.At(2, 0)),
		J0:  unit.Dioptres(2 * math.Sqrt(6) * k * t.At(2, 2)),
		J45: unit.Dioptres(2 * math.Sqrt(6) * k * t.At(2, -2)),
	}, t.Check()
}

// FromTermsParaxial returns the refraction of the sphere and cylinder that
// match the curvature of the wavefront at the centre of its pupil, whatever its
// order. For orders up to 6 this is
//
//	M   = (-4√3 c(2,0) + 12√5 c(4,0) - 24√7 c(6,0)) / r²
//	J0  = (-2√6 c(2,2) + 6√10 c(4,2) - 12√14 c(6,2)) / r²,  J45 with m = -2
//
// Each sum runs over all orders: the ρ² term of N R_n^0 is N (-1)^(n/2+1)
// n(n+2)/4, that of N R_n^2 is N (-1)^(n/2+1) (n/2)(n/2+1)/2.
func FromTermsParaxial(t zernike.Terms) (PowerVector, error) {
	var sum [3]float64 // ρ² of m = 0, 2 and -2
	for n := 2; n <= t.Order(); n += 2 {
		h := float64(n / 2)
		sign := float64(1 - 2*((n/2+1)%2))
		sum[0] += sign * zernike.Norm(n, 0) * h * (h + 1) * t.At(n, 0)
		sum[1] += sign * zernike.Norm(n, 2) * h * (h + 1) / 2 * t.At(n, 2)
		sum[2] += sign * zernike.Norm(n, 2) * h * (h + 1) / 2 * t.At(n, -2)
	}
	k := -2 / (t.RadiusMM * t.RadiusMM)
	return PowerVector{
		M:   unit.Dioptres(k * sum[0]),
		J0:  unit.Dioptres(k * sum[1]),
		J45: unit.Dioptres(k * sum[2]),
	}, t.Check()
}
