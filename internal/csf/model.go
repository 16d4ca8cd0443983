package csf

import (
	"fmt"
	"math"
	"strings"
)

// Model gives the neural contrast threshold of a healthy eye. It is the nerve
// alone: optics are put before it, not inside.
type Model interface {
	// Name is the name printed on records and reports.
	Name() string
	// Key is the short name by which the model is chosen, see [Named].
	Key() string
	// Threshold is T, the contrast on the retina of a patch of grating one
	// octave wide that is just seen: f > 0 cycles per degree, e >= 0 degrees from
	// fixation, in a retinal illuminance of td > 0 trolands. The pupil plays no
	// part beyond the trolands.
	Threshold(f, eDeg, td float64) float64
}

// Models lists the models that can be chosen, the usual one first.
func Models() []Model { return []Model{WatsonAhumada{}, Barten{}} }

// Named returns the model with the key; an unknown key is an error that names
// the known ones.
func Named(key string) (Model, error) {
	var known []string
	for _, m := range Models() {
		if m.Key() == key {
			return m, nil
		}
		known = append(known, m.Key())
	}
	return nil, fmt.Errorf("contrast sensitivity model: must be one of %s (got %q)", strings.Join(known, ", "), key)
}

// WatsonAhumada is the standard foveal model of Watson and Ahumada 2005
// (Journal of Vision 5(9):717), the variant with a hyperbolic secant and a
// power (HPmH), fitted to the ModelFest data. The data were taken in one light of
// about 30 cd/m²: the model knows nothing of dim light.
type WatsonAhumada struct{}

// Constants of Watson and Ahumada 2005, HPmH.
const (
	waGain     = 373.08 // G
	waF0       = 4.1726 // f0, cycles per degree
	waF1       = 1.3625 // f1, cycles per degree
	waDrop     = 0.8493 // a
	waPower    = 0.7786 // p
	waBeta     = 2.4081 // Minkowski exponent of pooling over space
	waAperture = 0.6273 // standard deviation of the Gaussian aperture, degrees
)

// DataPupilMM is the pupil through which the contrast sensitivity data are
// taken to have been measured, mm. The data were taken with natural pupils at
// about 30 cd/m²; 4 mm is an assumption of simview.
const DataPupilMM = 4.0

// Name returns the name of the model.
func (WatsonAhumada) Name() string { return "Watson and Ahumada 2005" }

// Key returns the short name of the model.
func (WatsonAhumada) Key() string { return "watson-ahumada" }

// PupilMM returns [DataPupilMM].
func (WatsonAhumada) PupilMM() float64 { return DataPupilMM }

// Threshold returns
//
//	T(f, e) = MTF_mean(f; pupil of the data) / S(f) × exp(0.036 f e)
//
// S being [WatsonAhumada.Patch] for a patch one octave wide. The mean optics of
// the eyes that gave the data are taken out. The same in every light.
func (w WatsonAhumada) Threshold(f, eDeg, _ float64) float64 {
	return MeanMTF(f, DataPupilMM) / w.Patch(f, octaveSigma/f) * math.Exp(PerEccentricity*f*eDeg)
}

// Whole returns the filter sensitivity at f >= 0 cycles per degree:
//
//	S(f) = G [sech((f/f0)^p) - a sech(f/f1)]
//
// Check values 69.67, 106.56, 182.04, 214.20, 135.14, 43.11, 7.17 at 0.5, 1, 2,
// 4, 8, 16, 30.
func (WatsonAhumada) Whole(f float64) float64 {
	return waGain * (sech(math.Pow(f/waF0, waPower)) - waDrop*sech(f/waF1))
}

// Patch returns the sensitivity to a Gabor patch, the filter output multiplied
// by the Gaussian aperture of the fovea and pooled over space:
//
//	Patch = S(f) [m ∫∫ exp(-β r²/2 (1/σ² + 1/σa²))]^(1/β)
//	      = S(f) [m 2π / (β (1/σ² + 1/σa²))]^(1/β)
//
// with m the mean of |cos|^β over a period, which takes the patch to be narrow
// in frequency. About 106, 137 and 155 at 4 cycles per degree for σ = 0.5, 1, 3.
func (w WatsonAhumada) Patch(f, sigmaDeg float64) float64 {
	area := 2 * math.Pi / (waBeta * (1/(sigmaDeg*sigmaDeg) + 1/(waAperture*waAperture)))
	return w.Whole(f) * math.Pow(meanCosPower(waBeta)*area, 1/waBeta)
}

// meanCosPower is the mean of |cos|^b over a period:
//
//	m = Γ((b+1)/2) / (√π Γ(b/2+1))
func meanCosPower(b float64) float64 {
	return math.Gamma((b+1)/2) / (math.Sqrt(math.Pi) * math.Gamma(b/2+1))
}

func sech(x float64) float64 { return 1 / math.Cosh(x) }
