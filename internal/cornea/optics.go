package cornea

import (
	"fmt"

	"simview/internal/unit"
)

// Refractive indices of the front of the eye for yellow light (textbook values,
// from memory).
const (
	CorneaIndex       = 1.376  // the whole cornea as one medium
	EpitheliumIndex   = 1.401  // its outermost layer
	TearIndex         = 1.336  // tears, also under a rigid lens
	AqueousIndex      = 1.336  // behind the cornea
	KeratometricIndex = 1.3375 // what keratometers convert radii with
)

// Medium is what the unevenness of a front surface consists of.
type Medium string

// The media. Which one is meant changes the path of a height by up to a fifth.
const (
	WholeCornea Medium = "cornea"     // the surface as a topographer sees it, [CorneaIndex]
	Epithelium  Medium = "epithelium" // thickness of the epithelium, [EpitheliumIndex]
	Tears       Medium = "tears"      // thickness of the tear film, [TearIndex]
)

// Media lists the media in a fixed order.
func Media() []Medium { return []Medium{WholeCornea, Epithelium, Tears} }

// Index returns the refractive index of the medium; an empty word stands for
// [WholeCornea], any other is an error that lists the media.
func (m Medium) Index() (float64, error) {
	switch m {
	case "", WholeCornea:
		return CorneaIndex, nil
	case Epithelium:
		return EpitheliumIndex, nil
	case Tears:
		return TearIndex, nil
	}
	return 0, fmt.Errorf("cornea: medium %q: expected one of %v", string(m), Media())
}

// BackShare is the path of a height on the back of the cornea over that of the
// same height on its front, below 0 since light there leaves the denser medium:
//
//	share = (n_aqueous - n_c) / (n_c - 1) = -0.106
const BackShare = (AqueousIndex - CorneaIndex) / (CorneaIndex - 1)

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
