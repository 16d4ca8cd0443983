package render

import (
	"slices"
	"sync"
	"testing"

	"simview/internal/light"
)

// TestViewsMadeAtOnceAreThoseOfOneAfterAnother: one stage, eyes of several
// pigments, whose veils the stage keeps.
func TestViewsMadeAtOnceAreThoseOfOneAfterAnother(t *testing.T) {
	theatre := func() *Theatre {
		s := sceneOf(t, 100, "bright", letters)
		return &Theatre{Scene: s, Wide: stage(t, s, light.GridAround(0, 0, 64, 48, arcmin), 1)}
	}
	var views [4]View
	for k := range views {
		views[k] = View{Eye: state(3, nil)}
		views[k].Eye.Glare.Scale, views[k].Eye.Glare.Pigment = 5, float64(k/2)
	}
	p := spreadWhite(t, views[0].Eye)
	var once [len(views)]Picture
	var wait sync.WaitGroup
	at, after := theatre(), theatre()
	for k, v := range views {
		wait.Go(func() {
			var err error
			if once[k], _, err = at.Look(v, p); err != nil {
				t.Error(err)
			}
		})
	}
	wait.Wait()
	for k, v := range views {
		if again, _ := look(t, after, v); !slices.Equal(again.Seen.G, once[k].Seen.G) {
			t.Errorf("view %d is another when made at once with others", k)
		}
	}
}
