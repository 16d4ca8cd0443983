package lost_test

import (
	"math"
	"reflect"
	"testing"

	"simview/internal/csf"
	"simview/internal/lost"
	"simview/internal/render"
)

// TestEyesThatShareAnImageSeeAsAlone: more scatter, a damaged field, and an eye whose
// pupil does not fit the image.
func TestEyesThatShareAnImageSeeAsAlone(t *testing.T) {
	st := stage(t, sceneOf(t, words), lost.QuickStepDeg)
	first, hazy, patchy, wide := view(4, 0), view(4, 0), view(4, 0), view(5, 0)
	hazy.Eye.Glare.Scale *= 3
	patchy.Eye.Field, patchy.Eye.FieldK = damagedBelow(t, 20), 1
	p := spread(t, first)
	image, reference := st.Image(first, p), st.Look(first, p)
	for k, v := range []render.View{first, hazy, patchy, wide} {
		got, want := against(t, image.Look(v), reference), against(t, st.Look(v, p), reference)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("view %d: %v sharing, %v alone", k, got.Share, want.Share)
		}
		if k == 1 || k == 2 {
			if got.Share < 0.01 {
				t.Errorf("view %d lost %v: nothing to compare", k, got.Share)
			}
		}
	}
}

// TestAPinholeCostsLightOnce: where light counts (Barten1999), an eye behind a hole
// sees what an eye whose own pupil is as small sees of the same spread.
func TestAPinholeCostsLightOnce(t *testing.T) {
	const hole, pupil = 1.5, 4
	st, err := lost.New(sceneOf(t, words), lost.QuickStepDeg, csf.Barten{})
	if err != nil {
		t.Fatal(err)
	}
	born, tried := view(hole, 0), view(hole, 0)
	tried.Eye.Light = hole * hole / (pupil * pupil)
	tried.Eye.TdPerCdM2 = math.Pi / 4 * pupil * pupil
	p := spread(t, born)
	d, err := st.Look(tried, p).Against(st.Look(born, p))
	if err != nil || d.Share > 1e-4 {
		t.Errorf("%.4f of what the eye with the small pupil sees is lost behind the hole, %v", d.Share, err)
	}
}
