package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"simview/internal/light"
	"simview/internal/scene"
	"simview/internal/studio"
)

// seed is that of every picture.
const seed = 1

// stage is a scene as it is rendered.
type stage struct {
	id     string
	build  func() *studio.World
	camera studio.Camera
	tiles  []tile
	note   func(w io.Writer, c studio.Camera) // prints lamps; may be nil
	white  float64                            // cd/m² shown as white in a look
}

// tile is one stored picture: a part of the scene at a step.
type tile struct {
	name       string // behind the id, but for the frame
	x, y, w, h float64
	stepArcmin float64
	side       int // samples a pixel, each way
}

// The frame with a margin, and everything around it, coarsely.
func frame(side int) tile { return tile{"frame", 0, 0, 30.6, 22.6, 1, side} }
func around() tile        { return tile{"around", 0, 0, 96, 80, 30, 5} }

func (t tile) grid(coarser float64) light.Grid {
	step := t.stepArcmin / 60 * coarser
	return light.GridAround(t.x, t.y, int(t.w/step+0.5), int(t.h/step+0.5), step)
}

func (t tile) file(id string) string {
	if t.name == "frame" {
		return id + ".png"
	}
	return id + "-" + t.name + ".png"
}

func stages() []stage { return []stage{stairs(), kitchen(), sitter(), road(50), road(100)} }

func main() {
	out := flag.String("out", "", "folder for the stored pictures")
	look := flag.String("look", "", "folder for pictures to look at")
	only := flag.String("tile", "all", "one of frame, around and window")
	quick := flag.Bool("quick", false, "a quarter of the samples each way, and fewer paths")
	flag.Parse()
	if err := run(order{*out, *look, *only, *quick}, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "make:", err)
		os.Exit(1)
	}
}

// order is what is asked for: where to put the pictures and which ones.
type order struct {
	out, look, only string
	quick           bool
}

func run(o order, ids []string) error {
	var known []string
	for _, s := range stages() {
		known = append(known, s.id)
	}
	for _, id := range ids {
		k := slices.Index(known, id)
		if k < 0 {
			return fmt.Errorf("there is no rendered scene %q; known are %s", id, strings.Join(known, ", "))
		}
		if err := stages()[k].make(o); err != nil {
			return err
		}
	}
	if len(ids) == 0 {
		return fmt.Errorf("name the scenes to render: %s", strings.Join(known, ", "))
	}
	return nil
}

func (s stage) make(o order) error {
	w := s.build()
	for _, t := range s.tiles {
		if o.only != "all" && o.only != t.name {
			continue
		}
		coarser, side := 1.0, t.side
		if o.quick {
			coarser, side = 4, 2
		}
		start := time.Now()
		f := studio.Take(w, s.camera, t.grid(coarser), side, seed)
		f.Clean()
		m := f.Picture()
		fmt.Fprintf(os.Stderr, "%s: %d x %d in %v, mean %.3g cd/m²\n", t.file(s.id), m.W, m.H, time.Since(start).Round(time.Second), meanOf(m))
		if o.look != "" {
			if err := write(filepath.Join(o.look, t.file(s.id)), s.look(m)); err != nil {
				return err
			}
		}
		if o.out != "" {
			if err := write(filepath.Join(o.out, t.file(s.id)), func(w io.Writer) error { return scene.WritePicture(w, m) }); err != nil {
				return err
			}
		}
	}
	if s.note != nil {
		s.note(os.Stdout, s.camera)
	}
	return nil
}

// look shows a picture as a screen would by day, white at the stage's white.
func (s stage) look(m *light.Image) func(io.Writer) error {
	tone := light.Tone{WhiteCdM2: s.white, MidCdM2: s.white / 5, Curve: light.Photographic}
	return func(w io.Writer) error { return light.WritePNG(w, tone.Encode(m)) }
}

func write(path string, to func(io.Writer) error) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := to(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

func meanOf(m *light.Image) float64 {
	sum := 0.0
	for _, l := range m.Luminance(nil) {
		sum += float64(l)
	}
	return sum / float64(m.Len())
}
