package web

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/png"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"simview/internal/casefile"
	"simview/internal/compare"
	"simview/internal/unit"
	"simview/scenes"
)

func TestAPreviewIsAPictureOfTheScene(t *testing.T) {
	code, body, h := fetched(t, view+"&set=cylinder:1&glasses=refitted&slot=a.1")
	if code != http.StatusOK || h.Get("Content-Type") != "image/png" || h.Get("Simview-Visible") != "" {
		t.Fatalf("%d %v %.80s", code, h, body)
	}
	pic, err := png.Decode(strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	// letters is 15 by 11.25 degrees, samples of 5 minutes of arc
	if got := pic.Bounds().Size(); got.X != 180 || got.Y != 135 {
		t.Errorf("the preview is %v", got)
	}
}

// The sheet of `simview compare` is the second road to a full picture: same eye,
// same exposure, within one step of the display (the dither is the same tile, the
// transforms may round apart).
func TestAFullPictureIsThatOfTheSheet(t *testing.T) {
	if testing.Short() {
		t.Skip("full pictures take seconds")
	}
	c, err := casefile.Demo()
	if err != nil {
		t.Fatal(err)
	}
	s, err := scenes.Builtin("letters")
	if err != nil {
		t.Fatal(err)
	}
	opt := compare.Options{Eye: unit.Right, Tone: compare.ByScene, BothEyes: true}
	shots, err := compare.Shots(c, opt)
	if err != nil {
		t.Fatal(err)
	}
	sheet := map[string]image.Image{}
	save := func(name string, m image.Image) error { sheet[name] = m; return nil }
	keep := []compare.Shot{shots[0]}
	for _, shot := range shots {
		if shot.ID == "cylinder" || shot.ID == "both-eyes" {
			keep = append(keep, shot)
		}
	}
	if _, _, err := compare.RunShots(t.Context(), c, s, opt, keep, save, func(int, int, string) {}); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ q, visible string }{
		"letters-reference.png": {"&glasses=refitted", "false"}, "letters-cylinder.png": {"&glasses=refitted&set=cylinder:1", "true"},
		"letters-both-eyes.png": {"&set=lens:1,cylinder:1,cornea:1,scatter:1,field:1", ""},
	} {
		path := view
		if name == "letters-both-eyes.png" {
			path = strings.Replace(view, "eye=right", "eye=both", 1)
		}
		_, body, h := fetched(t, path+"&size=full"+c.q)
		if c.visible != "" && h.Get("Simview-Visible") != c.visible {
			t.Errorf("%s: visible %q, want %s", name, h.Get("Simview-Visible"), c.visible)
		}
		pic, err := png.Decode(strings.NewReader(body))
		if err != nil {
			t.Fatalf("%s: %v in %.80s", name, err, body)
		}
		if d := farthest(t, pic, sheet[name]); d > 1 {
			t.Errorf("%s: differs by %d steps of the display from the sheet", name, d)
		}
	}
}

func farthest(t *testing.T, a, b image.Image) (most int) {
	t.Helper()
	if b == nil || a.Bounds().Size() != b.Bounds().Size() {
		t.Fatalf("sizes differ: %v and %v", a.Bounds(), b)
	}
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			r, g, bl, _ := a.At(x, y).RGBA()
			r2, g2, b2, _ := b.At(x, y).RGBA()
			for _, d := range []int{int(r>>8) - int(r2>>8), int(g>>8) - int(g2>>8), int(bl>>8) - int(b2>>8)} {
				most = max(most, max(d, -d))
			}
		}
	}
	return most
}

// A view whose question has ended stops before its next step and is not kept.
func TestASupersededViewStops(t *testing.T) {
	c, err := casefile.Demo()
	if err != nil {
		t.Fatal(err)
	}
	h := start(t)
	s, err := New(c, Options{Addr: h.Listener.Addr(), Token: testToken})
	if err != nil {
		t.Fatal(err)
	}
	q, err := url.ParseQuery("scene=letters&eye=right&set=lens:1")
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.read(q)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancelCause(t.Context())
	stop(errSuperseded)
	if p, err := s.studio.picture(ctx, a); !errors.Is(err, errSuperseded) || len(p.png) > 0 {
		t.Errorf("an ended question gave %d bytes, %v", len(p.png), err)
	}
	if s.studio.pictures.has(a.name()) || s.studio.states.has(a.optics()) {
		t.Error("an ended question was worked out all the same")
	}
	p, err := s.studio.picture(t.Context(), a)
	if err != nil || !bytes.HasPrefix(p.png, []byte("\x89PNG")) {
		t.Errorf("the same question, asked again: %v", err)
	}
}

// Scatter and field leave the wavefront alone, so that their views may share a spread;
// any other cause does not.
func TestOnlyScatterAndFieldShareASpread(t *testing.T) {
	c, err := casefile.Demo()
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(c, Options{Addr: start(t).Listener.Addr(), Token: testToken})
	if err != nil {
		t.Fatal(err)
	}
	path := func(set string) (ask, func(x, y float64) float64) {
		q, err := url.ParseQuery("scene=harbour-night&eye=right&glasses=refitted&set=" + set)
		if err != nil {
			t.Fatal(err)
		}
		a, err := s.read(q)
		if err != nil {
			t.Fatal(err)
		}
		e, err := a.state()
		if err != nil {
			t.Fatal(err)
		}
		return a, e.Aperture().PathUM
	}
	a, base := path("cornea:1")
	for set, shared := range map[string]bool{"cornea:1,scatter:2": true, "cornea:1,field:1,scatter:1": true, "cornea:1.1": false, "cornea:1,cylinder:1": false, "cornea:1,lens:0.5": false} {
		b, other := path(set)
		same := true
		for _, r := range []struct{ x, y float64 }{{0, 0}, {1, 0.5}, {-2, 1}, {0.3, -2.2}, {1.5, 1.5}} {
			same = same && base(r.x, r.y) == other(r.x, r.y)
		}
		if named := a.wavefront().optics() == b.wavefront().optics(); named != shared || same != shared {
			t.Errorf("%s: shares a spread %t, has the same wavefront %t, want %t", set, named, same, shared)
		}
	}
}
