package lost_test

import (
	"image/color"
	"testing"

	"simview/internal/lost"
)

// TestTheMapIsDrawnAsThePatientSeesIt: harmed below, so bright below and dark above;
// corners of the page without print are grey.
func TestTheMapIsDrawnAsThePatientSeesIt(t *testing.T) {
	st := stage(t, sceneOf(t, words), lost.QuickStepDeg)
	v := view(4, 0)
	p := spread(t, v)
	whole := st.Look(v, p)
	v.Eye.Field, v.Eye.FieldK = damagedBelow(t, 20), 1
	m := against(t, st.Look(v, p), whole).Map
	pic := m.Draw(3)
	if pic.Rect.Dx() != 3*12 || pic.Rect.Dy() != 3*8 {
		t.Fatalf("%v for 6 by 4 degrees", pic.Rect)
	}
	bright := func(x, y float64) int {
		i, j := m.Grid.Pixel(x, y)
		c := color.GrayModel.Convert(pic.At(int(3*i)+1, int(3*j)+1)).(color.Gray)
		return int(c.Y)
	}
	if above, below := bright(-1.2, 1.2), bright(-0.7, -1.2); !(below > above+60) {
		t.Errorf("above %d, below %d of 255", above, below)
	}
}
