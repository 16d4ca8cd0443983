package main

import (
	"bytes"
	"context"
	"encoding/json"
	"image"
	"image/color"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"simview/internal/compare"
)

// told is what one command line gave.
type told struct {
	code     int
	out, err string
}

func call(t *testing.T, args ...string) told { return callIn(t, context.Background(), args...) }

func callIn(t *testing.T, ctx context.Context, args ...string) told {
	t.Helper()
	var out, err bytes.Buffer
	code := run(ctx, args, &out, &err)
	return told{code, out.String(), err.String()}
}

// must is call for what has to work.
func must(t *testing.T, args ...string) told {
	t.Helper()
	got := call(t, args...)
	if got.code != 0 || got.err != "" {
		t.Fatalf("simview %s: exit code %d, stderr %q", strings.Join(args, " "), got.code, got.err)
	}
	return got
}

// tiny has one cause and one eye, so that a sheet has three views.
const tiny = `title: Pruner who sees branches doubled
invented: true
complaint_eye: left
age_years: 50
eyes:
  left:
    lens: natural
    pupil_bright_mm: 3.0
    pupil_dim_mm: 5.0
    iris_pigment: brown
    refraction: {kind: manifest, sphere_d: 0, cylinder_d: -1.00, axis_deg: 20, vertex_mm: 12}
    worn_far: {none: true}
`

// bench is a folder of its own with a case and a photograph; it becomes the
// current folder.
func bench(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	write(t, "case.yaml", tiny)
	paint(t, "Mrs Miller.png", 60)
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// paint writes a small photograph whose darkest channel has the code low.
func paint(t *testing.T, name string, low uint8) {
	t.Helper()
	m := image.NewNRGBA(image.Rect(0, 0, 24, 18))
	for y := range 18 {
		for x := range 24 {
			m.SetNRGBA(x, y, color.NRGBA{low + uint8(x*7), low + uint8(y*9), low + uint8(x*y%150), 255})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	write(t, name, b.String())
}

// small is a photograph of one degree: the quickest scene there is.
var small = []string{"--photo", "Mrs Miller.png", "--photo-width-deg", "1"}

// quick is a sheet of three views of that photograph.
func quick(dir string, more ...string) []string {
	return slices.Concat([]string{"compare", "case.yaml", "--scene", "", "-o", dir}, small, more)
}

// files returns the content of every file below dir by its name.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		if d.IsDir() {
			if name != "." {
				all[name+"/"] = ""
			}
			return nil
		}
		data, err := os.ReadFile(path)
		all[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	return slices.Sorted(maps.Keys(files(t, dir)))
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func picture(t *testing.T, name string) image.Image {
	t.Helper()
	m, err := png.Decode(strings.NewReader(read(t, name)))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return m
}

func parse(t *testing.T, text string, into any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(text))
	if err := d.Decode(into); err != nil {
		t.Fatalf("not JSON: %v\n%s", err, text)
	}
	if d.More() {
		t.Fatalf("more than one JSON value:\n%s", text)
	}
}

func same(t *testing.T, got, want []string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// long leaves a test of several sheets out of a short run.
func long(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("makes several sheets")
	}
}

// photoSettings is the photograph as flags would give it.
func photoSettings(t *testing.T, white bool) *compare.Photo {
	t.Helper()
	p := &compare.Photo{File: "Mrs Miller.png", WidthDeg: 1, DistanceM: 100}
	if white {
		p.WhiteCdM2 = 200
	}
	return p
}
