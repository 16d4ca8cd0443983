package web

import (
	"testing"

	"github.com/chromedp/chromedp"
)

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
		t.Run(c.name, func(t *testing.T) { // its tab closes at its end
			p := open(t, c.w, c.h, c.hash)
			if c.name != "before" && c.name != "narrow" {
				p.drawn(false)
			}
			if wide := eval[int64](p, `document.documentElement.scrollWidth`); wide > c.w {
				t.Errorf("%d wide in a window of %d, so it has to be moved sideways", wide, c.w)
			}
			p.picture(c.name)
		})
	}
}

func TestTheLookFollowsTheDevice(t *testing.T) {
	p := open(t, 1366, 768, "screen=before")
	ground := `getComputedStyle(document.body).backgroundColor`
	p.prefers("prefers-color-scheme", "dark")
	dark := eval[string](p, ground)
	p.prefers("prefers-color-scheme", "light")
	if light := eval[string](p, ground); dark != "rgb(20, 22, 26)" || light != "rgb(247, 245, 240)" {
		t.Errorf("dark %s, light %s", dark, light)
	}
	p.prefers("prefers-reduced-motion", "reduce")
	if n := eval[int](p, `[...document.querySelectorAll("*")].filter(e => parseFloat(getComputedStyle(e).transitionDuration) > 0).length`); n > 0 {
		t.Errorf("%d parts move though the device asks for calm", n)
	}
}

// A program that has ended is said where a picture would stand; nothing stale stays.
func TestAProgramThatHasEndedIsSaid(t *testing.T) {
	p := open(t, 1100, 700, "screen=before")
	h, s, err := made("")
	if err != nil {
		t.Fatal(err)
	}
	h.Start()
	p.run(chromedp.Navigate(s.URL()+"#"+pair), chromedp.WaitReady(chromedp.CSS("[data-ready]")))
	p.drawn(false)
	h.CloseClientConnections()
	h.Close()
	p.run(chromedp.Evaluate[chromedp.Void](`document.getElementById("off-cylinder").click()`))
	p.until(`document.querySelector("figcaption [role=alert]")?.textContent.includes("does not answer")`)
}
