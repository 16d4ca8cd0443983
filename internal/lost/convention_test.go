package lost_test

import (
	"testing"

	"simview/internal/lost"
	"simview/internal/unit"
)

// TestWhatIsLostBelowIsLostBelow: a field harmed below fixation loses the lower half
// of the page, also when the gaze lies higher: then less of it.
func TestWhatIsLostBelowIsLostBelow(t *testing.T) {
	st := stage(t, sceneOf(t, words), lost.QuickStepDeg)
	v := view(4, 0)
	p := spread(t, v)
	whole := st.Look(v, p)
	v.Eye.Field, v.Eye.FieldK = damagedBelow(t, 20), 1
	l := against(t, st.Look(v, p), whole)
	above, below := l.Map.At(-1.2, 1.2), l.Map.At(-0.7, -1.2)
	t.Logf("lost above %.3f, below %.3f", above, below)
	if !(below > 2*above && below > 0.2) {
		t.Errorf("lost above %.3f, below %.3f", above, below)
	}
	v.Gaze = unit.SightPoint{Y: -3}
	clear := v
	clear.Eye.Field = nil
	if low := against(t, st.Look(v, p), st.Look(clear, p)); !(low.Share < 0.5*l.Share) {
		t.Errorf("gaze below the page loses %.3f, in its middle %.3f", low.Share, l.Share)
	}
}

// TestALossIsPositive: blur loses, so its share is above 0; the other way round,
// seeing more than the reference, is not set off and is 0.
func TestALossIsPositive(t *testing.T) {
	st := stage(t, sceneOf(t, words), lost.QuickStepDeg)
	sharp, dull := view(4, 0), view(4, -1)
	a, b := st.Look(sharp, spread(t, sharp)), st.Look(dull, spread(t, dull))
	if l := against(t, b, a); !(l.Share > 0.02) {
		t.Errorf("blur loses %.3f", l.Share)
	}
	if l := against(t, a, b); !(l.Share < 0.005) {
		t.Errorf("sharpness loses %.3f", l.Share)
	}
}
