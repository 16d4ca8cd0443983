package acuity

import (
	"math"

	"simview/internal/csf"
)

// nerve is N(f), what the nerve passes on at the fovea of a grating of f > 0
// cycles per degree on the retina, in td trolands. Where the model is a filter
// followed by one noise, it is that filter with the optics of its data taken out,
//
//	N(f) = S(f) / M(f)                     Watson and Ahumada 2005
//	N(f) = f / T(f)                        any other
//
// the second being the filter for which patches of grating as wide as some periods
// are seen at one signal to noise. The first knows one light, td0, that of its data,
// 30 cd/m² through 4 mm. Less light acts on it as on the model of Barten,
//
//	N(f, td) = N(f) T_Barten(f, td0) / T_Barten(f, td),  td < td0
//
// and more light is taken to change nothing: acuity levels off there (Shlaer1937).
func nerve(m csf.Model, f, td float64) float64 {
	w, ok := m.(csf.WatsonAhumada)
	if !ok {
		return f / m.Threshold(f, 0, td)
	}
	mtf := csf.MeanMTF(f, csf.DataPupilMM)
	if mtf <= 0 {
		return 0
	}
	b := csf.Barten{}
	td = min(td, dataTrolands)
	return w.Whole(f) / mtf * b.Threshold(f, 0, dataTrolands) / b.Threshold(f, 0, td)
}

// dataTrolands is the light of the data of Watson and Ahumada 2005.
const dataTrolands = 30 * math.Pi * csf.DataPupilMM * csf.DataPupilMM / 4

// Noise returns the standard deviation of the observer's internal noise per root
// square degree, in the unit of the nerve's filter of a model, and whether it is
// known.
//
// It was set once, so that a normal eye reads -0.1 logMAR, as healthy young eyes do
// (common practice): 25 years, pupil 4 mm, white light, only the usual spherical
// aberration of 0.1 µm at 6 mm, that eye itself being the reference, black letters on
// 100 cd/m².
func Noise(m csf.Model) (float64, bool) {
	switch m.(type) {
	case csf.WatsonAhumada:
		return noiseWatsonAhumada, true
	case csf.Barten:
		return noiseBarten, true
	}
	return 0, false
}

const (
	noiseWatsonAhumada = 0.626
	noiseBarten        = 1.438
)
