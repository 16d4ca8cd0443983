package cornea

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Layout is how the places of a corneal map are written.
type Layout string

// The layouts, with the first two columns of the file.
const (
	Grid   Layout = "grid"   // x_mm, y_mm: an even square grid, clinician's axes
	Radial Layout = "radial" // ring_mm, angle_deg: distance from the centre, counter-clockwise from the clinician's right
)

// Quantity is what a corneal map holds.
type Quantity string

// The quantities, with the third column of the file.
const (
	Height    Quantity = "height"    // height_um: of the whole surface, positive towards the observer
	Curvature Quantity = "curvature" // curvature_d or curvature_mm: axial (sagittal) power, index 1.3375, or axial radius
)

// sample is one row of a map; for a radial map x and y are ring and angle.
type sample struct {
	x, y, value float64
	line        int
}

// columns says which header belongs to a layout and a quantity.
func columns(l Layout, q Quantity) (places string, values []string) {
	places = "x_mm,y_mm"
	if l == Radial {
		places = "ring_mm,angle_deg"
	}
	if q == Height {
		return places, []string{"height_um"}
	}
	return places, []string{"curvature_d", "curvature_mm"}
}

// limits are the values that a column takes; beyond them the unit is wrong more
// likely than the cornea.
var limits = map[string][2]float64{
	"height_um": {-5000, 5000}, "curvature_d": {20, 100}, "curvature_mm": {3.3, 17},
	"x_mm": {-8, 8}, "y_mm": {-8, 8}, "ring_mm": {0, 8}, "angle_deg": {-360, 360},
}

// readSamples reads the rows of a map and the name of its value column.
func readSamples(r io.Reader, name string, l Layout, q Quantity) ([]sample, string, error) {
	places, values := columns(l, q)
	lines := bufio.NewScanner(r)
	var head []string
	var out []sample
	for n := 1; lines.Scan(); n++ {
		text := strings.TrimSpace(strings.TrimPrefix(lines.Text(), "\ufeff"))
		switch {
		case text == "":
		case head == nil:
			head = strings.Split(text, ",")
			if !isHeader(text, places, values) {
				return nil, "", fmt.Errorf("%s:%d: the first line must be %q (got %.60q); it names layout, quantity and unit", name, n, places+","+strings.Join(values, " or "), text)
			}
		default:
			s, err := readSample(text, head, n)
			if err != nil {
				return nil, "", fmt.Errorf("%s:%d: %w", name, n, err)
			}
			out = append(out, s)
		}
	}
	if err := lines.Err(); err != nil {
		return nil, "", fmt.Errorf("%s: %w", name, err)
	}
	if len(out) < leastSamples {
		return nil, "", fmt.Errorf("%s: %d places; a map needs at least %d", name, len(out), leastSamples)
	}
	return out, head[2], nil
}

// leastSamples is twice the number of terms that are fitted to a map first.
const leastSamples = 56

func isHeader(text, places string, values []string) bool {
	for _, v := range values {
		if text == places+","+v {
			return true
		}
	}
	return false
}

// readSample reads one row and checks its ranges.
func readSample(text string, head []string, line int) (sample, error) {
	cells := strings.Split(text, ",")
	if len(cells) != len(head) {
		return sample{}, fmt.Errorf("%d values; expected %d (%s)", len(cells), len(head), strings.Join(head, ","))
	}
	var v [3]float64
	for i, c := range cells {
		x, err := strconv.ParseFloat(strings.TrimSpace(c), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return sample{}, fmt.Errorf("%s must be a finite number (got %q); a map with holes cannot be used: cut it to the part without any", head[i], c)
		}
		if r := limits[head[i]]; x < r[0] || x > r[1] {
			return sample{}, fmt.Errorf("%s must lie between %g and %g (got %g); %s", head[i], r[0], r[1], x, curvatureDoubt(head[i], x))
		}
		v[i] = x
	}
	return sample{v[0], v[1], v[2], line}, nil
}
