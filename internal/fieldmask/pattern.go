package fieldmask

import (
	"fmt"

	"simview/internal/unit"
)

// Pattern names that are read. "24-2c" is 24-2 with further places near fixation;
// which ones is read from the file, since no open source lists them.
const (
	pattern24  = "24-2"
	pattern24c = "24-2c"
	pattern30  = "30-2"
	pattern10  = "10-2"
	free       = "free"
)

// addedDeg is the distance from fixation within which the added places of 24-2c
// lie, and addedPlaces their usual number (64 places in all, from memory).
const (
	addedDeg    = 10.0
	addedPlaces = 10
)

// Pattern returns the places of a named test pattern for one eye, as the
// patient sees them, row by row from the top and left to right: 24-2 has 54
// places, 30-2 has 76, 10-2 has 68 (DICOM CID 4250 gives the counts and
// spacings), and 24-2c those of 24-2 that it must hold. Any other name is an error;
// "free" has no places of its own.
//
//	30-2: x, y in ±3, ±9, ... ±27 with x² + y² <= 810
//	24-2: the same grid with x² + y² <= 522, and (27, ±3) to the nose
//	10-2: x, y in ±1, ±3, ... ±9 with x² + y² <= 82
func Pattern(name string, side unit.Side) ([]unit.SightPoint, error) {
	switch name {
	case pattern30:
		return square(27, 6, func(x, y int) bool { return x*x+y*y <= 810 }), nil
	case pattern24, pattern24c:
		nose := -27 * int(temple(side))
		return square(27, 6, func(x, y int) bool {
			return x*x+y*y <= 522 || x == nose && y*y == 9
		}), nil
	case pattern10:
		return square(9, 2, func(x, y int) bool { return x*x+y*y <= 82 }), nil
	}
	return nil, fmt.Errorf("pattern: must be 24-2, 24-2c, 30-2, 10-2 or free (got %q)", name)
}

// square lists the places of a square grid from -edge to edge that are kept.
func square(edge, step int, keep func(x, y int) bool) []unit.SightPoint {
	var out []unit.SightPoint
	for y := edge; y >= -edge; y -= step {
		for x := -edge; x <= edge; x += step {
			if keep(x, y) {
				out = append(out, unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)})
			}
		}
	}
	return out
}
