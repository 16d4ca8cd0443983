package sweep

import (
	"context"
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// usual is a small grid with every axis.
func usual() Axes {
	return Axes{
		Scenes: []string{"letters", "fence"}, Eyes: []string{"right", "left"}, PupilsMM: []float64{3, 5},
		Trials: []string{None, "pinhole:diameter_mm=1"}, GazesDeg: []Gaze{{0, 0}, {-2, 3.5}, {8, 0}},
		Severities: []Severity{{"lens", []float64{0, 0.5}}, {"field", []float64{0, 1, 2}}}, Others: Measured,
	}
}

func TestAGridHasEveryCombinationOnceUnderItsOwnName(t *testing.T) {
	cells := usual().Cells()
	if want := 2 * 2 * 2 * 2 * 3 * 2 * 3; len(cells) != want || float64(want) != usual().count() {
		t.Fatalf("%d pictures, %g counted, want %d", len(cells), usual().count(), want)
	}
	seen := map[string]bool{}
	for _, c := range cells {
		if seen[c.File] || strings.ContainsAny(c.File, "/\\:*?\"<>| ") {
			t.Errorf("file %q is there twice or is no plain name", c.File)
		}
		seen[c.File] = true
	}
	wide := usual()
	wide.PupilsMM = append([]float64{2}, wide.PupilsMM...)
	for _, c := range wide.Cells() {
		delete(seen, c.File)
	}
	if len(seen) != 0 {
		t.Errorf("a wider grid lost the names of %d pictures", len(seen))
	}
}

func TestWordsThatAFileNameCannotHoldStayApart(t *testing.T) {
	long := strings.Repeat("long", 30)
	words := []string{"a:b", "a-b", "a/b", "ä", "ö", long + "1", long + "2"}
	seen := map[string]string{}
	for _, w := range words {
		p := plain(w)
		if other, twice := seen[p]; twice {
			t.Errorf("%q and %q are both %q", w, other, p)
		}
		seen[p] = w
	}
}

func TestThePartsMakeUpTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 200).Draw(t, "parts")
		cells := usual().Cells()[:rapid.IntRange(0, 200).Draw(t, "pictures")]
		var got []Cell
		for k := 1; k <= n; k++ {
			part := Part{k, n}.Of(cells)
			if d := len(part) - len(cells)/n; d < 0 || d > 1 {
				t.Fatalf("part %d/%d of %d has %d", k, n, len(cells), len(part))
			}
			got = append(got, part...)
		}
		if !slices.EqualFunc(got, cells, func(a, b Cell) bool { return a.File == b.File }) {
			t.Fatalf("%d parts of %d pictures do not make up the whole", n, len(cells))
		}
	})
}

func TestAPartThatIsNoneIsRefused(t *testing.T) {
	for _, text := range []string{"", "1", "0/2", "3/2", "-1/2", "1/0", "1/2/3", "a/b", "1 /2"} {
		if _, err := ParsePart(text); err == nil {
			t.Errorf("part %q is accepted", text)
		}
	}
	if p, err := ParsePart("2/16"); err != nil || p != (Part{2, 16}) || p.String() != "2/16" {
		t.Errorf("2/16 is read as %v, %v", p, err)
	}
}

func TestGridsThatAreNoneAreRefusedInASentence(t *testing.T) {
	for want, spoil := range map[string]func(*Axes){
		"scenes: is empty":                              func(a *Axes) { a.Scenes = nil },
		"scenes: names letters twice":                   func(a *Axes) { a.Scenes[1] = "letters" },
		"eyes: must be right or left (got \"middle\")":  func(a *Axes) { a.Eyes[0] = "middle" },
		"pupils_mm: must be 1 to 9 (got 0.5)":           func(a *Axes) { a.PupilsMM[0] = 0.5 },
		"pupils_mm: must be 1 to 9 (got NaN)":           func(a *Axes) { a.PupilsMM[0] = math.NaN() },
		"severities: lens: must be 0 to 3 (got 4)":      func(a *Axes) { a.Severities[0].Strengths[0] = 4 },
		"severities: lens: names 0 twice":               func(a *Axes) { a.Severities[0].Strengths[1] = 0 },
		"severities: names lens twice":                  func(a *Axes) { a.Severities[1].Cause = "lens" },
		"severities: lens has no strength":              func(a *Axes) { a.Severities[0].Strengths = nil },
		"gazes_deg: must be from -60 to 60 (got 61,0)":  func(a *Axes) { a.GazesDeg[0] = Gaze{61, 0} },
		"gazes_deg: must be from -60 to 60 (got 0,NaN)": func(a *Axes) { a.GazesDeg[0] = Gaze{0, math.NaN()} },
		"gazes_deg: names 8,0 twice":                    func(a *Axes) { a.GazesDeg[0] = Gaze{8, 0} },
		"other_causes: must be absent or measured":      func(a *Axes) { a.Others = "some" },
		"other_causes: goes with severities":            func(a *Axes) { a.Severities = nil },
		"trials: names none twice":                      func(a *Axes) { a.Trials[1] = None },
		"the grid has 2880000 pictures, at most 1000000": func(a *Axes) {
			a.PupilsMM = nil
			for k := range 60000 {
				a.PupilsMM = append(a.PupilsMM, 1+8*float64(k)/60000)
			}
			a.Severities, a.Others = a.Severities[:1], ""
		},
	} {
		a := usual()
		spoil(&a)
		if err := a.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
	if err := usual().Check(); err != nil {
		t.Error(err)
	}
}

func TestAGridIsReadFromYAML(t *testing.T) {
	before := Axes{Scenes: []string{"letters"}, Eyes: []string{"right"}, GazesDeg: []Gaze{{0, 0}}}
	got, err := Read("grid.yaml", []byte("pupils_mm: [3, 5.5]\nseverities:\n  - {cause: lens, strengths: [0, 1]}\nother_causes: measured\ngazes_deg: [[0, 0], [4, -5]]\n"), before)
	if err != nil || got.count() != 2*2*2 || got.Eyes[0] != "right" || got.Others != Measured || got.GazesDeg[1] != (Gaze{4, -5}) {
		t.Errorf("got %+v, %v", got, err)
	}
	for text, want := range map[string]string{
		"pupil: 3\n":                 "grid.yaml: line 1: unknown field \"pupil\"; expected keys are",
		"pupils_mm: wide\n":          "grid.yaml: line 1: ",
		"":                           "grid.yaml: holds no grid",
		"gazes_deg: [[1]]\n":         "grid.yaml: ",
		"scenes: [a\n":               "grid.yaml: ",
		"scenes: [a]\nscenes: [b]\n": "grid.yaml: ",
	} {
		if _, err := Read("grid.yaml", []byte(text), before); err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: got %q, want %q", text, err, want)
		}
	}
}

func TestTheGridInTheDocsIsOne(t *testing.T) {
	page, err := os.ReadFile("../../docs/sweep.md")
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(string(page), "```yaml\n")
	text, _, _ = strings.Cut(text, "```")
	a, err := Read("docs/sweep.md", []byte(text), Axes{})
	if err != nil || a.Check() != nil || a.count() != 2*2*3*2*4*2*2 {
		t.Errorf("%+v: %v, %v", a, err, a.Check())
	}
}

func TestTheIndexHasALineForEveryPicture(t *testing.T) {
	a := usual()
	lines := strings.Split(strings.TrimSpace(string(a.CSV(a.Cells()))), "\n")
	if lines[0] != "file,scene,eye,pupil_mm,trial,strength_lens,strength_field,gaze_x_deg,gaze_y_deg" {
		t.Errorf("head %q", lines[0])
	}
	if len(lines) != 1+len(a.Cells()) || !strings.HasSuffix(lines[2], ",letters,right,3,,0,0,-2,3.5") {
		t.Errorf("%d lines, the third %q", len(lines), lines[2])
	}
}

func TestEveryPictureIsMadeOnceAndInItsGroupsOrder(t *testing.T) {
	for _, workers := range []int{0, 1, 3, 100} {
		groups := Groups(usual().Cells())
		made, last := make(chan Cell, 1000), 0
		err := Make(t.Context(), groups, workers, each(func(c Cell) error { made <- c; return nil }), func(done int) { last = max(last, done) })
		close(made)
		seen := map[string]int{}
		for c := range made {
			seen[c.File]++
		}
		if want := len(usual().Cells()); err != nil || len(seen) != want || last != want {
			t.Errorf("%d workers: %d different pictures, told %d of %d, %v", workers, len(seen), last, want, err)
		}
	}
	for _, g := range Groups(usual().Cells()) {
		if len(g) != 3 {
			t.Errorf("a group has %d pictures, want the 3 gazes", len(g))
		}
	}
}

func TestAFailureStopsTheRestAndIsTold(t *testing.T) {
	full := errors.New("no space left")
	made := 0
	err := Make(t.Context(), Groups(usual().Cells()), 1, each(func(Cell) error {
		if made == 5 {
			return full
		}
		made++
		return nil
	}), func(int) {})
	if !errors.Is(err, full) || made != 5 {
		t.Errorf("%d made, %v", made, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	err = Make(ctx, Groups(usual().Cells()), 2, each(func(Cell) error { cancel(); return nil }), func(int) {})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

func TestOnlyWhatIsMissingIsLeft(t *testing.T) {
	cells := usual().Cells()
	left := Left(cells, func(file string) bool { return file != cells[7].File })
	if len(left) != 1 || left[0].File != cells[7].File {
		t.Errorf("left %v", left)
	}
}

func TestTheTimeLeftIsThatOfTheRest(t *testing.T) {
	for _, c := range []struct {
		done, of int
		since    time.Duration
		want     string
	}{
		{1, 10, time.Second, ""},
		{10, 10, time.Minute, ""},
		{10, 30, 10 * time.Second, "about 20 s left"},
		{10, 130, 100 * time.Second, "about 20 min left"},
		{10, 100010, 100 * time.Second, "about 278 h left"},
	} {
		if got := TimeLeft(c.done, c.of, c.since); got != c.want {
			t.Errorf("%d of %d after %v: %q, want %q", c.done, c.of, c.since, got, c.want)
		}
	}
}

func each(one func(Cell) error) func() func(Cell) error {
	return func() func(Cell) error { return one }
}
