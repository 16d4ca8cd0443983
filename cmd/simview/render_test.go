//go:build !race

package main

import (
	"errors"
	"image"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

func rendered(t *testing.T, out string, more ...string) image.Image {
	t.Helper()
	if got := must(t, slices.Concat([]string{"render", "case.yaml"}, small, []string{"-o", out}, more)...); got.out != "" && !noteworthy(more) {
		t.Errorf("says %q", got.out)
	}
	return picture(t, out)
}

func TestARenderIsThePanelOfTheSheet(t *testing.T) {
	long(t)
	bench(t)
	must(t, quick("out", "--trial", "pinhole")...)
	for view, flags := range map[string][]string{
		"reference": {"--view", "reference"}, "cylinder": {"--view", "cylinder"}, "all": nil, "pinhole": {"--trial", "pinhole"},
	} {
		rendered(t, "one.png", flags...)
		if read(t, "one.png") != read(t, "out/photo-"+view+".png") {
			t.Errorf("%s: not the panel of the sheet", view)
		}
	}
}

func TestStrengthChangesThePicture(t *testing.T) {
	long(t)
	bench(t)
	var seen []string
	for _, k := range []string{"0", "1", "3"} {
		rendered(t, "k.png", "--view", "cylinder="+k)
		seen = append(seen, read(t, "k.png"))
	}
	first := seen[0]
	if slices.Sort(seen); len(slices.Compact(seen)) != 3 {
		t.Error("two strengths give the same picture")
	}
	rendered(t, "reference.png", "--view", "reference")
	if first != read(t, "reference.png") {
		t.Error("strength 0 is not the reference")
	}
}

func TestLinearPicturesHaveSixteenBits(t *testing.T) {
	bench(t)
	m, n := rendered(t, "light.png", "--linear"), rendered(t, "screen.png")
	fine := 0 // values that 8 bits cannot hold: their two bytes differ
	b := m.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			_, g, _, _ := m.At(x, y).RGBA()
			if g>>8 != g&0xff {
				fine++
			}
		}
	}
	switch m.(type) {
	case *image.NRGBA64, *image.RGBA64:
	default:
		t.Errorf("%T has not 16 bits", m)
	}
	if fine < b.Dx()*b.Dy()/2 || b != n.Bounds() {
		t.Errorf("%d fine values in %v, the other picture has %v", fine, b, n.Bounds())
	}
}

func TestAPupilIsWiderThanItsMeasurementOnlyOnRequest(t *testing.T) {
	long(t)
	bench(t)
	write(t, "case.yaml", tiny+`    wavefront: {scheme: osa-nm, of: whole-eye, pupil_mm: 2, wavelength_nm: 555, terms_um: {"3,-1": 0.1}}
`)
	for _, want := range []struct {
		file, says string
		flags      []string
	}{
		{"limited.png", "Pupil limited to the 2.0 mm that were measured.", nil},
		{"wide.png", "Extrapolated beyond the 2.0 mm that were measured.", []string{"--extrapolate"}},
	} {
		args := slices.Concat([]string{"render", "case.yaml"}, small, []string{"-o", want.file}, want.flags)
		if got := must(t, args...).out; strings.TrimSpace(got) != want.says {
			t.Errorf("%s: says %q, want %q", want.file, got, want.says)
		}
	}
	if read(t, "limited.png") == read(t, "wide.png") {
		t.Error("--extrapolate changes nothing")
	}
}

func TestOneSceneWithItsWindowAtFullSize(t *testing.T) {
	long(t)
	bench(t)
	must(t, "render", "case.yaml", "--scene", "letters", "-o", "wide.png")
	must(t, "render", "case.yaml", "--scene", "letters", "--window", "-o", "window.png")
	if w := picture(t, "wide.png").Bounds(); w.Dx() != 900 || w.Dy() != 675 { // 15 x 11.25 degrees at 1 minute of arc
		t.Errorf("wide: %v", w)
	}
	if picture(t, "window.png").Bounds().Empty() {
		t.Error("no window")
	}
}

func TestAFailedWriteLeavesTheOldFileAndNoOther(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "view.png")
	write(t, path, "old")
	err := writeFile(path, func(w io.Writer) error {
		if _, err := w.Write(make([]byte, 3<<20)); err != nil { // beyond the buffer: some of it is on the disk
			t.Fatal(err)
		}
		return &os.PathError{Op: "write", Path: "/tmp/.simview-1", Err: syscall.ENOSPC}
	})
	if want := path + ": cannot be written: no space left on device; hint: name another place with -o"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Error("the reason is lost")
	}
	same(t, names(t, dir), []string{"view.png"})
	if read(t, path) != "old" {
		t.Error("the old file is damaged")
	}
}

func TestAFileIsReplacedAsAWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "view.png")
	write(t, path, "a longer old file")
	err := writeFile(path, func(w io.Writer) error {
		if read(t, path) != "a longer old file" {
			t.Error("the old file is gone before the new one is there")
		}
		_, err := io.WriteString(w, "new")
		return err
	})
	if err != nil || read(t, path) != "new" {
		t.Errorf("%v, %q", err, read(t, path))
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o644 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	same(t, names(t, dir), []string{"view.png"})
	if err := writeFile(dir, nil); err == nil || !strings.HasSuffix(err.Error(), ": is a folder; hint: name a file in it with -o") {
		t.Error(err)
	}
}

// noteworthy reports whether flags of render ask for a state of which something is said.
func noteworthy(flags []string) bool {
	return slices.Contains(flags, "--since-blink-s") || slices.Contains(flags, "--trial")
}
