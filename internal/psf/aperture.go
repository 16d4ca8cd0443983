package psf

import (
	"math"

	"simview/internal/unit"
)

// Aperture is what light meets at the entrance pupil of one eye.
type Aperture struct {
	// DiameterMM is the diameter of the round pupil, mm, above 0 and at most 12.
	DiameterMM float64
	// PathUM is the path W in µm at a point of the pupil, clinician's axes, mm
	// from the pupil's centre; the same for every wavelength. It is asked only
	// inside the pupil, by one goroutine. nil means 0 everywhere.
	PathUM func(xMM, yMM float64) float64
	// Amplitude is the share of the light's amplitude let through at a point of
	// the pupil (its square is the share of the energy), at least 0; the rim is
	// not its business. nil means clear.
	Amplitude func(xMM, yMM float64) float64
	// InsideMM is how far within the edge of the lens, mm of the pupil, light that
	// enters at a point passes; below 0 it passes beside the lens. Only its 0 and
	// a slope near 1 there matter. nil means that the lens covers the pupil.
	InsideMM func(xMM, yMM float64) float64
	// BesideUM is the path in µm of the light that passes beside the lens; it must
	// be finite where InsideMM is below half a millimetre. Unused if InsideMM is nil.
	BesideUM func(xMM, yMM float64) float64
	// CentreMM is where the pupil's centre lies as seen from the achromatic axis,
	// about which the focus changes with wavelength and the retina's
	// directional sensitivity is centred.
	CentreMM unit.PupilPoint
}

// Line is one wavelength of the light, in nm of vacuum, with its share.
type Line struct{ NM, Weight float64 }

// Monochrome returns the single wavelength nm.
func Monochrome(nm float64) []Line { return []Line{{nm, 1}} }

// Options says how the spread is worked out; the zero value means no colour
// error, no directional sensitivity and sizes chosen by the package.
type Options struct {
	// LCA is the eye's refraction in D at a wavelength in nm ([Thibos],
	// [AtchisonSmith]); only differences count. nil means the same focus for all.
	LCA func(nm float64) float64
	// FocusNM is the wavelength at which Aperture.PathUM holds; 0 means 555.
	FocusNM float64
	// Transverse is how far from its place, in degrees as the patient sees it, light
	// of a wavelength in nm is seen besides what CentreMM does; nil means nowhere else.
	Transverse func(nm float64) unit.SightPoint
	// StilesCrawford switches the retina's directional sensitivity on.
	StilesCrawford bool
	// NoOutside saves the time for PSF.Outside, which is then not a number.
	NoOutside bool
	// StepDeg is the angle between samples; 0 means chosen. It must not exceed
	// lambda/(2 D) of the shortest wave.
	StepDeg float64
	// N is the even number of samples across and down, 16 to 8192; 0 means chosen
	// so that at least 128 lie across the pupil and the blur fits. A given N is
	// only held to the blur.
	N int
}

// PSF is how the light of a point spreads over the retina, in the directions
// in which the patient sees it.
type PSF struct {
	// N is the number of samples across and down, even.
	N int
	// StepDeg is the angle between samples, degrees.
	StepDeg float64
	// Pix holds the share of the light through the lens in each sample, [y][x], row 0 at the top,
	// the patient's axes; the sum is 1 and straight ahead is element (N/2, N/2).
	Pix []float32
	// Outside is the share of the light that falls beyond the support, estimated
	// on a support of twice the angle at the wavelength of greatest weight. Pix
	// adds to 1 all the same: multiply it by 1 - Outside to add a tail of your own.
	Outside float64
	// Beside is the light that passes beside the lens, too wide for Pix, which
	// holds the rest; nil where the lens covers the pupil.
	Beside *Beside
	// Lines are the wavelengths used, weights adding to 1.
	Lines []Line
	// PupilMM is the pupil's diameter.
	PupilMM float64
	lazy
}

// degree is one degree in radians.
const degree = math.Pi / 180
