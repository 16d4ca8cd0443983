package lost_test

import (
	"reflect"
	"testing"

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
