package psf

import (
	"fmt"
	"math"
)

// The ranges the package takes; beyond them the input is more likely a slip
// (µm for nm, radius for diameter) than an eye.
const (
	maxPupilMM = 12.0
	minNM      = 300.0
	maxNM      = 1100.0
)

// check refuses an aperture, light or options that cannot be worked with.
func check(a Aperture, lines []Line, opt Options) error {
	if !(a.DiameterMM > 0 && a.DiameterMM <= maxPupilMM) {
		return fmt.Errorf("psf: pupil diameter: must be above 0 and at most %g mm (got %g)", maxPupilMM, a.DiameterMM)
	}
	if c := math.Hypot(float64(a.CentreMM.X), float64(a.CentreMM.Y)); !(c <= maxPupilMM) {
		return fmt.Errorf("psf: pupil centre: must lie within %g mm of the achromatic axis (got %g, %g)", maxPupilMM, a.CentreMM.X, a.CentreMM.Y)
	}
	if opt.StepDeg < 0 || !finite(opt.StepDeg) {
		return fmt.Errorf("psf: step: must be above 0 degrees, or 0 to have it chosen (got %g)", opt.StepDeg)
	}
	if opt.N < 0 || opt.N%2 != 0 || (opt.N > 0 && opt.N < 16) {
		return fmt.Errorf("psf: samples across: must be even and at least 16, or 0 to have them chosen (got %d)", opt.N)
	}
	return checkLight(lines, opt)
}

func checkLight(lines []Line, opt Options) error {
	if len(lines) == 0 {
		return fmt.Errorf("psf: light: at least one wavelength is needed (got none)")
	}
	sum := 0.0
	for i, l := range lines {
		if err := checkNM(fmt.Sprintf("wavelength %d", i+1), l.NM); err != nil {
			return err
		}
		if !(l.Weight >= 0) || !finite(l.Weight) {
			return fmt.Errorf("psf: weight of wavelength %d (%g nm): must be finite and not negative (got %g)", i+1, l.NM, l.Weight)
		}
		sum += l.Weight
	}
	if !(sum > 0) || !finite(sum) {
		return fmt.Errorf("psf: light: the weights must add to more than 0 (got %g)", sum)
	}
	return checkNM("focus wavelength", focusNM(opt))
}

func checkNM(what string, nm float64) error {
	if !(nm >= minNM && nm <= maxNM) {
		return fmt.Errorf("psf: %s: must be from %g to %g nm (got %g)", what, minNM, maxNM, nm)
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// normalised returns the lines that carry light, their weights adding to 1.
func normalised(lines []Line) []Line {
	sum := 0.0
	for _, l := range lines {
		sum += l.Weight
	}
	out := make([]Line, 0, len(lines))
	for _, l := range lines {
		if l.Weight > 0 {
			out = append(out, Line{l.NM, l.Weight / sum})
		}
	}
	return out
}

// focusNM is the wavelength at which the aperture's path holds.
func focusNM(opt Options) float64 {
	if opt.FocusNM == 0 {
		return 555
	}
	return opt.FocusNM
}

// focusShift returns the refraction in D at nm less that at the focus wavelength.
func focusShift(nm float64, opt Options) float64 {
	if opt.LCA == nil {
		return 0
	}
	return opt.LCA(nm) - opt.LCA(focusNM(opt))
}
