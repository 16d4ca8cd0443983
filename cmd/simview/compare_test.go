package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"simview/internal/compare"
)

// panels are what quick makes; the photograph's own name, which may tell whose
// it is, is in none of them.
var panels = []string{"photo-all.png", "photo-cylinder.png", "photo-reference.png", "record.json", "sheet.png"}

func TestASheetItsPanelsAndItsRecordAreAllThereIs(t *testing.T) {
	bench(t)
	got := must(t, quick("out")...)
	if want := filepath.Join("out", "sheet.png") + "\n" + compare.Notice[0] + "\n"; got.out != want {
		t.Errorf("got %q, want %q", got.out, want)
	}
	same(t, names(t, "out"), panels)
	same(t, names(t, "."), append([]string{"Mrs Miller.png", "case.yaml", "out/"}, prefixed("out/", panels)...))
	for _, n := range panels {
		if strings.HasSuffix(n, ".png") && picture(t, "out/"+n).Bounds().Empty() {
			t.Errorf("%s is empty", n)
		}
	}
	if b := picture(t, "out/photo-all.png").Bounds(); b.Dx() != 60 || b.Dy() != 45 { // 1 minute of arc a sample
		t.Errorf("one degree is %v samples", b)
	}
}

func prefixed(with string, names []string) []string {
	var out []string
	for _, n := range names {
		out = append(out, with+n)
	}
	return out
}

func TestRunningAgainIntoTheSameFolderGivesTheSame(t *testing.T) {
	long(t)
	bench(t)
	must(t, quick("out")...)
	before := files(t, "out")
	must(t, quick("out")...)
	equalFiles(t, files(t, "out"), before)
}

func equalFiles(t *testing.T, got, want map[string]string) {
	t.Helper()
	for n := range want {
		if got[n] != want[n] {
			t.Errorf("%s differs", n)
		}
	}
	for n := range got {
		if _, ok := want[n]; !ok {
			t.Errorf("%s is new", n)
		}
	}
}

func TestTheRecordAloneGivesTheSameBytes(t *testing.T) {
	long(t)
	bench(t)
	must(t, quick("out", "--trial", "pinhole", "--all-but", "--gaze-deg", "0.2,-0.1", "--photo-white-cdm2", "200")...)
	if err := os.Remove("case.yaml"); err != nil {
		t.Fatal(err)
	}
	must(t, "compare", "--record", "out/record.json", "-o", "again")
	equalFiles(t, files(t, "again"), files(t, "out"))

	if err := os.Rename("Mrs Miller.png", "moved.png"); err != nil {
		t.Fatal(err)
	}
	got := call(t, "compare", "--record", "out/record.json", "-o", "third")
	if want := "error: photo Mrs Miller.png: cannot be opened; hint: check the path, or say with --photo where it lies now\n"; got.err != want || got.code != 1 {
		t.Errorf("%+v", got)
	}
	must(t, "compare", "--record", "out/record.json", "--photo", "moved.png", "-o", "third")
	third := files(t, "third")
	for _, n := range names(t, "out") {
		if n != marker && third[n] != files(t, "out")[n] {
			t.Errorf("%s differs", n)
		}
	}
	paint(t, "moved.png", 61)
	got = call(t, "compare", "--record", "out/record.json", "--photo", "moved.png", "-o", "fourth")
	if want := "error: photo moved.png: is not the file of the record (check sums differ); hint: restore the original photograph\n"; got.err != want || got.code != 1 {
		t.Errorf("%+v", got)
	}
}

func TestTheRecordHoldsTheFieldFilesOfItsCase(t *testing.T) {
	long(t)
	second, err := filepath.Abs("../../testdata/cases")
	if err != nil {
		t.Fatal(err)
	}
	bench(t)
	for _, n := range []string{"second.yaml", "second-left-24-2.csv"} {
		write(t, n, read(t, filepath.Join(second, n)))
	}
	must(t, slices.Concat([]string{"compare", "second.yaml", "--scene", "", "-o", "out"}, small)...)
	os.Remove("second.yaml")
	os.Remove("second-left-24-2.csv")
	must(t, "compare", "--record", "out/record.json", "-o", "again")
	equalFiles(t, files(t, "again"), files(t, "out"))
	same(t, names(t, "out"), []string{"photo-all.png", "photo-cornea.png", "photo-cylinder.png", "photo-field.png", "photo-reference.png", "photo-scatter.png", "photo-unexplained.png", "record.json", "sheet.png"})
}

func TestAFolderWithSomebodysFilesIsRefusedAndUntouched(t *testing.T) {
	bench(t)
	for name, text := range map[string]string{
		"letter.txt":  "Dear",
		"record.json": `{"artist": "somebody", "title": "a record of another kind"}`,
	} {
		dir := t.TempDir()
		write(t, filepath.Join(dir, name), text)
		before := files(t, dir)
		got := call(t, quick(dir)...)
		if want := "error: output folder " + dir + ": holds files that simview did not make; hint: name a new folder with -o\n"; got.err != want || got.code != 1 {
			t.Errorf("%s: %+v", name, got)
		}
		equalFiles(t, files(t, dir), before)
	}
}

func TestPicturesOfAnEarlierRunGoAndOtherFilesStay(t *testing.T) {
	long(t)
	bench(t)
	must(t, quick("out", "--all-but")...)
	write(t, "out/notes.txt", "mine")
	must(t, quick("out")...)
	same(t, names(t, "out"), slices.Sorted(slices.Values(append([]string{"notes.txt"}, panels...))))
}

func TestARecordCannotNameFilesElsewhere(t *testing.T) {
	long(t)
	bench(t)
	write(t, "keep.png", "mine")
	must(t, quick("out")...)
	text := read(t, "out/record.json")
	write(t, "out/record.json", strings.Replace(text, `"photo-cylinder.png"`, `"../keep.png"`, 1))
	must(t, quick("out")...)
	if read(t, "keep.png") != "mine" {
		t.Error("a file outside the folder was touched")
	}
}

func TestAPhotographInTheOutputFolderIsNotWrittenOver(t *testing.T) {
	long(t)
	bench(t)
	must(t, quick("out")...)
	before := files(t, "out")
	got := call(t, "compare", "case.yaml", "--scene", "", "--photo", "out/photo-all.png", "--photo-width-deg", "1", "-o", "out")
	if want := "error: -o: out/photo-all.png would overwrite out/photo-all.png, which is read; hint: name another place\n"; got.err != want || got.code != 2 {
		t.Errorf("%+v", got)
	}
	equalFiles(t, files(t, "out"), before)
}

// stopping is a context that ends when it has been asked a number of times.
type stopping struct {
	context.Context
	left atomic.Int32
}

func (s *stopping) Err() error {
	if s.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

func TestStoppingInTheMiddleLeavesEverythingAsItWas(t *testing.T) {
	long(t)
	bench(t)
	must(t, quick("old")...)
	before := files(t, "old")
	for _, views := range []int32{1, 3} { // in the middle; after the sheet is drawn
		for _, dir := range []string{"old", "new"} {
			ctx := &stopping{Context: t.Context()}
			ctx.left.Store(views)
			got := callIn(t, ctx, quick(dir, "--gaze-deg", "1,1")...)
			if (got != told{1, "", "stopped; nothing half-written was left behind\n"}) {
				t.Errorf("after %d views: %+v", views, got)
			}
		}
		equalFiles(t, files(t, "old"), before)
		if _, err := os.Stat("new"); err == nil {
			t.Error("an empty folder is left")
		}
	}
	for _, args := range [][]string{append([]string{"render", "case.yaml"}, small...), {"psf", "case.yaml"}} {
		ctx := &stopping{Context: t.Context()}
		if got := callIn(t, ctx, args...); (got != told{1, "", "stopped; nothing half-written was left behind\n"}) {
			t.Errorf("%v: %+v", args, got)
		}
	}
	same(t, names(t, "."), append([]string{"Mrs Miller.png", "case.yaml", "old/"}, prefixed("old/", panels)...))
}

func TestLeftoversOfAKilledRunDoNotBlockAFolder(t *testing.T) {
	long(t)
	bench(t)
	if err := os.MkdirAll("out/.simview-123", 0o755); err != nil {
		t.Fatal(err)
	}
	must(t, quick("out")...)
}

func TestAFullDiskLosesNothing(t *testing.T) {
	bench(t)
	dir := t.TempDir()
	// 48 kB hold the panels, not the sheet.
	if err := exec.Command("mount", "-t", "tmpfs", "-o", "size=48k", "simview-test", dir).Run(); err != nil {
		t.Skip("a small disk cannot be mounted here (root is needed):", err)
	}
	defer exec.Command("umount", dir).Run()
	write(t, filepath.Join(dir, "record.json"), `{"simview_record": 1}`)
	before := files(t, dir)
	got := call(t, quick(dir)...)
	if want := "error: " + dir + "/sheet.png: cannot be written: no space left on device; hint: name another place with -o\n"; got.err != want || got.code != 1 {
		t.Errorf("got %+v, want %q", got, want)
	}
	equalFiles(t, files(t, dir), before)
}

func TestAFolderThatMayNotBeWrittenIsRefused(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write everywhere")
	}
	bench(t)
	if err := os.Mkdir("shut", 0o555); err != nil {
		t.Fatal(err)
	}
	if got := call(t, quick("shut")...); got.err != "error: output folder shut: cannot be used: permission denied; hint: name another with -o\n" || got.code != 1 {
		t.Errorf("%+v", got)
	}
}
