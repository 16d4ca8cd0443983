//go:build !race

package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"
)

// offered is what the shell is offered for the last word of a line.
func offered(t *testing.T, line ...string) []string {
	t.Helper()
	var out, err bytes.Buffer
	run(t.Context(), append([]string{"__complete"}, line...), &out, &err)
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	return lines[:len(lines)-1] // the last one is the directive
}

func TestTheShellCompletesWhatThereIs(t *testing.T) {
	bench(t)
	for _, c := range []struct {
		line string
		want string
	}{
		{"render --scene ti", "tide-table"},
		{"compare --scene letters,h", "letters,harbour-night"},
		{"compare --eye l", "left"},
		{"psf --eye r", "right"},
		{"render --tone p", "photographic"},
		{"psf --primary b", "blue"},
		{"compare --trial pinhole,sp", "pinhole,spectacles pinhole,spectacles-exact pinhole,spectacles-rounded"},
		{"render --trial pin", "pinhole"},
		{"psf case.yaml --view c", "cylinder"},
		{"psf --view lens,sc", "lens,scatter"},
		{"render case.yaml --view r", "reference"},
		{"compare ", "yaml yml"},
	} {
		got := strings.Join(offered(t, strings.Split(c.line, " ")...), " ")
		if got != c.want {
			t.Errorf("%q: offered %q, want %q", c.line, got, c.want)
		}
	}
}

func TestProgressIsForTerminals(t *testing.T) {
	f, err := os.Create(t.TempDir() + "/log")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if terminal(f) || terminal(&bytes.Buffer{}) {
		t.Error("a file and a buffer are no terminals")
	}
	if p, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0); err == nil {
		defer p.Close()
		if !terminal(p) {
			t.Error("a terminal is not known as one")
		}
	}
	tell, clear := progress(f)
	tell(1, 2, "lens")
	clear()
	if info, _ := f.Stat(); info.Size() != 0 {
		t.Error("progress is written to a file")
	}
}

func TestProgressWaitsAndClearsItsLine(t *testing.T) {
	var b bytes.Buffer
	now := time.Unix(0, 0)
	tell, clear := teller(&b, func() time.Time { return now })
	tell(0, 8, "reference")
	clear()
	if b.Len() != 0 {
		t.Errorf("a short run says %q", b.String())
	}
	now = now.Add(patience)
	tell(3, 8, "lens")
	clear()
	clear()
	if want := "\r\x1b[K3 of 8: lens\r\x1b[K"; b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
}
