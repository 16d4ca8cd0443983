package compare_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/unit"
)

// TestAWhatIfIsThreePanels: the middle of its draws and the ends of the middle
// 80 in 100, each with the share that saw worse; one that names its outcome is
// one.
func TestAWhatIfIsThreePanels(t *testing.T) {
	list := shots(t, demo(t), compare.Options{Eye: unit.Right, Trials: []string{"lens-straight-refracted:draws=12", "lens-exchanged-refracted:outcome=worse", "spectacles+pinhole:diameter_mm=1"}})
	want := []string{
		"lens-straight-refracted-middle-draws-12", "lens-straight-refracted-better-draws-12", "lens-straight-refracted-worse-draws-12",
		"lens-exchanged-refracted-worse", "spectacles-and-pinhole-diameter-mm-1",
	}
	if got := ids(list[7:12]); !reflect.DeepEqual(got, want) {
		t.Errorf("views %v, want %v", got, want)
	}
	for k, name := range []string{"middle of the draws", "one in ten comes out better than this", "one in ten comes out worse than this"} {
		if s := list[7+k]; s.Name != "Lens put straight, new glasses: "+name || !strings.Contains(s.Amount, "21 in 100 eyes") {
			t.Errorf("%q, %q", s.Name, s.Amount)
		}
	}
}

// TestAViewOfAWhatIfSaysHowManyDrawsAreWorse, and is that of the draw.
func TestAViewOfAWhatIfSaysHowManyDrawsAreWorse(t *testing.T) {
	list := shots(t, demo(t), compare.Options{Eye: unit.Right, Trials: []string{"lens-straight-same-glasses:draws=10"}})
	var last float64
	for _, k := range []int{9, 7, 8} { // worse, middle, better
		e := state(t, list[k])
		v, err := cause.VisualStrehl(e)
		if err != nil || v < last {
			t.Errorf("%v: %s has %.4f, the one below it %.4f", err, list[k].ID, v, last)
		}
		last = v
		if n := e.Notes[len(e.Notes)-1]; !strings.Contains(n, "of 10 draws (seed 1) come out worse than now in the optics alone") {
			t.Errorf("says %q", e.Notes)
		}
	}
}

// TestTwoWaysToWriteATrialAreOneTrial.
func TestTwoWaysToWriteATrialAreOneTrial(t *testing.T) {
	_, err := compare.Shots(demo(t), compare.Options{Trials: []string{"spectacles+pinhole", "pinhole+spectacles"}})
	if err == nil || !strings.Contains(err.Error(), "asked for twice") {
		t.Errorf("got %v", err)
	}
}

// TestWhatTrialsRestOnIsSaidOnce for the three panels of a what-if.
func TestWhatTrialsRestOnIsSaidOnce(t *testing.T) {
	list := shots(t, demo(t), compare.Options{Eye: unit.Right, Trials: []string{"lens-straight-refracted", "pinhole"}})
	if on := compare.RestsOn(list); len(on) != 1 || !strings.HasPrefix(on[0], "Lens put straight, new glasses: lens lies 0.28 mm") {
		t.Errorf("%q", on)
	}
}

// TestTheTableKeepsTheOrderOfTheListWhateverComesOut.
func TestTheTableKeepsTheOrderOfTheListWhateverComesOut(t *testing.T) {
	e := demoEye(t)
	var list []cause.Trial
	for _, id := range []string{"pinhole", "spectacles", "rigid-lens", "lens-straight-same-glasses:draws=10", "pinhole:decentration_mm=4"} {
		k, err := cause.FindTrial(id)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, k)
	}
	table, err := compare.Tabulate(e, list, cause.Viewing{DistanceM: math.Inf(1), Night: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(table.InRoom) != 4 || table.InRoom[1].ID != "spectacles" || len(table.WhatIfs) != 1 || table.Pupil != "dim" {
		t.Fatalf("%+v", table)
	}
	if r := table.InRoom[3]; r.Left != nil || !strings.Contains(r.NotHere, "not within the pupil") {
		t.Errorf("%+v", r)
	}
	w := table.WhatIfs[0]
	if w.Worse.VisualStrehl > w.Left.VisualStrehl || w.Left.VisualStrehl > w.Better.VisualStrehl || w.Spread.Draws != 10 || math.Abs(w.Spread.Now-table.Now.VisualStrehl) > 1e-12 {
		t.Errorf("%+v, %+v", w, w.Spread)
	}
}
