package main

import (
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

var update = flag.Bool("update", false, "write docs/commands.md anew")

// commands in the order of a job.
var commands = []string{"compare", "render", "sweep", "serve", "field", "blink", "inspect", "explain", "psf", "light", "eye", "check", "scene", "scenes", "causes", "trials", "truesize"}

// inner are the commands of a command.
var inner = map[string][]string{"scene": {"list", "check"}}

const commandsFile = "../../docs/commands.md"

// commandsHead says what no single command's help says.
const commandsHead = `# Commands

This page is what ` + "`simview -h`" + ` and ` + "`simview COMMAND -h`" + ` print; a test compares
them (` + "`go test ./cmd/simview -run Docs -update`" + ` writes it anew).

Exit codes: 0 done; 1 it could not be done (a case with a slip, a full disk,
stopped with Ctrl-C); 2 the command line is wrong. An error is one sentence: what,
where, what was expected, and a hint. Files appear when they are complete.
Completion for your shell: ` + "`simview completion --help`" + `.
`

func commandsPage(t *testing.T) string {
	page := commandsHead + "\n## simview\n\n" + fenced(must(t, "-h").out)
	for _, name := range commands {
		page += "\n## " + name + "\n\n" + fenced(must(t, name, "-h").out)
		for _, in := range inner[name] {
			page += "\n### " + name + " " + in + "\n\n" + fenced(must(t, name, in, "-h").out)
		}
	}
	return page
}

func fenced(text string) string { return "```text\n" + strings.TrimSpace(text) + "\n```\n" }

func TestDocsHoldTheHelpOfEveryCommand(t *testing.T) {
	want := commandsPage(t)
	if *update {
		if err := os.WriteFile(commandsFile, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got := read(t, commandsFile); got != want {
		t.Errorf("%s is not what -h prints; go test ./cmd/simview -run Docs -update", commandsFile)
	}
}

func TestEveryCommandIsInThePage(t *testing.T) {
	known := map[string]bool{"completion": true, "help": true}
	for _, name := range commands {
		known[name] = true
	}
	for _, c := range newRoot(nil, nil).Commands() {
		if !known[c.Name()] {
			t.Errorf("%s is not in the page of commands", c.Name())
		}
	}
}

var (
	// A gain is a factor and has no unit.
	unitSuffix = regexp.MustCompile(`-(mm|m|s|deg|arcmin|px|cdm2|cpd|years|gain)$|^years$`)
	rangeWords = regexp.MustCompile(`[0-9] to [0-9]|[0-9] and up|at most [0-9]`)
)

func TestHelpHasExamplesUnitsAndRanges(t *testing.T) {
	for _, c := range newRoot(nil, nil).Commands() {
		if c.Example == "" || c.Long == "" {
			t.Errorf("%s: no example or no description", c.Name())
		}
		c.Flags().VisitAll(func(f *pflag.Flag) {
			number := strings.HasPrefix(f.Value.Type(), "float64")
			if number && !(unitSuffix.MatchString(f.Name) && rangeWords.MatchString(f.Usage)) {
				t.Errorf("%s: --%s: no unit or no range: %q", c.Name(), f.Name, f.Usage)
			}
		})
	}
}

// TestEveryExampleIsUnderstood runs the examples as far as their files: a
// missing case is the only thing that may be wrong with them.
func TestEveryExampleIsUnderstood(t *testing.T) {
	for _, c := range newRoot(nil, nil).Commands() {
		for _, line := range strings.Split(c.Example, "\n") {
			words := strings.Fields(strings.SplitN(strings.TrimSpace(line), " > ", 2)[0])
			root := newRoot(nil, nil)
			found, rest, err := root.Find(words[1:])
			if err != nil || found.Name() != c.Name() {
				t.Errorf("%q: found %v, %v", line, found.Name(), err)
				continue
			}
			if err := found.ParseFlags(rest); err != nil {
				t.Errorf("%q: %v", line, err)
			}
		}
	}
}
