package light

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// Ages and luminances that the unified formula was made from.
const (
	pupilFromYears = 20.0
	pupilToYears   = 83.0
	pupilMaxCdM2   = 1e4 // brighter fields were not measured
	wholeFieldDeg2 = 2e4 // about a hemisphere
)

// PupilMM returns the diameter of the natural pupil in mm that an adapting
// field of luminance l (cd/m²) and area areaDeg2 (deg²) gives at an age in
// years (20 to 83; the formula's range), seen with eyes = 1 or 2:
//
//	F  = l area M(eyes), M = 0.1 for one eye and 1 for two
//	q  = (F/846)^0.41
//	SD = 7.75 - 5.75 q/(q+2)
//	D  = SD + (age - 28.58) (0.02132 - 0.009562 SD)
//
// The caller checks the range of the age. Source: Watson and Yellott 2012,
// J Vis 12(10):12, unified formula.
func PupilMM(l, areaDeg2, age float64, eyes int) float64 {
	m := 0.1
	if eyes == 2 {
		m = 1
	}
	q := math.Pow(l*areaDeg2*m/846, 0.41)
	sd := 7.75 - 5.75*q/(q+2)
	return sd + (age-28.58)*(0.02132-0.009562*sd)
}

// PupilInLight returns the natural pupil as [PupilMM] and how it was found, in
// words for a panel, or an error that says which number is none: luminance above
// 0 and at most 10000 cd/m², area above 0 and at most 20000 deg², age 20 to 83
// years, one or two eyes. A measured pupil goes before it: pupils of one age in
// one light differ by about 1 mm (SD; common practice, from memory).
func PupilInLight(l, areaDeg2, age float64, eyes int) (mm float64, words string, err error) {
	switch {
	case !(l > 0 && l <= pupilMaxCdM2):
		return 0, "", fmt.Errorf("pupil from light: luminance is %v cd/m², expected above 0 and at most %g", l, pupilMaxCdM2)
	case !(areaDeg2 > 0 && areaDeg2 <= wholeFieldDeg2):
		return 0, "", fmt.Errorf("pupil from light: lit field is %v deg², expected above 0 and at most %g (hint: width times height in degrees)", areaDeg2, wholeFieldDeg2)
	case !(age >= pupilFromYears && age <= pupilToYears):
		return 0, "", fmt.Errorf("pupil from light: age is %v years, expected %g to %g, the ages it was measured at (hint: give a measured pupil)", age, pupilFromYears, pupilToYears)
	case eyes != 1 && eyes != 2:
		return 0, "", fmt.Errorf("pupil from light: %d eyes look, expected 1 or 2", eyes)
	}
	mm = PupilMM(l, areaDeg2, age, eyes)
	seen := [...]string{"one eye", "both eyes"}[eyes-1]
	return mm, fmt.Sprintf("pupil %.1f mm, usual for %g cd/m² over %.0f deg², %s, %.0f years", mm, unit.Figures(l), areaDeg2, seen, age), nil
}

// Trolands returns the retinal illuminance of luminance l (cd/m²) through a
// round pupil of pupilMM mm diameter whose media let transmission (0 to 1) pass:
//
//	td = l (π/4) D² transmission
func Trolands(l, pupilMM, transmission float64) float64 {
	return l * math.Pi / 4 * pupilMM * pupilMM * transmission
}
