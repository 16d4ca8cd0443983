package cornea

import (
	"fmt"

	"simview/internal/unit"
)

// Refractive indices of the front of the eye for yellow light (textbook values,
// from memory).
const (
	CorneaIndex       = 1.376  // stroma, as one medium
	TearIndex         = 1.336  // tears, also under a rigid lens
	KeratometricIndex = 1.3375 // what keratometers convert radii with
)

// RigidShare returns the share of a front-surface wavefront that remains behind
// a rigid lens, whose tears fill the irregularity.
//
//	share = (n_c - n_tears) / (n_c - 1)
//
// An index that is not above 1, or tears denser than the cornea, is an error.
func RigidShare(nCornea, nTears float64) (float64, error) {
	if !(nTears > 1 && nCornea >= nTears && nCornea < 2) {
		return 0, fmt.Errorf("cornea: indices %v (cornea) and %v (tears): expected 1 < tears <= cornea < 2, usually %g and %g", nCornea, nTears, CorneaIndex, TearIndex)
	}
	return (nCornea - nTears) / (nCornea - 1), nil
}

// FrontPower returns the power of a single surface of radius radiusMM between
// air and index n, in dioptres.
//
//	F = 1000 (n - 1) / R
func FrontPower(radiusMM, n float64) unit.Dioptres { return unit.Dioptres(1000 * (n - 1) / radiusMM) }
