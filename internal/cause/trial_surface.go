package cause

import (
	"fmt"
	"math"

	"simview/internal/light"
	"simview/internal/quality"
	"simview/internal/unit"
)

// What smoothing the surface does: 92 eyes after phototherapeutic keratectomy
// (Helm 2025, read) lost 0.16 ± 0.23 µm of higher-order RMS, and one in ten had
// haze. For the shift of the mean sphere no figure was found: 0 ± 0.75 D is an
// assumption, and so is how much straylight the haze adds. The pupil of the RMS
// was not seen; 6 mm is assumed.
const (
	smoothedMeanUM  = 0.16
	smoothedSDUM    = 0.23
	smoothedPupilMM = 6.0
	shiftSDD        = 0.75
	hazeShare       = 0.10
	hazeLogS        = 0.2
)

const (
	smoothedWords = "higher-order RMS at 6 mm falls by 0.16 ± 0.23 µm (92 eyes, Helm 2025; the pupil assumed), sphere shifts by 0 ± 0.75 D (assumed), one eye in ten gets haze (Helm 2025), drawn as 0.2 more of log straylight (assumed); optics alone, no complications"
	smoothedLost  = "what share saw worse after it was not found; the trouble came back in 23 in 100 eyes (Lee 2017)"
)

var corneaKinds = []*kind{
	{id: "surface-smoothed-same-glasses", label: "Surface smoothed, same glasses", whatIf: true, at: corneaPlane, assumes: smoothedWords, published: smoothedLost, keys: whatIfKeys, apply: smoothed(false)},
	{id: "surface-smoothed-refracted", label: "Surface smoothed, new glasses", whatIf: true, at: corneaPlane, assumes: smoothedWords, published: smoothedLost, keys: whatIfKeys, apply: smoothed(true)},
}

// smoothed scales the uneven front from R to R - d,
//
//	factor = max(0, 1 - d/R)
//
// R its higher-order RMS, d what smoothing takes: a draw below 0 makes it more
// uneven.
func smoothed(refracted bool) func(*tryout, map[string]float64) error {
	return func(t *tryout, _ map[string]float64) error {
		t.refracted(refracted)
		if t.luck.now {
			return nil
		}
		r, err := t.unevenUM()
		if err != nil {
			return err
		}
		takes := smoothedMeanUM
		if t.rand != nil {
			takes += smoothedSDUM * t.rand.NormFloat64()
		}
		t.change(unevenFront, math.Max(0, 1-takes/r))
		if t.rand == nil {
			return nil
		}
		t.shift.M += unit.Dioptres(shiftSDD * t.rand.NormFloat64())
		return t.haze(t.rand.Float64() < hazeShare)
	}
}

// unevenUM is the higher-order RMS of the uneven front of the cornea.
func (t *tryout) unevenUM() (float64, error) {
	s := t.s
	s.PupilMM = smoothedPupilMM
	if l := t.e.limitMM; l > 0 {
		s.PupilMM = min(l, smoothedPupilMM)
	}
	s.Parts = nil
	for _, p := range t.s.Parts {
		if unevenFront(p) {
			s.Parts = append(s.Parts, p)
		}
	}
	if len(s.Parts) == 0 {
		return 0, fmt.Errorf("this view of the %s eye has no irregular cornea to smooth; hint: choose another trial", t.e.Side)
	}
	_, left, err := fitted(s)
	return quality.RMS(left), err
}

func (t *tryout) haze(yes bool) (err error) {
	if !yes {
		return nil
	}
	t.s.Glare, err = light.GlareFromLogS(t.s.Glare.LogS(light.NormAtDeg)+hazeLogS, light.NormAtDeg, t.e.Data.PigmentFactor())
	t.s = t.s.Note("with haze")
	return err
}
