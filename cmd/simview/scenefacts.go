package main

import (
	"fmt"
	"io"
	"math"

	"simview/internal/light"
	"simview/internal/scene"
	"simview/internal/unit"
)

// sceneBrief is what is said of a scene in a list.
type sceneBrief struct {
	ID        string  `json:"scene"`
	Title     string  `json:"title"`
	GoodFor   string  `json:"good_for"`
	DistanceM float64 `json:"distance_m"`
	WidthDeg  float64 `json:"width_deg"`
	HeightDeg float64 `json:"height_deg"`
	Darkest   float64 `json:"darkest_cdm2"`   // of the surfaces
	Brightest float64 `json:"brightest_cdm2"` // of the surfaces
	AdaptCdM2 float64 `json:"adapting_cdm2"`
}

// sceneFacts is what is said of a scene.
type sceneFacts struct {
	sceneBrief
	Pupil  string      `json:"pupil"`
	Window []float64   `json:"window_deg"` // centre and size
	Lamps  []lampFacts `json:"lamps"`
}

type lampFacts struct {
	Name   string    `json:"name"`
	At     []float64 `json:"at_deg"`
	Lux    float64   `json:"lux"`
	RGB    []float64 `json:"rgb_lux"`
	Arcmin float64   `json:"diameter_arcmin"`
}

// sceneSheet says how the numbers of a linear picture are meant.
type sceneSheet struct {
	Scene   sceneFacts `json:"scene"`
	Columns int        `json:"columns"`
	Rows    int        `json:"rows"`
	StepDeg float64    `json:"deg_per_sample"`
	LeftDeg float64    `json:"left_edge_deg"`
	TopDeg  float64    `json:"top_edge_deg"`
	White   float64    `json:"white_cdm2,omitempty"` // of 65535; absent where numbers are cd/m²
	Axes    string     `json:"axes"`
}

func briefOf(s *scene.Scene) sceneBrief {
	lo, hi := s.Range()
	return sceneBrief{
		ID: s.ID, Title: s.Title, GoodFor: s.GoodFor, DistanceM: s.DistanceM, WidthDeg: s.WidthDeg, HeightDeg: s.HeightDeg,
		Darkest: unit.Figures(lo), Brightest: unit.Figures(hi), AdaptCdM2: s.AdaptCdM2,
	}
}

func factsOf(s *scene.Scene) sceneFacts {
	w := s.Window
	f := sceneFacts{
		sceneBrief: briefOf(s), Pupil: "bright",
		Window: []float64{w.XDeg, w.YDeg, w.WidthDeg, w.HeightDeg}, Lamps: []lampFacts{},
	}
	if s.Night {
		f.Pupil = "dim"
	}
	for _, l := range s.Lamps {
		f.Lamps = append(f.Lamps, lampFacts{
			l.Name,
			[]float64{hundredths(float64(l.At.X)), hundredths(float64(l.At.Y))},
			unit.Figures(l.Illuminance()),
			[]float64{unit.Figures(l.Lux[0]), unit.Figures(l.Lux[1]), unit.Figures(l.Lux[2])},
			unit.Figures(l.DiameterArcmin),
		})
	}
	return f
}

func sheetOf(s *scene.Scene, g light.Grid) sceneSheet {
	return sceneSheet{
		Scene: factsOf(s), Columns: g.W, Rows: g.H, StepDeg: g.StepDeg, LeftDeg: g.LeftDeg, TopDeg: g.TopDeg,
		Axes: "as the patient sees: right +, up +, row 0 at the top; lamps are not in the picture",
	}
}

func (f sceneFacts) print(w io.Writer) error {
	fmt.Fprintf(w, "%s: %s\n", f.ID, f.Title)
	fmt.Fprintf(w, "  good for: %s\n", f.GoodFor)
	fmt.Fprintf(w, "  %g m away, %g x %g degrees; window %g x %g at (%g, %g)\n", f.DistanceM, f.WidthDeg, f.HeightDeg, f.Window[2], f.Window[3], f.Window[0], f.Window[1])
	fmt.Fprintf(w, "  surfaces from %g to %g cd/m², eye adapted to %g cd/m², %s pupil\n", f.Darkest, f.Brightest, f.AdaptCdM2, f.Pupil)
	_, err := fmt.Fprintf(w, "  lamps: %d\n", len(f.Lamps))
	for _, l := range f.Lamps {
		_, err = fmt.Fprintf(w, "    %-32s %9.3g lux at (%g, %g)\n", l.Name, l.Lux, l.At[0], l.At[1])
	}
	return err
}

func hundredths(v float64) float64 { return math.Round(v*100) / 100 }
