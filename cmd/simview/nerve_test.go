//go:build !race

package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestHowFieldLossIsDrawnIsCheckedBeforeAnyWork(t *testing.T) {
	for _, c := range [][2]string{
		{"--appearance=black", "--appearance: must be one of faded, blurred, missing, unaltered, dark, veil"},
		{"--csf=best", "--csf: contrast sensitivity model: must be one of watson-ahumada, barten"},
	} {
		got := call(t, "render", c[0], "-o", filepath.Join(t.TempDir(), "a.png"))
		if got.code == 0 || !strings.Contains(got.err, c[1]) {
			t.Errorf("%s: exit code %d, %q", c[0], got.code, got.err)
		}
	}
	got := call(t, "render", "--outline", "--linear", "-o", filepath.Join(t.TempDir(), "a.png"))
	if got.code == 0 || !strings.Contains(got.err, "--outline") {
		t.Errorf("an outline on linear light: exit code %d, %q", got.code, got.err)
	}
}

// Every way to draw a lost field is said with its evidence, the usual way too; an
// eye without a lost field says nothing.
func TestARenderOfALostFieldSaysOnWhatEvidence(t *testing.T) {
	fieldBench(t)
	view := func(more ...string) string {
		return must(t, slices.Concat([]string{"render"}, more, small, []string{"-o", "a.png"})...).out
	}
	for _, c := range []struct{ way, want string }{{"faded", "Hu2014"}, {"missing", "8 of 50 people"}} {
		if got := view("field.yaml", "--view", "field", "--appearance", c.way); !strings.Contains(got, c.want) {
			t.Errorf("%s: says %q", c.way, got)
		}
	}
	if got := view("field.yaml", "--view", "reference"); strings.Contains(got, "Field loss") {
		t.Errorf("a full field: says %q", got)
	}
}

// The urgent signs come before anything else when a loss is drawn dark, also on the
// strips of fixations and of the seconds after a blink; a strip takes the outline.
func TestStripsTakeDarkAndOutline(t *testing.T) {
	long(t)
	bench(t)
	write(t, "field.yaml", mirrored()+"    tears: {breakup_s: 4, rms_um: 0.6, grain_mm: 0.8, seed: 1}\n")
	made := func(args ...string) string {
		return must(t, slices.Concat(args, small, []string{"-o", "a.png"})...).out
	}
	height := func() int { return picture(t, "a.png").Bounds().Dy() }
	for _, line := range [][]string{
		{"blink", "field.yaml", "--eye", "left", "--times-s", "1"},
		{"render", "field.yaml", "--eye", "left", "--gaze-deg", "0,0", "--gaze-deg", "4,4"},
	} {
		plain := made(append(line, "--appearance", "veil")...)
		low, bytes := height(), read(t, "a.png")
		if strings.HasPrefix(plain, "Needs care the same day") {
			t.Errorf("%s: the urgent signs without need", line[0])
		}
		made(append(line, "--appearance", "veil", "--outline")...)
		if read(t, "a.png") == bytes {
			t.Errorf("%s: --outline draws nothing", line[0])
		}
		dark := made(append(line, "--appearance", "dark")...)
		if !strings.HasPrefix(dark, "Needs care the same day") || height() <= low {
			t.Errorf("%s: dark is %d pixels high, a veil %d, and says %q", line[0], height(), low, dark)
		}
	}
}
