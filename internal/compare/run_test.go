package compare_test

import (
	"context"
	"errors"
	"image"
	"slices"
	"strings"
	"testing"

	"simview/internal/casefile"
	"simview/internal/compare"
	"simview/internal/scene"
	"simview/internal/unit"
)

// small is a scene that is drawn in a moment: a bar and a lamp by day.
const small = `
title: A bar
good_for: A test.
distance_m: 6
width_deg: 2
height_deg: 1.5
adapt_cdm2: 100
surround_cdm2: 100
pupil: bright
window: {x_deg: 0, y_deg: 0, width_deg: 0.5, height_deg: 0.4}
shapes:
  - rect: {at: [-30, -30], size: [60, 60], cdm2: 100}
  - rect: {at: [-0.2, -0.05], size: [0.4, 0.1], cdm2: 2}
`

func bar(t *testing.T) *scene.Scene {
	t.Helper()
	s, err := scene.Parse("bar.yaml", []byte(small))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// oneEyed is a case whose only eye is a dioptre out of focus.
func oneEyed(t *testing.T) *casefile.Case {
	t.Helper()
	text := `
title: Somebody
invented: true
complaint: Everything is dim.
complaint_eye: right
age_years: 60
eyes:
  right:
    lens: implant
    pupil_bright_mm: 3
    refraction: {kind: manifest, sphere_d: -1, vertex_mm: 0}
    worn_far: {none: true}
checks:
  pinhole: {state: done, words: better}
  macula_seen: {state: not-done}
`
	c, _, err := casefile.Parse("one.yaml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestASheetHasARowPerSceneAndAFilePerPicture(t *testing.T) {
	saved := map[string]image.Rectangle{}
	var told []string
	save := func(name string, m image.Image) error {
		if _, twice := saved[name]; twice {
			t.Errorf("%s is written twice", name)
		}
		saved[name] = m.Bounds()
		return nil
	}
	tell := func(done, of int, next string) { told = append(told, next) }
	sheet, records, err := compare.Run(context.Background(), oneEyed(t), []*scene.Scene{bar(t)}, compare.Options{Eye: unit.Right, Tone: compare.ByScene}, save, tell)
	if err != nil {
		t.Fatal(err)
	}
	if len(sheet.Rows) != 1 || len(sheet.Rows[0].Panels) != 3 || len(records) != 1 || len(records[0].Views) != 3 {
		t.Fatalf("%d rows, %d records", len(sheet.Rows), len(records))
	}
	for _, v := range records[0].Views {
		if _, ok := saved[v.Wide]; !ok {
			t.Errorf("%s: no file %q", v.ID, v.Wide)
		}
		if r, ok := saved[v.Window]; !ok || r.Dx() != 120 || r.Dy() != 96 { // 0.25 minutes of arc a sample
			t.Errorf("%s: window %q is %v", v.ID, v.Window, r)
		}
		if v.PupilMM != 3 || v.Eye != "right" || v.Magnification != 4 {
			t.Errorf("%+v", v)
		}
	}
	// 1 D through 3 mm is a blur of 10 minutes of arc on a bar of 6: seen
	if all := records[0].Views[2]; all.ID != "all" || all.NotVisible {
		t.Errorf("%s: not visible %v", all.ID, all.NotVisible)
	}
	if len(told) < 3 || !strings.HasPrefix(told[0], "A bar: ") {
		t.Errorf("told %q", told)
	}
	if sheet.Sub != `Somebody (invented person). Complaint: "Everything is dim."` || !strings.Contains(sheet.Title, "right eye") {
		t.Errorf("%q, %q", sheet.Title, sheet.Sub)
	}
}

// TestTheChecksStandOnTheSheetInOneOrder; what was not stated is not done.
func TestTheChecksStandOnTheSheetInOneOrder(t *testing.T) {
	quiet := func(int, int, string) {}
	sheet, _, err := compare.Run(context.Background(), oneEyed(t), nil, compare.Options{}, nil, quiet)
	if err != nil {
		t.Fatal(err)
	}
	var names, done []string
	for _, k := range sheet.Checks {
		names = append(names, k.Name)
		if k.Done {
			done = append(done, k.Name+": "+k.Note)
		}
	}
	if want := []string{"pinhole", "other eye covered", "pupil reaction", "macula seen", "capsule seen", "age of the field"}; !slices.Equal(names, want) {
		t.Errorf("checks %q, want %q", names, want)
	}
	if !slices.Equal(done, []string{"pinhole: better"}) {
		t.Errorf("done %q", done)
	}
}

func TestARunStopsWhenAskedOrWhenSavingFails(t *testing.T) {
	quiet := func(int, int, string) {}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	never := func(name string, _ image.Image) error { t.Errorf("saved %s", name); return nil }
	if _, _, err := compare.Run(ctx, oneEyed(t), []*scene.Scene{bar(t)}, compare.Options{Tone: compare.ByScene}, never, quiet); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	full := errors.New("the disk is full")
	fails := func(string, image.Image) error { return full }
	if _, _, err := compare.Run(context.Background(), oneEyed(t), []*scene.Scene{bar(t)}, compare.Options{Tone: compare.ByScene}, fails, quiet); !errors.Is(err, full) {
		t.Errorf("got %v", err)
	}
}
