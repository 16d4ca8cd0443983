//go:build !race

package main

import (
	"encoding/binary"
	"os"
	"strings"
	"testing"
)

func TestAViewIsWrittenAsFloatingPointLight(t *testing.T) {
	bench(t)
	const path = "v.tif"
	must(t, append([]string{"render", "case.yaml", "-o", path}, small...)...)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(b[:4]) != "II*\x00" || binary.LittleEndian.Uint16(b[8:]) != 12 || !strings.Contains(string(b[:1000]), "cd/m2") {
		t.Errorf("%q", b[:20])
	}
}

func TestAViewIsSharpenedForItsViewer(t *testing.T) {
	bench(t)
	got := must(t, append([]string{"render", "case.yaml", "--viewer-gain", "2", "-o", "v.png"}, small...)...)
	if !strings.Contains(got.out, "sharpened up to 2 times for a viewer") {
		t.Errorf("%q", got.out)
	}
}

func TestWhatDoesNotGoTogetherIsRefused(t *testing.T) {
	for _, c := range [][2]string{
		{"render -o a.tif --linear", "--linear: a .tif is linear light by itself"},
		{"render --viewer-gain 1", "--viewer-gain: must be above 1 and at most 3 (got 1)"},
		{"render --viewer-gain NaN", "--viewer-gain: must be above 1 and at most 3 (got NaN)"},
		{"render -o a.tif --viewer-gain 2", "--viewer-gain: is for a picture to be looked at"},
	} {
		got := call(t, strings.Fields(c[0])...)
		if got.code != 2 || !strings.Contains(got.err, c[1]) {
			t.Errorf("%s: code %d, %q", c[0], got.code, got.err)
		}
	}
}
