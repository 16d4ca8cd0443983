package render

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/unit"
)

// fieldOf is a field with a loss in dB at each place, tested every step degrees
// out to reach.
func fieldOf(t *testing.T, step, reach float64, loss func(x, y float64) float64) *fieldmask.Surface {
	t.Helper()
	f := fieldmask.Field{Side: unit.Right, Pattern: "free", Kind: fieldmask.TotalDeviation, Source: "made for this test"}
	for y := -reach; y <= reach; y += step {
		for x := -reach; x <= reach; x += step {
			f.Points = append(f.Points, fieldmask.Point{At: unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}, DB: -loss(x, y)})
		}
	}
	s, err := fieldmask.NewSurface(68, 0, f)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func even(dB float64) func(x, y float64) float64 { return func(_, _ float64) float64 { return dB } }

// waves is an upright grating on paper of 100 cd/m².
func waves(f, contrast float64) func(x, y float64) float64 {
	return func(x, _ float64) float64 { return 100 * (1 + contrast*math.Cos(2*math.Pi*f*x)) }
}

// watch looks at a stage with perfect optics but diffraction.
func watch(t *testing.T, st *Stage, field *fieldmask.Surface, gazeX, gazeY float64) Picture {
	t.Helper()
	v := View{Eye: state(3, nil), Gaze: unit.SightPoint{X: unit.Degrees(gazeX), Y: unit.Degrees(gazeY)}}
	v.Eye.Field, v.Eye.FieldK = field, 1
	pic, _, err := (&Theatre{Scene: st.Scene, Wide: st}).Look(v, spread(t, v.Eye))
	if err != nil {
		t.Fatal(err)
	}
	return pic
}

func TestAFaintGratingUnderTwentyDecibelsOfLossIsGone(t *testing.T) {
	const f = 2
	st := drawn(t, paperScene(t, ""), light.GridAround(0, 0, 240, 180, 2*arcmin), waves(f, 0.05))
	m := watch(t, st, fieldOf(t, 6, 21, even(20)), -10, 0).Seen // the frame's middle is 10 degrees from the gaze
	got := contrastOf(row(m, 90)[60:180], f, m.StepDeg)
	if got > 0.005 {
		t.Errorf("contrast %.4f is left of 0.05", got)
	}
}

// scotoma is 30 dB lost within 2.5 degrees of (6, 3), nothing elsewhere.
func scotoma(x, y float64) float64 {
	if math.Hypot(x-6, y-3) < 2.5 {
		return 30
	}
	return 0
}

func TestAScotomaStandsWhereTheGazeCarriesIt(t *testing.T) {
	if testing.Short() {
		t.Skip("a wide picture")
	}
	const f = 1.5
	st := drawn(t, paperScene(t, ""), light.GridAround(0, 0, 480, 360, 3*arcmin), waves(f, 0.6))
	pic := watch(t, st, fieldOf(t, 1, 12, scotoma), 4, -5)
	var sum, x, y float64
	for k, v := range pic.Seen.G {
		d := math.Abs(float64(v - pic.Retina.G[k]))
		px, py := pic.Seen.Centre(k%pic.Seen.W, k/pic.Seen.W)
		sum, x, y = sum+d, x+d*px, y+d*py
	}
	const tol = 0.3 // degrees: about the step between the tested places, and a period of the grating
	near(t, "across", x/sum, 10, tol)
	near(t, "up", y/sum, -2, tol)
	_, j := pic.Seen.Pixel(4, -5)
	i, _ := pic.Seen.Pixel(4, -5)
	from := int(i) - 20
	near(t, "contrast at the gaze, of what the optics leave", contrastOf(row(pic.Seen, int(j))[from:from+40], f, pic.Seen.StepDeg),
		contrastOf(row(pic.Retina, int(j))[from:from+40], f, pic.Seen.StepDeg), 1e-3)
}

func TestWithoutLossNothingIsTakenAway(t *testing.T) {
	st := drawn(t, paperScene(t, ""), light.GridAround(0, 0, 120, 90, 2*arcmin), waves(2, 0.6))
	pic := watch(t, st, fieldOf(t, 6, 21, even(0)), 0, 0)
	if !slices.Equal(pic.Seen.G, pic.Retina.G) {
		t.Error("a full field changed the picture")
	}
	v := View{Eye: state(3, nil)}
	v.Eye.Field = fieldOf(t, 6, 21, even(25)) // at strength 0
	got, _, err := (&Theatre{Scene: st.Scene, Wide: st}).Look(v, spread(t, v.Eye))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got.Seen.G, pic.Retina.G) {
		t.Error("a lost field at strength 0 changed the picture")
	}
}

func TestALampInADamagedPlaceDoesNotGrow(t *testing.T) {
	if testing.Short() {
		t.Skip("makes twelve views")
	}
	const white = 3 // ten times the adaptation, as night pictures are shown
	for _, lux := range []float64{1e-3, 1e-2, 1e-1} {
		s := sceneOf(t, 0.3, "dim", fmt.Sprintf("lamps:\n  - {name: lamp, at: [0.3, 0.2], lux: %g, tint: \"#ffffff\"}\n"+
			"shapes:\n  - rect: {at: [-20, -20], size: [40, 19], cdm2: 0.7}\n  - rect: {at: [-1, -1], size: [0.8, 2], cdm2: 0.05}\n", lux))
		st := stage(t, s, light.GridAround(0, 0, 200, 160, 1.5*arcmin), 1)
		was := above(watch(t, st, nil, 0, 0).Seen, white)
		for _, dB := range []float64{10, 20, 27} {
			if got := above(watch(t, st, fieldOf(t, 6, 21, even(dB)), 0, 0).Seen, white); float64(got) > 1.1*float64(was) {
				t.Errorf("%g lux, %g dB lost: %d samples above white, %d without loss", lux, dB, got, was)
			}
		}
		if was == 0 {
			t.Errorf("%g lux: no sample is above white; the test says nothing", lux)
		}
	}
}

// above counts the samples brighter than white.
func above(m *light.Image, white float32) (n int) {
	for _, v := range m.Luminance(nil) {
		if v > white {
			n++
		}
	}
	return n
}
