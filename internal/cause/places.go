package cause

import (
	"math"

	"simview/internal/unit"
)

// Place is a scene and a pupil in which to look for a cause.
type Place struct {
	Words   string          // in plain words: "harbour-night through the dim pupil"
	Scene   string          // id of a built-in scene; "" = nowhere
	PupilMM float64         // 0: the pupil that goes with the scene
	Gaze    unit.SightPoint // where the eye looks, degrees from the scene's centre
	At      unit.SightPoint // centre of the part that is meant, degrees
	SizeDeg float64         // width and height of that part; 0 = the whole scene
}

// The built-in scenes' ids, and how far the letter chart reaches from its
// middle, in degrees.
const (
	harbour = "harbour-night"
	table   = "tide-table"
	letters = "letters"
	chartX  = 7.5
	chartY  = 5.7
)

var (
	throughPinhole = Place{Words: "letters through a pinhole of 1.2 mm", Scene: letters, PupilMM: PinholeMM}
	lampsByNight   = Place{Words: "harbour-night through the dim pupil", Scene: harbour}
	// What is scattered out of an even surface comes back from its surround.
	barePaper = Place{Words: "tide-table, on the bare paper at its lower right", Scene: table, At: unit.SightPoint{X: 10.3, Y: -7.8}, SizeDeg: 3}
)

// places says for each cause where it shows and where it must not.
var places = map[ID]struct{ shows, hides Place }{
	Lens:     {lampsByNight, throughPinhole},
	Cylinder: {Place{Words: "tide-table through the bright pupil", Scene: table}, throughPinhole},
	Cornea:   {lampsByNight, throughPinhole},
	Scatter:  {lampsByNight, barePaper},
	Field:    {Place{Words: "tide-table, looking at its middle", Scene: table}, Place{}},
	Rest:     {lampsByNight, throughPinhole},
}

// add appends a cause with the places that show and hide it.
func (e *Eye) add(c Cause) {
	c.Shows, c.Hides = places[c.ID].shows, places[c.ID].hides
	if c.ID == Field {
		c.Hides = e.wholePlace()
	}
	e.Causes = append(e.Causes, c)
}

const (
	asideDeg = 12.0 // how far beside the chart the eye looks
	noiseDB  = 3.0  // a loss that retest noise makes as well; common practice
)

// wholePlace looks for a gaze that brings the letter chart onto a part of the
// field without loss; where there is none it says so.
func (e *Eye) wholePlace() Place {
	for _, k := range []struct {
		x, y  unit.Degrees
		words string
	}{
		{0, -asideDeg, "letters, looking 12 degrees below the chart's middle"},
		{0, asideDeg, "letters, looking 12 degrees above the chart's middle"},
		{-asideDeg, 0, "letters, looking 12 degrees to the left of the chart's middle"},
		{asideDeg, 0, "letters, looking 12 degrees to the right of the chart's middle"},
	} {
		if e.worstLoss(-float64(k.x), -float64(k.y)) <= noiseDB {
			return Place{Words: k.words, Scene: letters, Gaze: unit.SightPoint{X: k.x, Y: k.y}}
		}
	}
	return Place{Words: "nowhere: no part of the field as large as a letter chart is whole"}
}

// worstLoss is the highest loss in dB where the chart lies in the field, its
// middle at (x, y) degrees from fixation.
func (e *Eye) worstLoss(x, y float64) (worst float64) {
	const step = 0.5
	for dy := -chartY; dy <= chartY; dy += step {
		for dx := -chartX; dx <= chartX; dx += step {
			worst = math.Max(worst, e.field.LossDB(x+dx, y+dy))
		}
	}
	return worst
}
