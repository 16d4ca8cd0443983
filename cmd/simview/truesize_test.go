//go:build !race

package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// A card of 309 pixels is a screen of 0.277 mm, on which 60 samples a degree are
// seen from 951 or 952 mm (computed outside this project from ISO/IEC 7810).
func TestTrueSizeIsPrintedForACard(t *testing.T) {
	out := must(t, "truesize", "--card-px", "309").out
	for _, want := range []string{"pixels 0.277 mm apart", "wide picture, 1 minutes of arc a sample: true size from 95 cm", "magnified window alone, 0.25 minutes of arc a sample: true size from 3.81 m", "a second time"} {
		if !strings.Contains(out, want) {
			t.Errorf("lacks %q:\n%s", want, out)
		}
	}
	if out := must(t, "truesize", "--pitch-mm", "0.2767", "--step-arcmin", "2").out; !strings.Contains(out, "picture, 2 minutes of arc a sample: true size from 48 cm") {
		t.Error(out)
	}
}

func TestTheBarToPrintIsAPicture(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bar.png")
	must(t, "truesize", "--pitch-mm", "0.25", "--bar-mm", "100", "-o", path)
	m := picture(t, path)
	if m.Bounds().Dx() < 1181 {
		t.Errorf("%v has no room for 1181 dots", m.Bounds())
	}
}

func TestTrueSizeRefuses(t *testing.T) {
	for _, c := range [][2]string{
		{"truesize", "--pitch-mm: give it or --card-px, one of the two"},
		{"truesize --pitch-mm 0.2 --card-px 300", "--pitch-mm: give it or --card-px, one of the two"},
		{"truesize --pitch-mm NaN", "--pitch-mm: must be 0.02 to 10 (got NaN)"},
		{"truesize --card-px 3", "--card-px: must be 50 to 10000 (got 3)"},
		{"truesize --pitch-mm 0.2 --step-arcmin 0", "--step-arcmin: must be 0.01 to 60 (got 0)"},
		{"truesize --pitch-mm 0.2 --bar-mm 500", "--bar-mm: must be 20 to 180 (got 500)"},
		{"truesize --pitch-mm 0.2 -o x.png", "-o: no bar is asked for"},
		{"truesize --pitch-mm 0.2 --bar-mm 50 -o x.jpg", "-o: must name a .png file (got \"x.jpg\")"},
		{"truesize case.yaml --pitch-mm 0.2", "truesize: takes no case"},
		{"light -o x.jpg", "-o: must name a .png file (got \"x.jpg\")"},
		{"light --lca cornu", "--lca: must be thibos or atchison-smith (got \"cornu\")"},
		{"light --pupil-mm 12", "--pupil-mm: must be 1 to 9 (got 12)"},
		{"light --distance-m 0", "--distance-m: must be 0.1 or more (got 0)"},
		{"light --eye middle", "--eye: must be right or left (got \"middle\")"},
	} {
		got := call(t, strings.Fields(c[0])...)
		if got.code != 2 || !strings.Contains(got.err, c[1]) {
			t.Errorf("%s: code %d, %q, want %q", c[0], got.code, got.err, c[1])
		}
	}
}

// 0.2 mm and 1 minute of arc: 0.2/tan(1') = 687.5 mm, computed by hand.
func TestAViewSaysHowFarAwayItHasItsTrueSize(t *testing.T) {
	bench(t)
	if out := must(t, append([]string{"render", "case.yaml", "--view", "reference", "--pitch-mm", "0.2", "-o", "v.png"}, small...)...).out; !strings.Contains(out, "wide picture, 1 minutes of arc a sample: true size from 69 cm") {
		t.Errorf("%q", out)
	}
	if got := call(t, "render", "--pitch-mm", "0.2", "--card-px", "309"); got.code != 2 || !strings.Contains(got.err, "--pitch-mm: give it or --card-px, one of the two") {
		t.Errorf("%d, %q", got.code, got.err)
	}
}
