package web

import (
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// tab opens the page of a room in a tab of its own.
func (r *room) tab(w, h int64, hash string) page {
	r.Helper()
	const patience = 3 * time.Minute // a loaded machine
	return opened(r.T, func(*testing.T) *httptest.Server { return r.Server }, w, h, hash, patience)
}

func (p page) js(code string) {
	p.Helper()
	p.run(chromedp.Evaluate[chromedp.Void](code))
}

// shown waits for an element by its id and looks for barriers on the page.
func (p page) shown(id, name string) {
	p.Helper()
	p.until(`document.getElementById("` + id + `")`)
	for _, fault := range p.axe() {
		p.Errorf("%s: %s", name, fault)
	}
	p.picture("match-" + name)
}

// large checks that on the patient's side nothing to press is smaller than 44 px.
func (p page) large(name string) {
	p.Helper()
	small := eval[[]string](p, `[...document.querySelectorAll("main button, main summary, main a, main textarea")].filter(e => { const r = e.getBoundingClientRect(); return e.checkVisibility() && (r.width < 44 || r.height < 44); }).map(e => e.textContent)`)
	if len(small) > 0 {
		p.Errorf("%s: smaller than 44 px: %q", name, small)
	}
	text := eval[string](p, `document.body.innerText`)
	for _, word := range []string{"lens", "Lens", "cylinder", "cornea", "catter", "isual field", "Compare"} {
		if strings.Contains(text, word) {
			p.Errorf("%s: the patient's side shows %q", name, word)
		}
	}
}

const picturesReady = `document.querySelectorAll(".match-wait").length === 2 && [...document.querySelectorAll(".match-wait")].every(e => e.hidden)`

// A clinician sets up, a patient answers by keys and buttons, reloads, meets another
// window, says an urgent word, pauses, and the clinician reads the result.
func TestAMatchInTheBrowser(t *testing.T) {
	r := enter(t, t.TempDir())
	p := r.tab(1366, 900, "screen=match&scene=harbour-night&side=clinician")
	p.shown("match-start", "setup")
	p.js(`document.getElementById("match-start").click()`)
	p.until(`document.querySelector(".match-wrong")?.innerText.includes("real thing")`)
	p.js(`
		for (const [id, v] of [["match-object", "the clock"], ["match-saw", "smeared to one side"], ["match-cm", "16"], ["match-answers", "10"]]) {
			const f = document.getElementById(id); f.value = v; f.dispatchEvent(new Event("input")); f.dispatchEvent(new Event("change"));
		}
		for (const id of ["match-covered", "match-corrected"]) document.getElementById(id).click();
		document.getElementById("match-start").click()`)
	p.until(picturesReady)
	p.shown("answer-left", "question")
	p.large("question")

	p.js(`document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key: "ArrowLeft", bubbles: true}))`)
	p.question(2)
	p.js(`location.reload()`)
	p.question(2)
	p.run(chromedp.Navigate(r.URL + "/icon.svg"))
	p.js(`history.back()`)
	p.question(2)
	second := r.tab(1366, 900, "screen=match&scene=harbour-night")
	second.until(`document.querySelector(".match-list button")`)
	second.js(`document.querySelector(".match-list button").click()`)
	second.question(2)
	second.js(`document.getElementById("answer-right").click()`)
	second.question(3)
	p.js(`document.getElementById("answer-left").click()`)
	p.until(`document.querySelector(".match-wrong")?.innerText.includes("another window")`)
	p.question(3)

	p.js(`document.getElementById("match-pause").click()`)
	p.shown("match-resume", "pause")
	p.js(`document.getElementById("match-resume").click()`)
	p.question(3)
	p.js(`document.querySelector(".match-else summary").click(); document.getElementById("match-words").value = "a black curtain"; document.getElementById("match-words-send").click()`)
	p.shown("match-urgent", "urgent")
	p.large("urgent")
	if n := eval[int](p, `[...document.querySelectorAll("main button")].filter(e => e.checkVisibility()).length`); n != 1 {
		p.Errorf("beside the box that cannot wait %d buttons are shown", n-1)
	}
	p.js(`document.querySelector(".match-urgent button").click()`)
	p.question(4)
	p.js(`document.getElementById("match-undo").click()`)
	for n := 3; n <= 10; n++ {
		p.question(n)
		p.js(fmt.Sprintf(`document.getElementById(%q).click()`, []string{"answer-left", "answer-no-difference", "answer-right"}[n%3]))
	}
	p.shown("match-result", "thanks")
	p.large("thanks")
	p.js(`document.getElementById("match-result").click()`)
	p.until(`document.querySelectorAll(".match table").length === 2`)
	p.shown("match-back", "result")
	p.js(`[...document.querySelectorAll(".match-doing button")].find(b => b.textContent.startsWith("Find how strong")).click()`)
	p.until(`document.querySelector(".match-wait")?.hidden`)
	p.shown("strength-set", "strength")
	p.large("strength")
	for run := 1; run <= 4; run++ {
		p.until(fmt.Sprintf(`document.querySelector("h1").innerText.includes("%d of 4") && document.querySelector(".match-wait")?.hidden`, run))
		p.js(`document.getElementById("strength-stronger").click(); document.getElementById("strength-set").click()`)
	}
	p.until(`document.getElementById("match-result")`)
	p.js(`document.getElementById("match-result").click()`)
	p.until(`document.body.innerText.includes("times what was measured (")`)
	p.js(`document.getElementById("match-end").click()`)
	p.until(`document.getElementById("match-back") && !document.getElementById("match-end")`)
}

// Set-up and result name causes, and are not shown on the patient's side.
func TestThePatientsSideHasNoSetUp(t *testing.T) {
	r := enter(t, t.TempDir())
	p := r.tab(1366, 900, "screen=match&side=patient")
	p.shown("match-aside", "aside")
	p.until(`!document.body.innerText.includes("lens") && !document.getElementById("match-start")`)
	p.js(`document.getElementById("match-aside").click()`)
	p.until(`document.getElementById("match-start")`)
}

// question waits for a question with its pictures.
func (p page) question(n int) {
	p.Helper()
	p.until(fmt.Sprintf(`document.querySelector("main h1")?.innerText === "Question %d of 10" && `, n) + picturesReady)
}

// The words of the second language, a small window, and dark.
func TestTheMatchFitsItsScreens(t *testing.T) {
	r := enter(t, t.TempDir())
	u := usual()
	r.begin(u)
	for name, c := range map[string]struct {
		w, h int64
		hash string
	}{"tablet-dark": {768, 1024, "theme=dark"}, "zoom-400": {341, 256, "lang=de"}} {
		p := r.tab(c.w, c.h, "screen=match&"+c.hash)
		p.until(`document.querySelector(".match-list button")`)
		p.wide(name+"-setup", c.w)
		p.js(`document.querySelector(".match-list button").click()`)
		p.until(picturesReady)
		p.wide(name, c.w)
		p.shown("answer-left", name)
	}
}

func (p page) wide(name string, w int64) {
	p.Helper()
	if wide := eval[int64](p, `document.documentElement.scrollWidth`); wide > w {
		p.Errorf("%s: %d wide in a window of %d, so it has to be moved sideways", name, wide, w)
	}
}
