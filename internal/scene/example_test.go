package scene_test

import (
	"fmt"
	"strings"

	"simview/internal/light"
	"simview/internal/scene"
)

const door = `title: A dark door in a bright wall
good_for: An example.
distance_m: 6
width_deg: 10
height_deg: 8
adapt_cdm2: 200
surround_cdm2: 200
pupil: bright
window: {x_deg: 0, y_deg: 0, width_deg: 4, height_deg: 3}
lamps:
  - {name: porch lamp, place_m: [0.3, 0.2, 6], candela: 36, diameter_m: 0.1}
shapes:
  - rect: {at: [-1, -3], size: [2, 4.5], cdm2: 10}
`

func ExampleParse() {
	s, err := scene.Parse("door.yaml", []byte(door))
	if err != nil {
		fmt.Println(err)
		return
	}
	img := s.Draw(light.GridAround(0, 0, 3, 1, 1)) // three pixels of one degree
	fmt.Printf("%s: %.0f cd/m²\n", s.ID, img.R)
	fmt.Printf("%s: %.2f lx\n", s.Lamps[0].Name, s.Lamps[0].Illuminance())
	_, err = scene.Parse("door.yaml", []byte(strings.Replace(door, "size", "sise", 1)))
	fmt.Println(err)
	// Output:
	// door: [105 10 105] cd/m²
	// porch lamp: 1.00 lx
	// door.yaml:13: unknown key "sise"; did you mean "size"?
}

func ExampleLetterArcmin() {
	for _, logMAR := range []float64{0, 0.3, 1} {
		fmt.Printf("logMAR %.1f: %.1f minutes of arc\n", logMAR, scene.LetterArcmin(logMAR))
	}
	// Output:
	// logMAR 0.0: 5.0 minutes of arc
	// logMAR 0.3: 10.0 minutes of arc
	// logMAR 1.0: 50.0 minutes of arc
}
