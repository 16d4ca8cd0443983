package scene

import "simview/internal/light"

// Window is the part of a scene that is shown magnified: its centre and its
// size in degrees.
type Window struct {
	XDeg      float64 `yaml:"x_deg"`
	YDeg      float64 `yaml:"y_deg"`
	WidthDeg  float64 `yaml:"width_deg"`
	HeightDeg float64 `yaml:"height_deg"`
}

// Scene is one piece of world, ready to be drawn. It is read by [Parse] or
// made from a photograph by [FromPhoto] and not changed afterwards, so that
// several goroutines may draw it at once.
type Scene struct {
	ID        string  // short name, as typed on the command line
	Title     string  // one line for a caption
	GoodFor   string  // what the scene shows well, one sentence
	DistanceM float64 // distance of what is looked at, in m, above 0

	WidthDeg, HeightDeg float64      // frame of the wide picture, degrees
	AdaptCdM2           float64      // luminance the eye is adapted to, cd/m²
	SurroundCdM2        [3]float64   // light behind and around everything, linear RGB, cd/m²
	Night               bool         // true: the dim pupil applies; false: the bright one
	GlareOff            bool         // true: the white of a photograph is unknown, glare cannot be computed
	Clipped             float64      // share of a photograph's pixels with a channel at its end, 0 to 1
	Window              Window       // the part shown magnified
	Lamps               []light.Lamp // lights that Draw leaves out, in the order of the file

	shapes []shape
	parts  map[string][]shape
	photo  *light.Image

	pictures map[string]*storedPicture
}

// Grid returns the grid of the whole frame at the given step in degrees; it
// panics when the step is not above 0.
func (s *Scene) Grid(stepDeg float64) light.Grid {
	return gridOf(0, 0, s.WidthDeg, s.HeightDeg, stepDeg)
}

// WindowGrid returns the grid of the magnified window at the given step in
// degrees; it panics when the step is not above 0.
func (s *Scene) WindowGrid(stepDeg float64) light.Grid {
	w := s.Window
	return gridOf(w.XDeg, w.YDeg, w.WidthDeg, w.HeightDeg, stepDeg)
}

func gridOf(x, y, width, height, step float64) light.Grid {
	if !(step > 0) {
		panic("scene: grid: the step must be above 0 degrees")
	}
	return light.GridAround(x, y, int(width/step+0.5), int(height/step+0.5), step)
}
