package csf

import "math"

// greenNM is the wavelength of the mean optics, nm (Watson 2013).
const greenNM = 555

// DiffractionMTF returns the modulation transfer of a perfect round pupil at q,
// the frequency over the cut-off frequency, q >= 0:
//
//	D(q) = 2/π (acos q - q √(1 - q²)), 0 beyond q = 1
func DiffractionMTF(q float64) float64 {
	if q >= 1 {
		return 0
	}
	return 2 / math.Pi * (math.Acos(q) - q*math.Sqrt(1-q*q))
}

// MeanMTF returns the mean modulation transfer of healthy eyes in best focus in
// white light, f >= 0 cycles per degree, pupil d in 2 to 6 mm (Watson 2013,
// Journal of Vision 13(6):18; constants from memory):
//
//	M(f) = (1 + (f/u1)²)^-0.62 √D(f/u0)
//	u1 = 21.95 - 5.512 d + 0.3922 d²
//	u0 = π d 10⁶ / (555 × 180)
//
// Check values at 10 cycles per degree: 0.6574, 0.5626, 0.4270, 0.2055 for 2,
// 3, 4 and 6 mm.
func MeanMTF(f, pupilMM float64) float64 {
	u1 := 21.95 - 5.512*pupilMM + 0.3922*pupilMM*pupilMM
	u0 := math.Pi * pupilMM * 1e6 / (greenNM * 180)
	return math.Pow(1+(f/u1)*(f/u1), -0.62) * math.Sqrt(DiffractionMTF(f/u0))
}
