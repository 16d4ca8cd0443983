package lost_test

import (
	"reflect"
	"sync"
	"testing"

	"simview/internal/lost"
	"simview/internal/render"
)

// TestLooksAtOnceAreThoseOfOneAfterAnother: one stage, eyes of two pigments, one of
// them with a damaged field.
func TestLooksAtOnceAreThoseOfOneAfterAnother(t *testing.T) {
	views := [4]render.View{view(4, 0), view(4, 0), view(4, 0), view(4, 0)}
	views[1].Eye.Glare.Pigment, views[3].Eye.Glare.Pigment = 0, 0
	views[2].Eye.Field, views[2].Eye.FieldK = damagedBelow(t, 20), 1
	p := spread(t, views[0])
	sc := sceneOf(t, words)
	at, after := stage(t, sc, lost.QuickStepDeg), stage(t, sc, lost.QuickStepDeg)
	var once [len(views)]*lost.Seen
	var wait sync.WaitGroup
	for k, v := range views {
		wait.Go(func() { once[k] = at.Look(v, p) })
	}
	wait.Wait()
	whole := after.Look(views[0], p)
	for k, v := range views {
		if got, want := against(t, once[k], once[0]), against(t, after.Look(v, p), whole); !reflect.DeepEqual(got, want) {
			t.Errorf("view %d: at once %+v, one after another %+v", k, got.Share, want.Share)
		}
	}
}
