package refraction

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// Misaligned returns what is left of the refraction p when the lens that should
// put it right sits turned counter-clockwise by the angle: p minus that lens.
func (p PowerVector) Misaligned(angle unit.Degrees) PowerVector { return p.Sub(p.Turn(angle)) }

// ResidualCylinder returns the size, in dioptres, of the cylinder that two
// crossed cylinders of c1 and c2 make, their axes the angle apart.
//
//	|C| = √(C1² + C2² + 2 C1 C2 cos 2α)
func ResidualCylinder(c1, c2 unit.Dioptres, angle unit.Degrees) unit.Dioptres {
	a, b := float64(c1), float64(c2)
	return unit.Dioptres(math.Sqrt(max(0, a*a+b*b+2*a*b*math.Cos(2*angle.Radians()))))
}

// NothingGainedAt returns the misalignment at which a toric lens leaves as much
// cylinder as there was without it, ratio being the lens's cylinder over the
// eye's. Above 2 the lens harms at any angle; that, and a ratio not above 0, is
// an error.
//
//	cos 2β = ratio / 2
//
// Source: Felipe et al., J Cataract Refract Surg 2011.
func NothingGainedAt(ratio float64) (unit.Degrees, error) {
	if !(ratio > 0 && ratio <= 2) {
		return 0, fmt.Errorf("refraction: cylinder ratio lens/eye %v: expected above 0 and up to 2", ratio)
	}
	return unit.Degrees(math.Acos(ratio/2) * 90 / math.Pi), nil
}
