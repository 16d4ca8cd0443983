package web

import (
	"encoding/json"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/scenes"
)

// languages are those of the catalogue; the first is the one that is written first.
var languages = []string{"en", "de"}

func catalogue(t *testing.T) map[string]map[string]string {
	t.Helper()
	data, err := files.ReadFile("page/catalogue.json")
	if err != nil {
		t.Fatal(err)
	}
	return into[map[string]map[string]string](t, string(data))
}

var place = regexp.MustCompile(`\{\d\}`)

func TestEveryWordIsThereInEveryLanguageWithItsPlaces(t *testing.T) {
	for key, words := range catalogue(t) {
		want := place.FindAllString(words["en"], -1)
		slices.Sort(want)
		for _, l := range languages {
			got := place.FindAllString(words[l], -1)
			slices.Sort(got)
			if strings.TrimSpace(words[l]) == "" || !slices.Equal(got, want) {
				t.Errorf("%s: %q in %s has places %v, want %v", key, words[l], l, got, want)
			}
		}
		if len(words) != len(languages) {
			t.Errorf("%s: has %d languages", key, len(words))
		}
	}
}

// scripts returns the page's own modules by name.
func scripts(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	list, err := fs.Glob(files, "page/*.js")
	if err != nil || len(list) < 8 {
		t.Fatal(err, list)
	}
	for _, name := range list {
		data, err := files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[path.Base(name)] = string(data)
	}
	return out
}

var wordAsked = regexp.MustCompile(`\bt\(\s*"([a-z0-9.-]+)"`)

func TestEveryWordThatThePageAsksForIsInTheCatalogue(t *testing.T) {
	known := catalogue(t)
	n := 0
	for name, text := range scripts(t) {
		for _, m := range wordAsked.FindAllStringSubmatch(text, -1) {
			n++
			if known[m[1]] == nil {
				t.Errorf("%s: no words for %s", name, m[1])
			}
		}
	}
	const atLeast = 60
	if n < atLeast {
		t.Errorf("only %d words are asked for: the pattern finds them no more", n)
	}
}

// What the program names by ids has its words: scenes, causes, trials, checks, units.
func TestEveryIDHasItsWords(t *testing.T) {
	known := catalogue(t)
	var keys []string
	list, err := scenes.Builtins()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range list {
		keys = append(keys, "scene."+s.ID)
	}
	for _, id := range cause.Order {
		keys = append(keys, "cause."+string(id), "cause."+string(id)+".plain")
	}
	for _, x := range cause.Trials {
		keys = append(keys, "trial."+x.ID)
	}
	for _, o := range []cause.Outcome{cause.Middle, cause.Better, cause.Worse} {
		keys = append(keys, "outcome."+o.String())
	}
	_, body, _ := fetched(t, "/api/case")
	f := into[facts](t, body)
	for _, k := range f.Checks {
		keys = append(keys, "check."+k.Key)
	}
	for _, e := range f.Eyes {
		for _, c := range e.Causes {
			keys = append(keys, "from."+c.From)
			for _, q := range c.Quantities {
				key, _, _ := strings.Cut(q.Key, "_db_")
				if key != q.Key {
					key += "_db"
				}
				keys = append(keys, "quantity."+key, "unit."+q.Unit, "unit.name."+q.Unit)
			}
		}
	}
	for _, k := range keys {
		if known[k] == nil {
			t.Errorf("no words for %s", k)
		}
	}
}

// Words of the page stand in the catalogue alone, its colours and sides in properties
// that turn round with the direction of writing.
func TestThePageIsReadyForOtherWaysOfWriting(t *testing.T) {
	css, err := files.ReadFile("page/page.css")
	if err != nil {
		t.Fatal(err)
	}
	for _, physical := range []string{"margin-left", "margin-right", "padding-left", "padding-right", "border-left", "border-right", "text-align: left", "text-align: right", " left:", " right:"} {
		if strings.Contains(string(css), physical) {
			t.Errorf("page.css: %s does not turn round with the direction of writing", physical)
		}
	}
}

// The page without pictures stays within 500 kB.
func TestThePageIsLight(t *testing.T) {
	sum := 0
	err := fs.WalkDir(files, "page", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := files.ReadFile(name)
		sum += len(data)
		if strings.HasSuffix(name, ".json") && !json.Valid(data) {
			t.Errorf("%s: is no JSON", name)
		}
		return err
	})
	const most = 500_000
	if err != nil || sum > most {
		t.Errorf("the page weighs %d bytes (%v)", sum, err)
	}
}
