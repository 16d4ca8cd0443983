package light

import "math"

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

// Trolands returns the retinal illuminance of luminance l (cd/m²) through a
// round pupil of pupilMM mm diameter whose media let transmission (0 to 1) pass:
//
//	td = l (π/4) D² transmission
func Trolands(l, pupilMM, transmission float64) float64 {
	return l * math.Pi / 4 * pupilMM * pupilMM * transmission
}
