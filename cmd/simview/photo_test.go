//go:build !race

package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"os"
	"slices"
	"strings"
	"testing"
)

// header is a PNG that says it has that size, and nothing more: enough to be
// refused for its size before any memory is taken.
func header(width, height uint32) string {
	var ihdr bytes.Buffer
	ihdr.WriteString("IHDR")
	binary.Write(&ihdr, binary.BigEndian, []uint32{width, height})
	ihdr.Write([]byte{8, 2, 0, 0, 0})
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	binary.Write(&b, binary.BigEndian, uint32(ihdr.Len()-4))
	b.Write(ihdr.Bytes())
	binary.Write(&b, binary.BigEndian, crc32.ChecksumIEEE(ihdr.Bytes()))
	return b.String()
}

func TestPhotographsThatCannotBeUsedAreRefusedInOneSentence(t *testing.T) {
	bench(t)
	write(t, "empty.png", "")
	write(t, "wide.png", header(50000, 3))
	write(t, "list.txt", "milk, bread")
	write(t, "cut.png", read(t, "Mrs Miller.png")[:60])
	if err := os.Mkdir("album", 0o755); err != nil {
		t.Fatal(err)
	}
	before := names(t, ".")
	for _, r := range []struct {
		flags string
		code  int
		says  string
	}{
		{"--photo empty.png --photo-width-deg 40", 1, "photo empty.png: the file is empty (0 bytes); expected a PNG, JPEG or TIFF picture"},
		{"--photo wide.png --photo-width-deg 40", 1, "photo wide.png: the picture has 50000 x 3 pixels; expected 2 to 16384 a side and at most 64 million in all; save a smaller copy"},
		{"--photo list.txt --photo-width-deg 40", 1, "photo list.txt: the file is not a PNG, JPEG or TIFF picture; its first bytes are 6d 69 6c 6b 2c 20 62 72"},
		{"--photo cut.png --photo-width-deg 40", 1, "photo cut.png: the PNG file is broken: png: invalid format: not enough pixel data"},
		{"--photo album --photo-width-deg 40", 1, "photo album: is not a file; hint: name a PNG, JPEG or TIFF"},
		{"--photo nix.png --photo-width-deg 40", 1, "photo nix.png: cannot be opened; hint: check the path, or say with --photo where it lies now"},
		{"--photo list.txt", 2, "--photo: needs --photo-width-deg; hint: a fist at arm's length is about 10 degrees wide, a phone's main camera takes in about 65"},
		{"--photo list.txt --photo-width-deg NaN", 2, "--photo-width-deg: must be 0.5 to 100 (got NaN)\nhint: simview COMMAND --help"},
		{"--photo list.txt --photo-width-deg 150", 2, "--photo-width-deg: must be 0.5 to 100 (got 150)\nhint: simview COMMAND --help"},
		{"--photo list.txt --photo-width-deg 40 --photo-white-cdm2 0", 2, "--photo-white-cdm2: must be 0.01 to 100000, or be left out (got 0)\nhint: simview COMMAND --help"},
		{"--photo list.txt --photo-width-deg 40 --photo-distance-m -1", 2, "--photo-distance-m: must be 0.1 to 100000 (got -1)\nhint: simview COMMAND --help"},
		{"--photo-width-deg 40", 2, "--photo-width-deg: no photograph is named; hint: --photo FILE names it"},
		{"--photo=", 2, "--photo: no photograph is named; hint: --photo FILE names it"},
	} {
		for _, command := range []string{"compare", "render"} {
			got := call(t, append([]string{command, "case.yaml"}, strings.Fields(r.flags)...)...)
			want := told{r.code, "", "error: " + strings.ReplaceAll(r.says, "COMMAND", command) + "\n"}
			if got != want {
				t.Errorf("%s %s:\ngot  %+v\nwant %+v", command, r.flags, got, want)
			}
		}
	}
	same(t, names(t, "."), before)
}

func TestARenderNeverWritesOverItsOwnInput(t *testing.T) {
	bench(t)
	before := files(t, ".")
	if err := os.Link("Mrs Miller.png", "link.png"); err != nil {
		t.Fatal(err)
	}
	for out, says := range map[string]string{
		"Mrs Miller.png":   "-o: Mrs Miller.png would overwrite Mrs Miller.png, which is read; hint: name another place",
		"./Mrs Miller.png": "-o: ./Mrs Miller.png would overwrite Mrs Miller.png, which is read; hint: name another place",
		"link.png":         "-o: link.png would overwrite Mrs Miller.png, which is read; hint: name another place",
	} {
		got := call(t, slices.Concat([]string{"render", "case.yaml"}, small, []string{"-o", out})...)
		if want := (told{2, "", "error: " + says + "\n"}); got != want {
			t.Errorf("%s: %+v", out, got)
		}
	}
	if got := call(t, slices.Concat([]string{"render", "--scene", "letters"}, small)...); got.code != 2 || got.err != "error: --photo: takes the place of --scene; leave one of them out\nhint: simview render --help\n" {
		t.Errorf("%+v", got)
	}
	write(t, "case.json", tiny)
	if got := call(t, "psf", "case.json", "-o", "case.npy"); got.code != 2 || got.err != "error: -o: case.json would overwrite case.json, which is read; hint: name another place\n" {
		t.Errorf("%+v", got)
	}
	os.Remove("link.png")
	os.Remove("case.json")
	equalFiles(t, files(t, "."), before)
}

func TestThePanelSaysWhenAPhotographHasNoGlare(t *testing.T) {
	bench(t)
	for _, white := range []bool{false, true} {
		p := photoSettings(t, white)
		s, err := openPhoto(p)
		if err != nil {
			t.Fatal(err)
		}
		if s.GlareOff == white || s.ID != "photo" || len(p.SHA256) != 64 {
			t.Errorf("white stated %v: glare off %v, id %q, sum %q", white, s.GlareOff, s.ID, p.SHA256)
		}
	}
}

// The window of a photograph leaves more than half of it free, down to the
// smallest one that has a window, and far into panoramas.
func TestAPhotographsWindowFitsIntoIt(t *testing.T) {
	const magnified = 4 // window step to wide step
	for _, size := range [][2]float64{{0.5, 0.4}, {2, 2}, {3, 2.2}, {12, 9}, {16, 12}, {60, 2}, {100, 80}} {
		w := photoWindow(size[0], size[1])
		if !(w.WidthDeg*magnified <= size[0]/2 && w.HeightDeg*magnified <= size[1]/2) {
			t.Errorf("%v: window %v", size, w)
		}
		if has := w.WidthDeg > 0; has != (min(size[0], size[1]) >= 2) {
			t.Errorf("%v: window %v", size, w)
		}
	}
}

func TestAPhotographOfTwoDegreesHasAWindow(t *testing.T) {
	long(t)
	bench(t)
	must(t, "render", "case.yaml", "--photo", "Mrs Miller.png", "--photo-width-deg", "2.7", "--window", "-o", "window.png")
	got := call(t, slices.Concat([]string{"render", "case.yaml"}, small, []string{"--window"})...)
	if want := (told{2, "", "error: --window: scene photo has no magnified window\nhint: simview render --help\n"}); got != want {
		t.Errorf("%+v", got)
	}
}

// Most photographs have black parts; without a stated white no glare covers
// what little the computation leaves below zero there.
func TestAPhotographWithBlackPartsIsShown(t *testing.T) {
	bench(t)
	paint(t, "black.png", 0)
	must(t, "render", "case.yaml", "--photo", "black.png", "--photo-width-deg", "12")
}
