package scenes

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"simview/internal/scene"
)

var update = flag.Bool("update", false, "write the list of scenes in README.md anew")

const (
	readme    = "README.md"
	listTitle = "## The scenes\n\n"
	listEnd   = "\n## The file\n"
)

// listed is the list as README.md holds it.
func listed(t *testing.T) string {
	t.Helper()
	list, err := Builtins()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString(listTitle)
	b.WriteString("| scene | away, m | degrees | surfaces, cd/m² | eye adapted to | lamps, lux | good for |\n|---|---|---|---|---|---|---|\n")
	for _, s := range list {
		lo, hi := s.Range()
		fmt.Fprintf(&b, "| `%s` | %g | %g x %g | %s to %s | %g, %s pupil | %s | %s |\n",
			s.ID, s.DistanceM, s.WidthDeg, s.HeightDeg, figures(lo, 2), figures(hi, 2), s.AdaptCdM2, pupil(s), lampRange(s), s.GoodFor)
	}
	return b.String()
}

func pupil(s *scene.Scene) string {
	if s.Night {
		return "dim"
	}
	return "bright"
}

func lampRange(s *scene.Scene) string {
	if len(s.Lamps) == 0 {
		return "none"
	}
	lo, hi := s.Lamps[0].Illuminance(), 0.0
	for _, l := range s.Lamps {
		lo, hi = min(lo, l.Illuminance()), max(hi, l.Illuminance())
	}
	return fmt.Sprintf("%d: %s to %s", len(s.Lamps), figures(lo, 1), figures(hi, 1))
}

// figures writes a number with n figures and no exponent.
func figures(v float64, n int) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		panic(err) // it was just written
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func TestTheReadmeListsEverySceneWithItsFacts(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	text, want := string(data), listed(t)
	from, to := strings.Index(text, listTitle), strings.Index(text, listEnd)
	if from < 0 || to < from {
		t.Fatal("README.md has no list of scenes")
	}
	if *update {
		if err := os.WriteFile(readme, []byte(text[:from]+want+text[to:]), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got := text[from:to]; got != want {
		t.Errorf("README.md does not list the scenes as they are; go test ./scenes -run Readme -update writes it\ngot:\n%s\nwant:\n%s", got, want)
	}
}

func TestEveryFileOfTheFolderIsShown(t *testing.T) {
	names, err := filepath.Glob("*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if read[strings.TrimSuffix(name, ".yaml")] == nil {
			t.Errorf("%s is not in the list of scenes", name)
		}
	}
}

// BenchmarkDraw draws each scene at half a minute of arc, as fine as a picture
// ever needs; each should take less than two seconds.
func BenchmarkDraw(b *testing.B) {
	for _, id := range ids {
		s, err := Builtin(id)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(id, func(b *testing.B) {
			for b.Loop() {
				s.Draw(s.Grid(0.5 / 60))
			}
		})
	}
}
