//go:build !race

package main

import (
	"path/filepath"
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
