package render

import (
	"math"
	"testing"

	"simview/internal/light"
)

// The veil of a lamp of 1 lux in the picture as it is rendered is the CIE general
// function, the formula that built it, at 2, 5 and 10 degrees: 1 % for its soft
// start, 1 % for the interpolation, 1 % for the pupil's diffraction at 2 degrees.
// The second lamp stands outside the picture, 4 degrees beyond its edge.
func TestARenderedLampGivesTheVeilOfItsFormula(t *testing.T) {
	const age, pigment = 68.0, 0.5
	for _, at := range []float64{0, -16} {
		v := View{Eye: state(4, nil)}
		v.Eye.AgeYears, v.Eye.Glare = age, light.GlareForAge(age, pigment)
		m := oneLamp(t, v, light.GridAround(-at, 0, 240, 40, 0.1)) // 24 degrees wide
		seen := 0
		for k := range m.G {
			x, y := m.Centre(k%m.W, k/m.W)
			theta := light.GreatCircleDeg(x, y, 0, 0)
			for _, want := range []float64{2, 5, 10} {
				if math.Abs(theta-want) > 0.1 {
					continue
				}
				seen++
				formula := light.CIEGeneral(theta, age, pigment)
				near(t, "veil", float64(m.G[k]), formula, 0.03*formula)
			}
		}
		if seen < 20 {
			t.Errorf("only %d samples", seen)
		}
	}
}
