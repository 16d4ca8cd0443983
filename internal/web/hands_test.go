package web

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// pair is a small state: two panes of a scene that is quick to make.
const pair = "scene=letters&pane=right;;;refitted&pane=right;cylinder:1;;refitted&active=1"

// title returns what stands under the second pane.
func (p page) title() string {
	return eval[string](p, `document.querySelectorAll("figcaption h2")[1].textContent`)
}

func (p page) hash() string { return eval[string](p, `decodeURIComponent(location.hash)`) }

func (p page) wants(what, got, part string) {
	p.Helper()
	if !strings.Contains(got, part) {
		p.Errorf("%s: %q lacks %q", what, got, part)
	}
}

// keys sends keys to the element that has the focus.
func (p page) keys(k string, opts ...chromedp.KeyOption) {
	p.Helper()
	p.run(chromedp.KeyEvent(k, opts...))
}

func (p page) focus(id string) {
	p.Helper()
	p.until(`(document.getElementById("` + id + `")?.focus(), document.activeElement?.id === "` + id + `")`)
}

// Everything that the pointer can do with a picture, the keyboard can.
func TestAPictureIsWorkedByKeys(t *testing.T) {
	p := open(t, 1100, 700, pair)
	p.drawn(false)
	p.focus("picture-1")
	p.keys("+")
	p.wants("plus", p.hash(), "view=0,0,1.5")
	p.keys(kb.ArrowRight)
	p.wants("arrow", p.hash(), "view=1,0,1.5") // letters is 15 degrees: a tenth of what is shown
	p.run(chromedp.Click(chromedp.CSS("#step-left")), chromedp.Click(chromedp.CSS("#step-up")))
	p.wants("buttons instead of dragging", p.hash(), "view=-1,1.875,1.5") // a fifth of what is shown, no farther than the edge
	p.run(chromedp.Click(chromedp.CSS("#look")))
	p.until(`decodeURIComponent(location.hash).includes("gaze=-1,1.9")`)
	p.focus("picture-1")
	p.keys("0")
	p.wants("zero", p.hash(), "view=0,0,1")
	p.keys("d")
	p.until(`document.querySelectorAll(".flag")[1].textContent.includes("Difference")`)
	p.keys("d")
	p.until(`document.querySelectorAll(".flag")[1].hidden`)
	p.run(chromedp.Evaluate[chromedp.Void](`document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key: " "}))`))
	p.until(`document.querySelectorAll(".flag")[1].textContent.includes("Picture 1")`)
	p.run(chromedp.Evaluate[chromedp.Void](`document.activeElement.dispatchEvent(new KeyboardEvent("keyup", {key: " "}))`))
	p.until(`document.querySelectorAll(".flag")[1].hidden`)
	p.keys("a")
	p.until(`document.getElementById("alternate").getAttribute("aria-pressed") === "true"`)
	p.keys(kb.Escape)
	p.until(`document.getElementById("alternate").getAttribute("aria-pressed") === "false"`)
	p.keys("1")
	p.until(`document.activeElement.id === "picture-0"`)
	p.keys(kb.Delete)
	p.until(`document.getElementById("said").textContent.includes("Two pictures at least")`)
}

// The demo case leaves 0.68 D of cylinder (see its file); half of it is 0.34 D.
func TestACauseIsTurnedInItsUnit(t *testing.T) {
	p := open(t, 1100, 700, pair)
	p.wants("as measured", p.title(), "−0.68 D (as measured)")
	p.typeInto("value-cylinder", "-0,34")
	p.until(`document.querySelectorAll("figcaption h2")[1].textContent.includes("0.50 times")`)
	p.wants("typed with a comma", p.title(), "−0.34 D")
	p.typeInto("value-cylinder", "7")
	p.until(`document.getElementById("wrong-cylinder").textContent.includes("from −2.0")`)
	p.wants("refused, nothing clamped", p.title(), "−0.34 D")
	p.focus("dial-cylinder")
	p.keys(kb.ArrowRight)
	p.wants("slider by key", p.title(), "0.55 times")
	p.wants("said of the slider", eval[string](p, `document.getElementById("dial-cylinder").getAttribute("aria-valuetext")`), "0.55 times")
	p.drawn(false)
	p.keys("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.until(`document.querySelectorAll("figcaption h2")[1].textContent.includes("0.50 times")`)
	p.keys("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.until(`document.querySelectorAll("figcaption h2")[1].textContent.includes("as measured")`)
	p.keys("y", chromedp.KeyModifiers(chromedp.ModifierCtrl))
	p.until(`document.querySelectorAll("figcaption h2")[1].textContent.includes("0.50 times")`)
	before := p.hash()
	p.run(chromedp.Reload(), chromedp.WaitReady(chromedp.CSS("[data-ready]")))
	if got := p.hash(); got != before || !strings.Contains(p.title(), "0.50 times") {
		t.Errorf("after a reload: %q, was %q; %s", got, before, p.title())
	}
}

// typeInto puts a value into a field and leaves it, as typing and Tab do.
func (p page) typeInto(id, value string) {
	p.Helper()
	p.focus(id)
	p.run(chromedp.Evaluate[chromedp.Void](`document.getElementById("` + id + `").select()`))
	p.keys(value)
	p.keys(kb.Tab)
}

func TestAddressesThatDoNotFitAreSaid(t *testing.T) {
	p := open(t, 1100, 700, "scene=moon&pane=right;moon:1;;refitted&pane=right;;;own&gaze=x")
	p.until(`document.getElementById("said").textContent.includes("does not fit this case")`)
	if n := eval[int](p, `document.querySelectorAll("figure").length`); n != 6 {
		t.Errorf("%d panes, want the six that the case begins with", n)
	}
}

func TestTheOtherLanguageIsWhole(t *testing.T) {
	p := open(t, 1100, 700, pair+"&lang=de")
	p.wants("title", p.title(), "Rechtes Auge: Restlicher Brillenfehler, −0,68 dpt (wie gemessen)")
	if lang := eval[string](p, `document.documentElement.lang`); lang != "de" {
		t.Errorf("the page says that its language is %q", lang)
	}
	words := eval[string](p, `[...document.querySelectorAll("body :not([lang])")].filter(e => !e.closest("[lang=en], noscript")).map(e => [...e.childNodes].filter(n => n.nodeType === 3).map(n => n.data).join(" ") + " " + (e.getAttribute("aria-label") ?? "")).join("\n")`)
	for _, english := range []string{" the ", "Picture", "measured", "Glasses", "Scene", "Nothing"} {
		if strings.Contains(words, english) {
			t.Errorf("%q stands in the German page: %s", english, around(words, english))
		}
	}
}

// What is loaded comes from this server, and no measurement stands in a question.
func TestNothingIsLoadedFromElsewhere(t *testing.T) {
	p := open(t, 1100, 700, pair)
	p.drawn(true)
	for _, u := range eval[[]string](p, `performance.getEntriesByType("resource").map(e => e.name)`) {
		if !strings.HasPrefix(u, start(t).URL+"/") || strings.Contains(u, "0.68") || strings.Contains(strings.ToLower(u), "ferry") {
			t.Errorf("asked for %s", u)
		}
	}
}

// around is the line in which a word stands.
func around(text, word string) string {
	for line := range strings.Lines(text) {
		if strings.Contains(line, word) {
			return line
		}
	}
	return ""
}

// A program that has ended is said, and its picture does not stay under a new caption.
func TestARefusedViewIsSaidInItsPlace(t *testing.T) {
	p := open(t, 1100, 700, "scene=letters&pane=right;;;refitted&pane=right;;wishes;own&active=1")
	p.until(`document.querySelectorAll("figcaption [role=alert]").length === 1`)
	p.wants("the sentence", eval[string](p, `document.querySelector("figcaption [role=alert]").textContent`), "wishes")
}

func TestTheFirstPictureIsOfEachCauseAlone(t *testing.T) {
	p := open(t, 1366, 768, "")
	p.drawn(false)
	got := eval[[]string](p, `[...document.querySelectorAll("figcaption h2")].map(h => h.textContent)`)
	for i, part := range []string{"Nothing wrong", "Displaced lens, 1.0 mm", "Leftover sphere", "Irregular cornea", "Scattered light, log s 1.50", "Lost visual field"} {
		if !strings.Contains(got[i], part) {
			t.Errorf("picture %d: %s, want %s", i+1, got[i], part)
		}
	}
}

func TestAWhatIfComesWithItsSpreadAndNotToThePatient(t *testing.T) {
	p := open(t, 1366, 768, pair)
	p.add("trial-lens-straight-refracted")
	p.until(`document.querySelectorAll("figure").length === 5`)
	text := eval[string](p, `document.querySelector(".sheet").textContent`)
	for _, part := range []string{"middle outcome", "better than this", "worse than this"} {
		p.wants("outcomes", text, part)
	}
	p.run(chromedp.Evaluate[chromedp.Void](`{ const s = document.getElementById("side"); s.value = "patient"; s.dispatchEvent(new Event("change")); }`))
	p.until(`document.querySelectorAll("figure").length === 2`)
	if eval[bool](p, `document.querySelector("#add [value=trial-lens-straight-refracted]") !== null`) {
		t.Error("a what-if is offered on the patient's side")
	}
}

func TestBothEyesAreAPane(t *testing.T) {
	p := open(t, 1366, 768, pair)
	p.add("both")
	p.until(`document.querySelectorAll("figcaption h2")[2]?.textContent.includes("Both eyes: Right eye with: All together")`)
	p.drawn(false)
}

// add chooses an entry of the menu of pictures.
func (p page) add(value string) {
	p.Helper()
	p.run(chromedp.Evaluate[chromedp.Void](`{ const m = document.getElementById("add"); m.value = "` + value + `"; m.dispatchEvent(new Event("change")); }`))
}
