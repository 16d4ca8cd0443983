//go:build !race

package main

import (
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/compare"
)

func TestTheTableOfTrialsSaysWhatIsLeft(t *testing.T) {
	bench(t)
	var r trialReport
	parse(t, must(t, "trials", "case.yaml", "--eye", "left", "--json", "--trial", "pinhole,spectacles-rounded,lens-straight-refracted:draws=10").out, &r)
	if len(r.Tables) != 2 || r.Tables[0].Pupil != "bright" || r.Tables[1].Pupil != "dim" || r.OrderedBy != compare.OrderedBy || len(r.Notice) != len(compare.Notice) {
		t.Fatalf("%+v", r)
	}
	for _, k := range r.Tables {
		if len(k.InRoom) != 2 || k.InRoom[0].ID != "pinhole" || k.InRoom[1].ID != "spectacles-rounded" || len(k.WhatIfs) != 1 {
			t.Fatalf("%+v", k)
		}
		hole := k.InRoom[0].Left
		if want := 1.2 / k.Now.PupilMM * 1.2 / k.Now.PupilMM; hole.PupilMM != 1.2 || hole.LightShare/want < 0.9999 || hole.LightShare/want > 1.0001 {
			t.Errorf("%s: the pinhole leaves %+v, want light %.4f", k.Pupil, hole, want)
		}
		if k.Now.LightShare != 1 || k.Now.VisualStrehl <= 0 || k.Now.VisualStrehl > 1 {
			t.Errorf("now %+v", k.Now)
		}
		if w := k.WhatIfs[0]; !strings.Contains(w.NotHere, "has no implant") || w.Spread != nil {
			t.Errorf("an eye without an implant: %+v", w)
		}
	}
}

func TestTheTextOfTheTableHasTheWordsOfSafety(t *testing.T) {
	out := must(t, "trials", "--trial", "pinhole,lens-straight-same-glasses:draws=10").out
	for _, want := range append([]string{
		"right eye, bright pupil of 3.0 mm\n", "to try in the room:\n  Through a pinhole (pinhole)\n", "what if:\n  Lens put straight, same glasses (",
		"one in ten worse ", "of 10 draws (seed 1) worse than now", "21 in 100 eyes", "Rests on: lens-straight-same-glasses",
	}, compare.Notice...) {
		if !strings.Contains(out, want) {
			t.Errorf("does not say %q:\n%s", want, out)
		}
	}
}

// TestEveryTrialStandsInOneOfTwoGroups in the fixed order of the list.
func TestEveryTrialStandsInOneOfTwoGroups(t *testing.T) {
	out := must(t, "causes").out
	at := 0
	for _, k := range cause.Trials {
		next := strings.Index(out, "\n  "+k.ID+" ")
		if next <= at {
			t.Errorf("%s is not in its place:\n%s", k.ID, out)
		}
		at = next
	}
}
