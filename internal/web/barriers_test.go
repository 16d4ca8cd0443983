package web

import (
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// axe runs the checker of barriers on the page: WCAG 2.2 A and AA, good practice,
// and the 7:1 of AAA for text. It returns one line for each fault.
func (p page) axe() []string {
	p.Helper()
	tool, err := os.ReadFile("testdata/axe.min.js")
	if err != nil {
		p.Fatal(err)
	}
	p.run(chromedp.Evaluate[chromedp.Void](string(tool)))
	return eval[[]string](p, `axe.run(document, {
		runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
		rules: {"color-contrast-enhanced": {enabled: true}, "target-size": {enabled: true}},
	}).then(r => r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.target + ": " + n.failureSummary)))`)
}

func TestNoScreenHasABarrier(t *testing.T) {
	for _, hash := range []string{pair, pair + "&theme=dark", pair + "&side=patient&lang=de", "screen=before", "screen=before&theme=dark&lang=de"} {
		t.Run(hash, func(t *testing.T) {
			p := open(t, 1366, 768, hash)
			if !strings.Contains(hash, "before") {
				p.drawn(false)
			}
			for _, fault := range p.axe() {
				t.Error(fault)
			}
		})
	}
}

func TestTheCheckerOfBarriersCanFail(t *testing.T) {
	p := open(t, 1366, 768, "screen=before")
	p.run(chromedp.Evaluate[chromedp.Void](`document.getElementById("main").append(document.createElement("select"));
		const grey = document.createElement("p"); grey.textContent = "grey"; grey.style.color = "#666"; document.getElementById("main").append(grey);`))
	all := strings.Join(p.axe(), "\n")
	for _, id := range []string{"select-name", "color-contrast-enhanced"} {
		if !strings.Contains(all, id) {
			t.Errorf("%s was not found in %s", id, all)
		}
	}
}
