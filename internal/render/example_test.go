//go:build !race

package render_test

import (
	"fmt"
	"image"
	"image/color"

	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/unit"
)

// The light of a lamp through one dioptre of short sight and a pupil of 4 mm
// fills a disc of 4 mrad.
func ExamplePSF() {
	s := eye.State{Side: unit.Right, PupilMM: 4, Light: 1}
	s = s.With(eye.Part{By: "focus", Plane: eye.Glasses, PathUM: func(x, y float64) float64 { return (x*x + y*y) / 2 }})
	p, err := render.PSF(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %% of the light within 8 minutes of arc\n", 100*p.Encircled(8.0/60))
	// Output: 94 % of the light within 8 minutes of arc
}

// Two pictures differ visibly when enough of them changes enough.
func ExampleVisible() {
	grid := light.GridAround(0, 0, 30, 20, 1.0/60)
	dark, same, spot := light.NewImage(grid), light.NewImage(grid), light.NewImage(grid)
	for i := range 50 { // square minutes of arc
		spot.R[i], spot.G[i], spot.B[i] = 30, 30, 30
	}
	tone := light.Tone{WhiteCdM2: 100}
	fmt.Println(render.Visible(dark, same, tone), render.Visible(dark, spot, tone))
	// Output: false true
}

// A sheet is as wide as four of its panels.
func ExampleSheet_Draw() {
	pic := image.NewNRGBA(image.Rect(0, 0, 200, 150))
	pic.Set(0, 0, color.White)
	s := render.Sheet{Title: "One eye", Rows: []render.Row{{Heading: "A page", Panels: []render.Panel{{Name: "Nothing wrong", Pic: pic}}}}}
	fmt.Println(s.Draw().Rect.Dx(), "pixels")
	// Output: 944 pixels
}
