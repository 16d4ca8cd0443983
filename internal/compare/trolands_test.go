package compare_test

import (
	"math"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/unit"
)

// A pinhole of 1.2 mm before a pupil of 4.3 mm passes (1.2/4.3)² of the light: 1.11 log
// units of retinal illuminance less (geometry), in the picture of an even page as it
// is rendered.
func TestAPinholeCostsElevenTenthsOfALogUnitOfTrolands(t *testing.T) {
	const text = "title: A test\ninvented: true\ncomplaint_eye: right\nage_years: 60\neyes:\n  right:\n    lens: natural\n    pupil_bright_mm: 4.3\n"
	c, _, err := casefile.Parse("test.yaml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := cause.Resolve(c, unit.Right)
	if err != nil {
		t.Fatal(err)
	}
	page, st := evenPage(t)
	v := cause.Viewing{DistanceM: 6}
	open, err := e.State(e.All(), v, cause.Same)
	if err != nil {
		t.Fatal(err)
	}
	hole, err := cause.FindTrial("pinhole:diameter_mm=1.2")
	if err != nil {
		t.Fatal(err)
	}
	closed, err := hole.Apply(e, e.All(), v)
	if err != nil {
		t.Fatal(err)
	}
	trolands := func(s eye.State) float64 {
		p, err := render.PSF(s)
		if err != nil {
			t.Fatal(err)
		}
		wide, _, err := (&render.Theatre{Scene: page, Wide: st}).Look(render.View{Eye: s}, p)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, l := range wide.Retina.G {
			sum += float64(l)
		}
		return sum / float64(len(wide.Retina.G)) * wide.TdPerCdM2
	}
	a, b := trolands(open), trolands(closed)
	if want := 100 * math.Pi / 4 * 4.3 * 4.3; math.Abs(a/want-1) > 0.005 { // even light is kept to 0.5 %
		t.Errorf("%.1f td, by hand %.1f", a, want)
	}
	if cost, want := math.Log10(a/b), 2*math.Log10(4.3/1.2); math.Abs(cost-want) > 0.005 { // 1 %
		t.Errorf("costs %.4f log units, by hand %.4f", cost, want)
	}
}

// evenPage is a page of 100 cd/m² without an edge, and a stage of its middle.
func evenPage(t *testing.T) (*scene.Scene, *render.Stage) {
	t.Helper()
	page, err := scene.Parse("page.yaml", []byte("title: Page\ngood_for: Tests only.\ndistance_m: 6\nwidth_deg: 2\nheight_deg: 2\nadapt_cdm2: 100\nsurround_cdm2: 100\npupil: bright\nwindow: {x_deg: 0, y_deg: 0, width_deg: 1, height_deg: 1}\nshapes:\n  - rect: {at: [-40, -40], size: [80, 80], cdm2: 100}\n"))
	if err != nil {
		t.Fatal(err)
	}
	st, err := render.NewStage(page, light.GridAround(0, 0, 32, 32, 1.0/60), 1, 0)
	if err != nil {
		t.Fatal(err)
	}
	return page, st
}
