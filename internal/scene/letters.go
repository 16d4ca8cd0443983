package scene

import (
	"fmt"
	"math"
	"strings"
)

// LetterArcmin returns the height of a letter of the given logMAR in minutes of
// arc; its strokes are a fifth of that:
//
//	h = 5 x 10^logMAR
func LetterArcmin(logMAR float64) float64 { return 5 * math.Pow(10, logMAR) }

// vSlant is the width of the limbs of the V along the horizontal that makes
// them one unit thick: the root of w = sqrt(1 + ((5-w)/10)^2).
const vSlant = 1.0743

// letterShapes holds the straight-edged letters on a 5 x 5 box, origin at its
// lower left, strokes 1 wide. The parts of a letter never overlap, so that
// their areas add up.
var letterShapes = map[rune][][]pt{
	'H': {{{0, 0}, {1, 0}, {1, 2}, {4, 2}, {4, 0}, {5, 0}, {5, 5}, {4, 5}, {4, 3}, {1, 3}, {1, 5}, {0, 5}}},
	'N': {{{0, 0}, {1, 0}, {1, 11.0 / 3}, {3.75, 0}, {5, 0}, {5, 5}, {4, 5}, {4, 4.0 / 3}, {1.25, 5}, {0, 5}}},
	'Z': {{{0, 0}, {5, 0}, {5, 1}, {2, 1}, {4.25, 4}, {5, 4}, {5, 5}, {0, 5}, {0, 4}, {3, 4}, {0.75, 1}, {0, 1}}},
	'V': {{
		{0, 5},
		{2.5 - vSlant/2, 0},
		{2.5 + vSlant/2, 0},
		{5, 5},
		{5 - vSlant, 5},
		{2.5, 5 - 5*(2.5-vSlant)/(2.5-vSlant/2)},
		{vSlant, 5},
	}},
	'K': {
		{{0, 0}, {1, 0}, {1, 5}, {0, 5}},
		{{1, 1}, {5, 5}, {3.586, 5}, {1, 2.414}},
		{{3.75, 0}, {5, 0}, {2.857, 2.857}, {2.143, 2.143}},
	},
	'D': {{{0, 0}, {1, 0}, {1, 5}, {0, 5}}, {{1, 0}, {2.5, 0}, {2.5, 1}, {1, 1}}, {{1, 4}, {2.5, 4}, {2.5, 5}, {1, 5}}},
	'R': {
		{{0, 0}, {1, 0}, {1, 5}, {0, 5}},
		{{1, 4}, {3.5, 4}, {3.5, 5}, {1, 5}},
		{{1, 2}, {3.5, 2}, {3.5, 3}, {1, 3}},
		{{3.75, 0}, {5, 0}, {3.5, 2}, {2.25, 2}},
	},
	'S': {
		{{1.5, 4}, {3.5, 4}, {3.5, 5}, {1.5, 5}},
		{{1.5, 2}, {3.5, 2}, {3.5, 3}, {1.5, 3}},
		{{1.5, 0}, {3.5, 0}, {3.5, 1}, {1.5, 1}},
	},
	'O': {}, 'C': {},
}

// letterRings holds their round strokes: centre, middle radius, from and to in
// degrees anticlockwise from the right.
var letterRings = map[rune][][5]float64{
	'O': {{2.5, 2.5, 2, 0, 360}},
	'D': {{2.5, 2.5, 2, -90, 90}},
	'R': {{3.5, 3.5, 1, -90, 90}},
	'S': {{1.5, 3.5, 1, 90, 270}, {3.5, 1.5, 1, -90, 90}, {3.5, 3.5, 1, 0, 90}, {1.5, 1.5, 1, 180, 270}},
}

// SloanLetters are the ten letters that can be drawn.
const SloanLetters = "CDHKNORSVZ"

// letterOutline returns a letter on its 5 x 5 box, curves within tol.
func letterOutline(r rune, tol float64) ([][]pt, error) {
	base, ok := letterShapes[r]
	if !ok {
		return nil, fmt.Errorf("letters: %q is not one of the ten letters %s", r, strings.Join(strings.Split(SloanLetters, ""), " "))
	}
	out := append([][]pt(nil), base...)
	for _, k := range letterRings[r] {
		out = append(out, ring(pt{k[0], k[1]}, k[2], k[3]*math.Pi/180, k[4]*math.Pi/180, tol))
	}
	if r == 'C' {
		out = append(out, ringWithGap(tol))
	}
	return out, nil
}

// LetterOutline returns the polygons of one of the [SloanLetters] on a box of 5 x 5
// strokes, origin at its lower left, x to the right and y up, as [x, y]; they do
// not overlap. Curves lie within tol strokes, tol > 0.
func LetterOutline(letter rune, tol float64) ([][][2]float64, error) {
	if !(tol > 0) {
		return nil, fmt.Errorf("letters: tolerance of a curve must be above 0 strokes (got %g)", tol)
	}
	shapes, err := letterOutline(letter, tol)
	if err != nil {
		return nil, err
	}
	out := make([][][2]float64, len(shapes))
	for k, shape := range shapes {
		for _, p := range shape {
			out[k] = append(out[k], [2]float64{p.x, p.y})
		}
	}
	return out, nil
}

// ring is an arc one unit wide.
func ring(c pt, r, a0, a1, tol float64) []pt {
	p := arc(nil, c, r+0.5, r+0.5, a0, a1, tol)
	return arc(p, c, r-0.5, r-0.5, a1, a0, tol)
}

// ringWithGap is the C: a ring less the strip x > 2.5, 2 < y < 3.
func ringWithGap(tol float64) []pt {
	c := pt{2.5, 2.5}
	outer, inner := math.Asin(0.5/2.5), math.Asin(0.5/1.5)
	p := arc(nil, c, 2.5, 2.5, outer, 2*math.Pi-outer, tol)
	return arc(p, c, 1.5, 1.5, 2*math.Pi-inner, inner, tol)
}
