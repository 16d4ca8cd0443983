//go:build !race

package main

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// tearful is the tiny case with a tear film that breaks up early.
var tearful = tiny + "    tears: {breakup_s: 4, rms_um: 0.6, grain_mm: 0.8, seed: 1}\n"

func blinkOf(out string, more ...string) []string {
	return slices.Concat([]string{"blink", "case.yaml"}, small, []string{"--times-s", "1,8", "-o", out}, more)
}

func TestABlinkStripIsMadeAgainFromItsRecord(t *testing.T) {
	bench(t)
	write(t, "case.yaml", tearful)
	got := must(t, blinkOf("blink.png")...)
	if !strings.HasPrefix(got.out, "blink.png\nIllustrations for discussion") {
		t.Errorf("says %q", got.out)
	}
	var r blinkRecord
	if err := json.Unmarshal([]byte(read(t, "blink.json")), &r); err != nil {
		t.Fatal(err)
	}
	// 0.6 µm times √((0.5 e^-t)² + (t/4)²), by hand: at 1 s 0.1862 µm, at 8 s 1.2000.
	for k, want := range []struct{ s, um float64 }{{0, 0}, {1, 0.1862}, {8, 1.2}} {
		if v := r.Views[k]; v.SinceBlinkS != want.s || v.TearsRMSUM < want.um-1e-4 || v.TearsRMSUM > want.um+1e-4 {
			t.Errorf("view %d: %g s, %.4f µm", k, v.SinceBlinkS, v.TearsRMSUM)
		}
	}
	if len(r.Files) != 1 || len(r.Assumed) == 0 || len(r.Notice) != 3 {
		t.Errorf("record has %d files, %d assumptions", len(r.Files), len(r.Assumed))
	}
	must(t, "blink", "--record", "blink.json", "-o", "again.png")
	if read(t, "again.png") != read(t, "blink.png") || read(t, "again.json") != read(t, "blink.json") {
		t.Error("the record gives another strip")
	}
}

// Late after a blink the film blurs: a picture of one time is not that of an even
// film, and 0 seconds is.
func TestTheTearFilmChangesARender(t *testing.T) {
	bench(t)
	write(t, "case.yaml", tearful)
	rendered(t, "even.png")
	rendered(t, "late.png", "--since-blink-s", "8")
	rendered(t, "zero.png", "--since-blink-s", "0")
	if read(t, "even.png") == read(t, "late.png") || read(t, "even.png") != read(t, "zero.png") {
		t.Error("the film does nothing, or does something at 0 s")
	}
}

// Times given twice add up: two and twelve.
func TestBlinkRefusesWhatItCannotMake(t *testing.T) {
	bench(t)
	for _, k := range []struct {
		args []string
		code int
		want string
	}{
		{blinkOf("b.png"), 1, "error: seconds since the blink: the case does not describe the tear film of the left eye; hint: write eyes.left.tears\n"},
		{blinkOf("b.png", "--times-s", "0"), 2, "error: --times-s: must be 0.05 to 120 seconds each (got 0)\n"},
		{blinkOf("b.png", "--times-s", "NaN"), 2, "error: --times-s: must be 0.05 to 120 seconds each (got NaN)\n"},
		{blinkOf("b.png", "--times-s", "1,2,3,4,5,6,7,8,9,10,11,12"), 2, "error: --times-s: must be 1 to 11 times (got 14)\n"},
		{blinkOf("b.jpg"), 2, "error: -o: must name a .png file (got \"b.jpg\")\n"},
		{[]string{"blink", "--record", "case.yaml"}, 1, "error: record case.yaml: is not a record of a strip (format 1 expected); hint: name the .json file that blink wrote\n"},
		{[]string{"render", "case.yaml", "--since-blink-s", "121"}, 2, "error: --since-blink-s: must be 0 to 120 (got 121)\n"},
	} {
		got := call(t, k.args...)
		if got.code != k.code || !strings.HasPrefix(got.err, k.want) || got.out != "" {
			t.Errorf("%q: code %d, says %q", k.args, got.code, got.err)
		}
	}
	if n := names(t, "."); len(n) != 2 {
		t.Errorf("leaves %q", n)
	}
}

// A record has to hold the map of a cornea too: without it nothing can be made
// again.
func TestARecordHoldsTheCornealMap(t *testing.T) {
	bench(t)
	write(t, "cornea.csv", gridOfSphere())
	write(t, "case.yaml", tiny+"    cornea: {map: {csv: cornea.csv, layout: grid, of: height}}\n")
	must(t, quick("out")...)
	must(t, "compare", "--record", "out/record.json", "-o", "again")
	if read(t, "out/sheet.png") != read(t, "again/sheet.png") {
		t.Error("the record gives another sheet")
	}
}

// gridOfSphere is a map of a sphere of 7.8 mm: h = 1000 (√(R² - r²) - R) µm.
func gridOfSphere() string {
	var b strings.Builder
	b.WriteString("x_mm,y_mm,height_um\n")
	for j := -10; j <= 10; j++ {
		for i := -10; i <= 10; i++ {
			x, y := .3*float64(i), .3*float64(j)
			fmt.Fprintf(&b, "%.1f,%.1f,%.4f\n", x, y, 1000*(math.Sqrt(7.8*7.8-x*x-y*y)-7.8))
		}
	}
	return b.String()
}
