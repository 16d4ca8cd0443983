package render

import (
	"fmt"
	"math"
	"testing"

	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/scene"
	"simview/internal/unit"
)

const (
	arcmin  = 1.0 / 60
	clearNM = 555 // where the eye is most sensitive by day, nm
)

// paperScene is grey paper of 100 cd/m² with what else is said, in the notation
// of scene files.
func paperScene(tb testing.TB, more string) *scene.Scene { return sceneOf(tb, 100, "bright", more) }

// nightScene is a dark surround of 0.02 cd/m² with what else is said.
func nightScene(tb testing.TB, more string) *scene.Scene { return sceneOf(tb, 0.02, "dim", more) }

func sceneOf(tb testing.TB, cdm2 float64, pupil, more string) *scene.Scene {
	tb.Helper()
	text := fmt.Sprintf("title: Test\ngood_for: Tests only.\ndistance_m: 6\nwidth_deg: 6\nheight_deg: 4\nadapt_cdm2: %g\n"+
		"surround_cdm2: %g\npupil: %s\nwindow: {x_deg: 1, y_deg: 0.5, width_deg: 1, height_deg: 0.8}\n%s", cdm2, cdm2, pupil, more)
	if more == "" {
		text += noShapes
	}
	s, err := scene.Parse("test.yaml", []byte(text))
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// noShapes stands in for shapes: a patch far outside every picture.
const noShapes = "shapes:\n  - rect: {at: [80, 80], size: [1, 1], cdm2: 1}\n"

// state is an eye without scatter whose path is given in µm over mm.
func state(pupilMM float64, path func(x, y float64) float64) eye.State {
	s := eye.State{Side: unit.Right, AgeYears: 68, PupilMM: pupilMM, Light: 1}
	if path != nil {
		s = s.With(eye.Part{By: "test", Plane: eye.Unexplained, PathUM: path})
	}
	return s
}

// spread is the state's point spread in one colour, without the retina's
// preference for the pupil's middle.
func spread(tb testing.TB, s eye.State) *psf.PSF { return spreadOf(tb, s.Aperture()) }

func spreadOf(tb testing.TB, a psf.Aperture) *psf.PSF {
	tb.Helper()
	p, err := psf.Compute(a, psf.Monochrome(clearNM), psf.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// stage sets a scene up on a frame of its own.
func stage(tb testing.TB, s *scene.Scene, frame light.Grid, over int) *Stage {
	tb.Helper()
	st, err := NewStage(s, frame, over, 0)
	if err != nil {
		tb.Fatal(err)
	}
	return st
}

// drawn sets up a stage whose luminance is given for each direction.
func drawn(tb testing.TB, s *scene.Scene, frame light.Grid, at func(x, y float64) float64) *Stage {
	tb.Helper()
	st, err := newStage(s, func(g light.Grid) *light.Image { return painted(g, at) }, frame, 1, 0)
	if err != nil {
		tb.Fatal(err)
	}
	return st
}

// painted is a grey picture.
func painted(g light.Grid, at func(x, y float64) float64) *light.Image {
	m := light.NewImage(g)
	for j := range g.H {
		for i := range g.W {
			m.R[j*g.W+i] = float32(at(g.Centre(i, j)))
		}
	}
	copy(m.G, m.R)
	copy(m.B, m.R)
	return m
}

// contrastOf is the amplitude over the mean of the wave of f cycles per degree
// along x in a row of samples of a step in degrees; the row should hold whole
// periods.
func contrastOf(row []float64, f, stepDeg float64) float64 {
	var mean, re, im float64
	for i, v := range row {
		s, c := math.Sincos(2 * math.Pi * f * float64(i) * stepDeg)
		mean, re, im = mean+v, re+v*c, im+v*s
	}
	return 2 * math.Hypot(re, im) / mean
}

// row is row j of a picture's green plane.
func row(m *light.Image, j int) []float64 {
	out := make([]float64, m.W)
	for i := range out {
		out[i] = float64(m.G[j*m.W+i])
	}
	return out
}

// near fails unless got is within tol of want.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g", what, got, want, tol)
	}
}

// defocusPath is the path of a refraction of d dioptres, W = -d r²/2: with d = -1
// the eye is short-sighted by one dioptre.
func defocusPath(d float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return -d * (x*x + y*y) / 2 }
}

// cylinderPath is the path of a refraction of sphere s and cylinder c at an
// axis: power s along the axis and s + c across it.
func cylinderPath(s, c, axisDeg float64) func(x, y float64) float64 {
	sin, cos := math.Sincos(axisDeg * math.Pi / 180)
	return func(x, y float64) float64 {
		along, across := x*cos+y*sin, y*cos-x*sin
		return -(s*along*along + (s+c)*across*across) / 2
	}
}

// comaPath is c(3,1) in µm over a pupil of radius r mm (ANSI Z80.28), written
// out: sqrt8 (3 rho³ - 2 rho) cos.
func comaPath(c, r float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		x, y = x/r, y/r
		return c * math.Sqrt(8) * (3*(x*x+y*y) - 2) * x
	}
}

// moments are the light, its centre and its mean squared distance from it, of a
// picture's green plane above a floor, within reach of a place.
func moments(m *light.Image, x0, y0, reach float64) (sum, x, y, second float64) {
	near := func(f func(v, px, py float64)) { samples(m, x0, y0, reach, f) }
	near(func(v, px, py float64) { sum, x, y = sum+v, x+v*px, y+v*py })
	x, y = x/sum, y/sum
	near(func(v, px, py float64) { second += v / sum * (math.Pow(px-x, 2) + math.Pow(py-y, 2)) })
	return sum, x, y, second
}

// samples calls f with the green plane's value and place for every sample within
// reach of a place.
func samples(m *light.Image, x0, y0, reach float64, f func(v, x, y float64)) {
	for j := range m.H {
		for i := range m.W {
			if x, y := m.Centre(i, j); math.Hypot(x-x0, y-y0) <= reach {
				f(float64(m.G[j*m.W+i]), x, y)
			}
		}
	}
}

// lamp is a white lamp giving the eye lux.
func lamp(x, y, lux, diameterArcmin float64) light.Lamp {
	return light.Lamp{At: unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}, Lux: [3]float64{lux, lux, lux}, DiameterArcmin: diameterArcmin}
}

// spreadWhite is the spread of the pictures.
func spreadWhite(tb testing.TB, s eye.State) *psf.PSF {
	tb.Helper()
	p, err := PSF(s)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}
