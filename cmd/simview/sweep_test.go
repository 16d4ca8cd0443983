package main

import (
	"context"
	"encoding/json"
	"image"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// sweepLine is a sweep of six small pictures.
func sweepLine(dir string, more ...string) []string {
	return slices.Concat([]string{"sweep", "case.yaml", "--severity", "cylinder=0,1,2", "--gaze-deg", "0,0", "--gaze-deg", "1,0", "-o", dir}, small, more)
}

func TestSweepMakesEveryPictureAndListsIt(t *testing.T) {
	bench(t)
	out := must(t, sweepLine("a")...).out
	if !strings.Contains(out, "a/index.csv: 6 pictures, 6 of them made now; of all 6, 0 are still to be made\n") {
		t.Error(out)
	}
	made := files(t, "a")
	var index sweepIndex
	if err := json.Unmarshal([]byte(made["index.json"]), &index); err != nil {
		t.Fatal(err)
	}
	if len(made) != 8 || len(index.Pictures) != 6 || strings.Count(made["index.csv"], "\n") != 7 {
		t.Errorf("%d files, %d pictures in the index", len(made), len(index.Pictures))
	}
	for _, p := range index.Pictures {
		if !strings.Contains(made[p.File], "left eye; ") || !strings.Contains(made[p.File], "not a diagnosis") {
			t.Errorf("%s: is not there, or does not say what it is", p.File)
		}
	}
	if made["photo_left_cylinder0_gaze0_0.png"] == made["photo_left_cylinder2_gaze0_0.png"] {
		t.Error("two dioptres of cylinder show nothing")
	}
}

func TestSweepIsThePictureThatRenderMakes(t *testing.T) {
	bench(t)
	must(t, sweepLine("a", "--step-arcmin", "1")...)
	must(t, slices.Concat([]string{"render", "case.yaml", "--view", "cylinder=2", "-o", "b.png"}, small)...)
	if a, b := pixels(t, "a/photo_left_cylinder2_gaze0_0.png"), pixels(t, "b.png"); !slices.Equal(a, b) {
		t.Error("sweep and render differ")
	}
}

// pixels returns the pixels of an 8-bit picture.
func pixels(t *testing.T, name string) []uint8 {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	switch m := m.(type) {
	case *image.NRGBA:
		return m.Pix
	case *image.RGBA:
		return m.Pix
	}
	t.Fatalf("%s is a %T", name, m)
	return nil
}

func TestThePartsOfASweepMakeUpTheWholeByteForByte(t *testing.T) {
	bench(t)
	must(t, sweepLine("whole", "--workers", "3")...)
	for _, part := range []string{"3/4", "1/4", "4/4", "2/4"} {
		must(t, sweepLine("parts", "--part", part, "--workers", "1")...)
	}
	sameFiles(t, files(t, "whole"), files(t, "parts"))
}

func TestAWiderSweepKeepsWhatIsThere(t *testing.T) {
	bench(t)
	must(t, sweepLine("a")...)
	before := stamps(t, "a")
	args := sweepLine("a")
	args[3] = "cylinder=0,0.5,1,2"
	if out := must(t, args...).out; !strings.Contains(out, "8 pictures, 2 of them made now") {
		t.Error(out)
	}
	for name, was := range before {
		if now := stamps(t, "a")[name]; strings.HasSuffix(name, ".png") && now != was {
			t.Errorf("%s was made again", name)
		}
	}
}

// stamps are the times at which the files of a folder were written.
func stamps(t *testing.T, dir string) map[string]time.Time {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]time.Time{}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			t.Fatal(err)
		}
		all[e.Name()] = info.ModTime()
	}
	return all
}

// childFolder makes this test's own program a sweep, to be killed.
const childFolder = "SIMVIEW_TEST_SWEEP"

func TestAKilledSweepGoesOnWhereItWas(t *testing.T) {
	if dir := os.Getenv(childFolder); dir != "" {
		os.Exit(run(context.Background(), sweepLine(dir, "--workers", "1"), os.Stdout, os.Stderr))
	}
	bench(t)
	must(t, sweepLine("whole")...)
	child := exec.Command(os.Args[0], "-test.run", "^TestAKilledSweepGoesOnWhereItWas$")
	child.Env = append(os.Environ(), childFolder+"=killed")
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	for countPNG("killed") == 0 {
		time.Sleep(time.Millisecond)
	}
	child.Process.Kill()
	child.Wait()
	before := stamps(t, "killed")
	if n := countPNG("killed"); n == 6 {
		t.Skip("the sweep was faster than its end")
	}
	must(t, sweepLine("killed")...)
	for name, was := range before {
		if now := stamps(t, "killed")[name]; strings.HasSuffix(name, ".png") && !now.Equal(was) {
			t.Errorf("%s was made again", name)
		}
	}
	old := time.Now().Add(-2 * abandoned)
	for name := range before {
		if strings.HasPrefix(name, ".simview-") {
			os.Chtimes(filepath.Join("killed", name), old, old)
		}
	}
	must(t, sweepLine("killed")...)
	sameFiles(t, files(t, "whole"), files(t, "killed"))
}

// countPNG counts those of a folder.
func countPNG(dir string) int {
	found, _ := filepath.Glob(filepath.Join(dir, "*.png"))
	return len(found)
}

func TestAFullDiskStopsASweepThatCanGoOn(t *testing.T) {
	bench(t)
	must(t, sweepLine("whole")...)
	left := 2
	keep := func(path string, m image.Image, text string) error {
		if left == 0 {
			return unwritable(path, &fs.PathError{Op: "write", Path: "/tmp/.simview-1", Err: syscall.ENOSPC})
		}
		left--
		return writeNotedPNG(path, m, text)
	}
	c := sweepInto(keep)
	c.SetContext(t.Context())
	c.SetArgs(sweepLine("full", "--workers", "1")[1:])
	c.SilenceUsage, c.SilenceErrors = true, true
	err := c.Execute()
	if want := "no space left on device; hint: name another place with -o"; err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "simview-1") {
		t.Errorf("got %v, want %q", err, want)
	}
	if n := countPNG("full"); n != 2 {
		t.Errorf("%d pictures, want the 2 that had room", n)
	}
	if out := must(t, sweepLine("full")...).out; !strings.Contains(out, "6 pictures, 4 of them made now") {
		t.Error(out)
	}
	sameFiles(t, files(t, "whole"), files(t, "full"))
}

func TestAStoppedSweepSaysSo(t *testing.T) {
	bench(t)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if got := callIn(t, ctx, sweepLine("a")...); got.code != 1 || !strings.Contains(got.err, "stopped") {
		t.Errorf("%+v", got)
	}
}

func TestSweepRefusesInASentence(t *testing.T) {
	bench(t)
	write(t, "grid.yaml", "pupil: 3\n")
	write(t, "measured.yaml", tiny+"    wavefront: {of: whole-eye, pupil_mm: 6.0, wavelength_nm: 555, scheme: osa-nm, terms_um: {\"4,0\": 0.1}}\n")
	write(t, "none.yaml", "pupils_mm: [0.2]\n")
	for line, want := range map[string]string{
		"sweep --part 3/2":                          "--part: must be k/n with k from 1 to n, as in 2/16 (got \"3/2\")",
		"sweep --workers 0":                         "--workers: must be 1 to 256 (got 0)",
		"sweep --step-arcmin NaN":                   "--step-arcmin: must be 1 to 10 (got NaN)",
		"sweep --severity lens":                     "--severity: must be a cause and its strengths, as in lens=0,0.5,1 (got \"lens\")",
		"sweep --severity lens=":                    "--severity: must be a cause and its strengths",
		"sweep --severity lens=0,x":                 "--severity: strength of lens: must be a number from 0 to 3 (got \"x\")",
		"sweep --severity lens=4":                   "severities: lens: must be 0 to 3 (got 4)",
		"sweep --severity nix=1":                    "--severity: cause \"nix\": the right eye of this case has no such cause",
		"sweep --severity lens=1 --severity lens=2": "severities: names lens twice",
		"sweep case.yaml --severity lens=1":         "--severity: cause \"lens\": the left eye of this case has no such cause",
		"sweep --other-causes measured":             "other_causes: goes with severities",
		"sweep --pupil-mm 0":                        "pupils_mm: must be 1 to 9 (got 0)",
		"sweep measured.yaml --pupil-mm 8":          "--pupil-mm: 8 mm is wider than the 6 mm that were measured of the left eye; hint: --extrapolate",
		"sweep --pupil-mm 3 --pupil-from-light":     "--pupil-mm: does not go with --pupil-from-light",
		"sweep --eye right,middle":                  "eyes: must be right or left (got \"middle\")",
		"sweep case.yaml --eye right":               "case.yaml: describes no right eye",
		"sweep --trial nix":                         "--trial \"nix\": not known",
		"sweep --trial pinhole --same-glasses":      "--same-glasses: does not go with --trial",
		"sweep --gaze-deg 1":                        "--gaze-deg: must be two angles",
		"sweep --gaze-deg 70,0":                     "gazes_deg: must be from -60 to 60 (got 70,0)",
		"sweep --scene nix":                         "--scene: there is no scene \"nix\"",
		"sweep --grid nix.yaml":                     "nix.yaml: cannot be read: no such file or directory; hint: --grid",
		"sweep --grid grid.yaml":                    "grid.yaml: line 1: unknown field \"pupil\"; expected keys are",
		"sweep --grid none.yaml":                    "none.yaml: pupils_mm: must be 1 to 9 (got 0.2)",
		"sweep --outline":                           "--outline: a sweep has no layers",
		"sweep -o case.yaml":                        "output folder case.yaml: cannot be used: not a directory",
		"sweep -o .":                                "output folder .: holds files that simview sweep did not make",
	} {
		got := call(t, strings.Fields(line)...)
		if got.code == 0 || !strings.HasPrefix(got.err, "error: "+want) || got.out != "" && !strings.Contains(line, "-o") {
			t.Errorf("%s: %+v", line, got)
		}
	}
	must(t, sweepLine("a")...)
	if got := call(t, sweepLine("a", "--step-arcmin", "3")...); got.code != 1 || !strings.Contains(got.err, "holds pictures of another case, of other options") {
		t.Errorf("other options: %+v", got)
	}
}

func TestSweepTellsTheTimeLeftOncePerMinuteInALog(t *testing.T) {
	var log strings.Builder
	at := time.Time{}
	tell, clear := sweepProgress(&log, func() time.Time { return at })
	for k := 1; k <= 10; k++ {
		at = at.Add(20 * time.Second)
		tell(k, 100)
	}
	clear()
	if want := "3 of 100, about 32 min left\n6 of 100, about 31 min left\n9 of 100, about 30 min left\n"; log.String() != want {
		t.Errorf("got %q, want %q", log.String(), want)
	}
}

func sameFiles(t *testing.T, want, got map[string]string) {
	t.Helper()
	same(t, slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)))
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s differs", name)
		}
	}
}
