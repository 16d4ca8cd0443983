package compare_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"simview/internal/compare"
	"simview/internal/render"
)

func TestTheWayLightIsDrawnComesBackFromARecord(t *testing.T) {
	in := compare.Settings{Eye: "left", Colour: "own", LCA: "atchison-smith", Layers: []string{"needles", "ring"}, LensTintFrom: 25}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	var back compare.Settings
	if err := json.Unmarshal(data, &back); err != nil || !reflect.DeepEqual(back, in) {
		t.Fatalf("%v: %+v", err, back)
	}
	o, err := back.Options()
	want := render.Manner{Colour: render.Own, LCA: render.AtchisonSmith, Ring: true, Needles: true, TintFrom: 25}
	if err != nil || o.Manner != want {
		t.Errorf("%v: %+v, want %+v", err, o.Manner, want)
	}
}

func TestAnOldRecordIsDrawnTheUsualWay(t *testing.T) {
	o, err := compare.Settings{Eye: "right"}.Options()
	if err != nil || o.Manner != (render.Manner{}) {
		t.Errorf("%v: %+v", err, o.Manner)
	}
}

func TestAWayOfLightThatIsNoneIsRefused(t *testing.T) {
	for _, c := range []struct {
		s    compare.Settings
		want string
	}{
		{compare.Settings{Colour: "pink"}, `colour: must be one of [shared beyond own] (got "pink")`},
		{compare.Settings{LCA: "newton"}, `lca: must be one of [thibos atchison-smith] (got "newton")`},
		{compare.Settings{Layers: []string{"halo"}}, `layers: must be one of [ring needles] (got "halo")`},
		{compare.Settings{LensTintFrom: 5}, "lens tint: must be against an age from 16 to 90 years (got 5)"},
	} {
		c.s.Eye = "right"
		if _, err := c.s.Options(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v", c.s, err)
		}
	}
}
