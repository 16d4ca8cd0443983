package lost_test

import (
	"fmt"
	"testing"

	"simview/internal/eye"
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/lost"
	"simview/internal/psf"
	"simview/internal/refraction"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/unit"
)

// sceneOf is a scene of 6 by 4 degrees on a ground of 100 cd/m².
func sceneOf(tb testing.TB, shapes string) *scene.Scene {
	tb.Helper()
	text := "title: Test\ngood_for: Tests only.\ndistance_m: 6\nwidth_deg: 6\nheight_deg: 4\nadapt_cdm2: 100\nsurround_cdm2: 100\npupil: bright\n" +
		"window: {x_deg: 1, y_deg: 0.5, width_deg: 1, height_deg: 0.8}\n" + shapes
	s, err := scene.Parse("test.yaml", []byte(text))
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// words is a page with coarse and fine print above and below the middle.
const words = `shapes:
  - rect: {at: [-20, -20], size: [40, 40], cdm2: 120}
  - letters: {letters: "KNRSD", at: [-1.5, 0.9], logmar: 0.9, cdm2: 10}
  - letters: {letters: "CVHZO", at: [-1, -1.2], logmar: 0.9, cdm2: 10}
  - letters: {letters: "DKSRN", at: [-2, 0.4], logmar: 0.4, cdm2: 10}
  - letters: {letters: "HZVNC", at: [1, -0.6], logmar: 0.4, cdm2: 10}
`

// grating is upright bars over the whole scene, dark and bright ones of c either side
// of 100 cd/m², of f cycles per degree.
func grating(f, c float64) string {
	text := "shapes:\n"
	for x := -8.0; x < 8; x += 1 / f {
		text += fmt.Sprintf("  - rect: {at: [%.6f, -8], size: [%.6f, 16], cdm2: %.6f}\n", x, 0.5/f, 100*(1+c))
		text += fmt.Sprintf("  - rect: {at: [%.6f, -8], size: [%.6f, 16], cdm2: %.6f}\n", x+0.5/f, 0.5/f, 100*(1-c))
	}
	return text
}

func stage(tb testing.TB, s *scene.Scene, step float64) *lost.Stage {
	tb.Helper()
	st, err := lost.New(s, step, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return st
}

// view is an eye of 60 years with an error in D that looks at the middle.
func view(pupilMM, errorD float64) render.View {
	s := eye.State{PupilMM: pupilMM, Light: 1, Glare: light.GlareForAge(60, 0.5)}
	s.Parts = []eye.Part{{By: "focus", PathUM: refraction.Sphere(unit.Dioptres(errorD)).PathUM}}
	return render.View{Eye: s}
}

// damagedBelow is a field that has lost dB below the middle and nothing above.
func damagedBelow(tb testing.TB, dB float64) *fieldmask.Surface {
	tb.Helper()
	f := fieldmask.Field{Side: unit.Right, Pattern: "free", Kind: fieldmask.TotalDeviation, Source: "made for this test"}
	for y := -21.0; y <= 21; y += 6 {
		for x := -21.0; x <= 21; x += 6 {
			p := fieldmask.Point{At: unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}}
			if y < 0 {
				p.DB = -dB
			}
			f.Points = append(f.Points, p)
		}
	}
	s, err := fieldmask.NewSurface(68, 0, f)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func spread(tb testing.TB, v render.View) *psf.PSF {
	tb.Helper()
	p, err := render.PSF(v.Eye)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

func against(tb testing.TB, eye, reference *lost.Seen) lost.Loss {
	tb.Helper()
	l, err := eye.Against(reference)
	if err != nil {
		tb.Fatal(err)
	}
	return l
}
