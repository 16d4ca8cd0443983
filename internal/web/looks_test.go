package web

import "testing"

// Screens at the sizes at which they are used, to be looked at with SIMVIEW_SHOTS.
func TestThePageFitsItsScreens(t *testing.T) {
	for _, c := range []struct {
		name string
		w, h int64
		hash string
	}{
		{"desktop", 1366, 768, ""},
		{"tablet", 768, 1024, ""},
		{"dark", 1366, 768, "theme=dark"},
		{"zoom-400", 341, 192, ""}, // 1366 x 768 at 400 %
		{"patient", 1366, 768, "side=patient&lang=de"},
		{"before", 1366, 768, "screen=before"},
		{"narrow", 320, 640, "screen=before&lang=de"}, // WCAG 1.4.10
	} {
		p := open(t, c.w, c.h, c.hash)
		p.drawn(c.name == "desktop" || c.name == "dark")
		if wide := eval[int64](p, `document.documentElement.scrollWidth`); wide > c.w {
			t.Errorf("%s: %d wide in a window of %d, so it has to be moved sideways", c.name, wide, c.w)
		}
		p.picture(c.name)
	}
}
