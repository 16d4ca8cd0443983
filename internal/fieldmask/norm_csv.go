package fieldmask

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// normHeader is the first line of a table of normal values.
const normHeader = "x_deg_right_eye_format,y_deg,normal_at_age_0_db,change_db_per_year"

// ReadNorm reads a site's own table of age-normal sensitivities: a header line
// "x_deg_right_eye_format,y_deg,normal_at_age_0_db,change_db_per_year", then one
// place a line, temporal x positive for either eye; further columns, blank lines
// and lines that start with # are skipped. It refuses fewer than four places, a
// place given twice, numbers that are missing or not finite, and a place whose
// norm leaves 0 to 50 dB between 20 and 90 years.
func ReadNorm(r io.Reader, name string) (*Norm, error) {
	n := &Norm{Source: name}
	_, err := tableReader{comment: noComment, header: checkNormHeader, row: n.take}.read(r, name)
	if err != nil {
		return nil, err
	}
	if len(n.rows) < 4 {
		return nil, fmt.Errorf("%s: %d places; a table of normal values needs the header %q and at least 4", name, len(n.rows), normHeader)
	}
	return n, nil
}

// checkNormHeader allows further columns.
func checkNormHeader(text string) error {
	if got := headerKey(text); got != normHeader && !strings.HasPrefix(got, normHeader+",") {
		return fmt.Errorf("the header of a table of normal values must be %q (got %q)", normHeader, text)
	}
	return nil
}

// take adds one line of the table.
func (n *Norm) take(_ int, text string) error {
	row, err := parseNorm(text)
	if err != nil {
		return err
	}
	for _, o := range n.rows {
		if o.x == row.x && o.y == row.y {
			return fmt.Errorf("the place (%g, %g) stands twice; keep one", row.x, row.y)
		}
	}
	n.rows = append(n.rows, row)
	return nil
}

// parseNorm reads one line of a table of normal values.
func parseNorm(text string) (normalRow, error) {
	cells := strings.Split(text, ",")
	names := strings.Split(normHeader, ",")
	if len(cells) < len(names) {
		return normalRow{}, fmt.Errorf("expected %d values %s (got %d in %q)", len(names), normHeader, len(cells), text)
	}
	var v [4]float64
	for i := range v {
		x, err := strconv.ParseFloat(strings.TrimSpace(cells[i]), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return normalRow{}, fmt.Errorf("%s must be a finite number (got %q)", names[i], cells[i])
		}
		v[i] = x
	}
	if err := checkPlace(v[0], v[1]); err != nil {
		return normalRow{}, err
	}
	for _, age := range []float64{20, 90} {
		if db := v[2] + v[3]*age; !(db >= 0 && db <= MaxDB) {
			return normalRow{}, fmt.Errorf("the norm at %g years is %.1f dB; expected 0 to %g dB, the change in dB per year negative", age, db, MaxDB)
		}
	}
	return normalRow{v[0], v[1], v[2], v[3]}, nil
}
