//go:build !race

package main

import (
	"os"
	"strings"
	"testing"

	"simview/internal/compare"
	"simview/internal/explain"
)

// TestOneCauseIsExplained: with a single cause its share is all there is.
func TestOneCauseIsExplained(t *testing.T) {
	if testing.Short() {
		t.Skip("a whole story")
	}
	bench(t)
	var s explain.Story
	parse(t, must(t, "explain", "case.yaml", "--scene", "none", "--draws", "10", "--json", "--plots", "figures").out, &s)
	if len(s.Lights) != 2 || len(s.Lights[0].Causes) != 1 || s.Unexplained.Known || len(s.Notice) != len(compare.Notice) || len(s.Apart) != 0 {
		t.Fatalf("%+v", s)
	}
	l := s.Lights[0]
	if got, want := l.Causes[0].Share[explain.Letters].Value, l.Now.LogMAR-l.Reference.LogMAR; got < want-1e-9 || got > want+1e-9 || want < 0.1 {
		t.Errorf("share %v of %v", got, want)
	}
	for _, f := range s.Figures() {
		if info, err := os.Stat("figures/" + f.Name); err != nil || info.Size() < 1000 {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
}

func TestWhatExplainCannotDoIsSaid(t *testing.T) {
	bench(t)
	for want, args := range map[string][]string{
		"--draws: must be a whole number from 10":               {"explain", "case.yaml", "--draws", "3"},
		"street-day and letters are both for the bright pupil":  {"explain", "case.yaml", "--scene", "street-day,letters"},
		"describes no right eye; hint: add eyes.right":          {"explain", "case.yaml", "--eye", "right"},
		"--eye: must be right or left":                          {"explain", "case.yaml", "--eye", "both"},
		"figures cannot be made":                                {"explain", "case.yaml", "--plots", "case.yaml/figures"},
		"must be a fraction such as 20/40 or 6/12 (got \"J3\")": {"explain", "jaeger.yaml"},
	} {
		write(t, "jaeger.yaml", tiny+"    acuity: [{snellen: J3, with: glasses}]\n")
		if got := call(t, args...); got.code == 0 || !strings.Contains(got.err, want) {
			t.Errorf("%v: exit code %d, %q, want %q", args, got.code, got.err, want)
		}
	}
}
