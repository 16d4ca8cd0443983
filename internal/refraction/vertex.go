package refraction

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// maxVertexMM is the widest vertex distance taken for one: no spectacle lens
// sits farther from the eye (an assumption; usual values are 10 to 16 mm).
const maxVertexMM = 40

// ToCornea returns the refraction at the cornea of an eye whose spectacle
// refraction, at vertexMM in front of it, is p. Each principal meridian is
// carried over exactly; the axis stays.
//
//	F_c = F / (1 - d F),  d in m
//
// A distance that is not 0 to 40 mm, or a lens whose focus falls on the cornea,
// is an error.
func (p PowerVector) ToCornea(vertexMM unit.MM) (PowerVector, error) {
	return p.move(vertexMM, 1)
}

// ToSpectacles is the reverse of [PowerVector.ToCornea]: the spectacle
// refraction at vertexMM of an eye whose refraction at the cornea is p.
//
//	F = F_c / (1 + d F_c),  d in m
func (p PowerVector) ToSpectacles(vertexMM unit.MM) (PowerVector, error) {
	return p.move(vertexMM, -1)
}

func (p PowerVector) move(vertexMM unit.MM, sign float64) (PowerVector, error) {
	if !(vertexMM >= 0 && vertexMM <= maxVertexMM) {
		return PowerVector{}, fmt.Errorf("refraction: vertex distance %v mm: expected 0 to %d, usually about 12", vertexMM, maxVertexMM)
	}
	j := p.Astigmatism()
	d := sign * float64(vertexMM) / 1000
	high, err1 := moveMeridian(float64(p.M+j), d)
	low, err2 := moveMeridian(float64(p.M-j), d)
	if err1 != nil {
		return PowerVector{}, err1
	}
	if err2 != nil {
		return PowerVector{}, err2
	}
	out := PowerVector{M: unit.Dioptres(high+low) / 2}
	if j > 0 {
		k := unit.Dioptres(high-low) / 2 / j
		out.J0, out.J45 = k*p.J0, k*p.J45
	}
	return out, nil
}

// moveMeridian returns f/(1 - d f), f in D and d in m.
func moveMeridian(f, d float64) (float64, error) {
	rest := 1 - d*f
	if !(rest > 0) || math.IsInf(f, 0) {
		return 0, fmt.Errorf("refraction: %.2f D cannot be carried over %.1f mm: its focus would fall within that distance; check sphere, cylinder and vertex distance", f, math.Abs(d)*1000)
	}
	return f / rest, nil
}
