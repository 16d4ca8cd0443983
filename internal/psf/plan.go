package psf

import (
	"fmt"
	"math"

	"simview/internal/fft"
)

// The sizes of a transform.
const (
	usualStepDeg    = 1.0 / 8 / 60 // an eighth of a minute of arc
	usualSupportDeg = 1.5          // light further out is the tail's
	minSamples      = 1024         // even where less would do: one speed for all
	minPupilSamples = 128
	maxPupilSamples = 2048
	maxSamples      = 8192 // 256 MiB a picture
	// leastRoom is how much wider than the geometric blur the support must be:
	// its edge is fringed by diffraction, and part of that would be folded back.
	leastRoom = 1.1
	// blurRoom is how wide it is made when it is chosen here, since the ring
	// from which the tail is foretold must lie well outside the blur.
	blurRoom = 1.6
)

// plan is how finely and how far an aperture is worked.
type plan struct {
	n    int     // samples across and down
	step float64 // radians
	surf *surface
}

// makePlan chooses step and size, looking at the path's steepest slope on ever
// finer rasters until the support holds the blur.
func makePlan(a Aperture, lines []Line, opt Options) (plan, error) {
	lo, hi := extremes(lines)
	finest := lo * 1e-6 / (2 * a.DiameterMM)
	if err := checkStep(finest, opt); err != nil {
		return plan{}, err
	}
	need := max(usualSupportDeg*degree, minPupilSamples*hi*1e-6/a.DiameterMM)
	for {
		p := sizeFor(need, finest, opt)
		if p.n > maxSamples && (opt.N > 0 || opt.StepDeg > 0) {
			return plan{}, fmt.Errorf("psf: size: %d samples of %g degrees are wanted, at most %d are possible; leave step and number to be chosen", p.n, p.step/degree, maxSamples)
		}
		got := float64(p.n) * p.step
		if samples := a.DiameterMM * got / (lo * 1e-6); samples > maxPupilSamples+1 {
			return plan{}, tooMany(a, got, samples)
		}
		s, err := sampleSurface(a, hi*1e-6/got)
		if err != nil {
			return plan{}, err
		}
		p.surf = s
		room := blurRoom
		if opt.N != 0 {
			room = leastRoom
		}
		blur := 2 * room * p.steepest(a, lines, opt)
		if blur <= got {
			return p, nil
		}
		if opt.N != 0 {
			return plan{}, fmt.Errorf("psf: %d samples of %g degrees span %.3g degrees but the blur needs %.3g; leave the size to be chosen or raise it", opt.N, p.step/degree, got/degree, blur/degree)
		}
		need = blur
	}
}

// checkStep refuses a wanted step too coarse for the pupil's diffraction.
func checkStep(finest float64, opt Options) error {
	if opt.StepDeg*degree > finest*(1+1e-9) {
		return fmt.Errorf("psf: step: must be at most wavelength/(2 x pupil) = %.6g degrees here (got %g)", finest/degree, opt.StepDeg)
	}
	return nil
}

// sizeFor returns step and number of samples for a support of need radians. The
// step is the usual one; a wide support takes a wider one, as far as
// diffraction allows, before it takes more samples.
func sizeFor(need, finest float64, opt Options) plan {
	p := plan{n: opt.N, step: opt.StepDeg * degree}
	if p.step == 0 {
		p.step = min(finest, max(usualStepDeg*degree, need/minSamples))
	}
	if p.n == 0 {
		p.n = max(minSamples, fft.GoodSize(int(math.Ceil(min(need/p.step, 1<<24)))))
	}
	return p
}

func tooMany(a Aperture, got, samples float64) error {
	return fmt.Errorf("psf: the blur of this %.2f mm pupil spans %.3g degrees and would need %.0f samples across the pupil, at most %d are possible; use a smaller pupil or correct part of the defocus", a.DiameterMM, got/degree, samples, maxPupilSamples)
}

// steepest is the steepest slope over all wavelengths, radians.
func (p plan) steepest(a Aperture, lines []Line, opt Options) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range lines {
		shift := focusShift(l.NM, opt)
		low, high = min(low, shift), max(high, shift)
	}
	cx, cy := float64(a.CentreMM.X), float64(a.CentreMM.Y)
	return max(p.surf.steepest(low, cx, cy), p.surf.steepest(high, cx, cy)) + sideways(lines, opt)
}

// extremes returns the shortest and longest wavelength, nm.
func extremes(lines []Line) (lo, hi float64) {
	lo, hi = lines[0].NM, lines[0].NM
	for _, l := range lines {
		lo, hi = min(lo, l.NM), max(hi, l.NM)
	}
	return lo, hi
}
