package fieldmask

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"simview/internal/unit"
)

// Meta is what a field file cannot say by itself and must be stated.
type Meta struct {
	Side    unit.Side
	XIs     string // "as-patient-sees", "nasal-positive" or "right-eye-format"; required
	Pattern string // "24-2", "24-2c", "30-2", "10-2" or "free"; required
	Kind    Kind
	Scale   Scale  // what the dB of sensitivities refer to; zero is the common scale
	Date    string // day of the test as in 2024-05-03, "" when not stated
	Tests   int    // tests that the values are the mean of; 0 means one
	Norm    *Norm  // age norm for sensitivities; nil is the built-in one
}

// MaxDB is the highest dB a field may hold; no field test reaches it.
const MaxDB = 50.0

// ReadCSV reads a field: a header line "x_deg,y_deg,sensitivity_db" or
// "x_deg,y_deg,total_deviation_db", then one place a line; blank lines and lines
// that start with # are skipped, but "# date 2024-05-03" is the day of the test
// and the first line of [WriteCSV] names eye and way of writing x. A sensitivity
// may be written "<0" for a place not seen at the brightest spot; it is read as
// 0 dB and warned of. Sensitivities are turned into the common scale. The name
// stands in every error.
//
// It refuses: a missing or unknown x rule or pattern, a header of the other kind,
// missing or non-finite numbers, dB beyond 50, places given twice, fewer than
// four places, places that are not those of the pattern, and deviations given as
// sensitivities. It warns of nasal or blind-spot points that contradict the eye,
// and of a comment that contradicts what is stated; the field is then used as
// stated, never mended ([Field.Doubts]).
func ReadCSV(r io.Reader, name string, meta Meta) (Field, []Warning, error) {
	f := Field{
		Side: meta.Side, Pattern: meta.Pattern, Kind: meta.Kind, Source: name,
		Date: meta.Date, Tests: meta.Tests, Norm: meta.Norm,
	}
	sign, err := xSign(meta)
	if err == nil {
		err = meta.Scale.Check()
	}
	if err != nil {
		return Field{}, nil, fmt.Errorf("%s: %w", name, err)
	}
	pts, said, warn, err := readLines(r, name, meta.Kind)
	if err != nil {
		return Field{}, nil, err
	}
	for i := range pts {
		if pts[i].At.X != 0 {
			pts[i].At.X *= unit.Degrees(sign)
		}
		if meta.Kind == Sensitivity && pts[i].DB >= 0 {
			pts[i].DB = meta.Scale.ToCommon(pts[i].DB)
		}
	}
	f.Points = pts
	if err := f.Check(); err != nil {
		return Field{}, nil, err
	}
	if f.Date == "" {
		f.Date = said.date
	}
	return f, append(append(warn, said.against(name, meta)...), f.Doubts()...), nil
}

// remarks are what the comments of a file say.
type remarks struct{ date, eye, xIs string }

// take reads one comment.
func (m *remarks) take(text string) {
	text = strings.TrimSpace(strings.TrimPrefix(text, "#"))
	if day, ok := strings.CutPrefix(text, "date "); ok {
		m.date = strings.TrimSpace(day)
		return
	}
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		if eye, ok := strings.CutSuffix(part, " eye"); ok && (eye == "right" || eye == "left") {
			m.eye = eye
		}
		if x, ok := strings.CutPrefix(part, "x "); ok && !strings.Contains(x, " ") { // a sentence is none
			m.xIs = x
		}
	}
}

// against returns where the comments contradict what is stated.
func (m remarks) against(name string, meta Meta) (out []Warning) {
	for _, c := range [][3]string{
		{"day of the test", m.date, meta.Date},
		{"eye", m.eye, meta.Side.String()},
		{"way of writing x", m.xIs, meta.XIs},
	} {
		if c[1] != "" && c[2] != "" && c[1] != c[2] {
			out = append(out, Warning(fmt.Sprintf("%s: a comment in the file gives the %s as %s, but %s is stated; %s is used", name, c[0], c[1], c[2], c[2])))
		}
	}
	return out
}

// xSign returns the factor that turns x as written into x as the patient sees.
func xSign(meta Meta) (float64, error) {
	if meta.Side != unit.Right && meta.Side != unit.Left {
		return 0, fmt.Errorf("field: the eye must be right or left (got %v)", meta.Side)
	}
	switch meta.XIs {
	case "as-patient-sees":
		return 1, nil
	case "nasal-positive":
		return -temple(meta.Side), nil
	case "right-eye-format":
		return temple(meta.Side), nil
	case "":
		return 0, fmt.Errorf("field: how x is written is missing; state as-patient-sees, nasal-positive or right-eye-format")
	}
	return 0, fmt.Errorf("field: x must be as-patient-sees, nasal-positive or right-eye-format (got %q)", meta.XIs)
}

// columnOf names the value column of a kind.
func columnOf(k Kind) string {
	if k == TotalDeviation {
		return "total_deviation_db"
	}
	return "sensitivity_db"
}

// readLines reads comments, header and points in file order, x and dB as
// written.
func readLines(r io.Reader, name string, kind Kind) (pts []Point, said remarks, warn []Warning, err error) {
	header := "x_deg,y_deg," + columnOf(kind)
	seenHeader, err := tableReader{
		comment: said.take,
		header: func(text string) error {
			if headerKey(text) != header {
				return fmt.Errorf("the header must be %q for a field given as %s (got %q)", header, kind, text)
			}
			return nil
		},
		row: func(line int, text string) error {
			p, unseen, err := parsePoint(text, kind)
			if unseen && err == nil {
				warn = append(warn, Warning(fmt.Sprintf("%s:%d: not seen at the brightest spot (%s); taken as 0 dB, the loss is at least this much", name, line, text)))
			}
			p.Line = line
			pts = append(pts, p)
			return err
		},
	}.read(r, name)
	if err == nil && !seenHeader {
		err = fmt.Errorf("%s: empty; expected the header %q and one place a line", name, header)
	}
	return pts, said, warn, err
}

// parsePoint reads one line "x,y,dB".
func parsePoint(text string, kind Kind) (p Point, unseen bool, err error) {
	cells := strings.Split(text, ",")
	if len(cells) != 3 {
		return p, false, fmt.Errorf("expected 3 values x_deg,y_deg,%s (got %d in %q)", columnOf(kind), len(cells), text)
	}
	var v [3]float64
	for i, c := range cells {
		c = strings.TrimSpace(c)
		what := [...]string{"x_deg", "y_deg", columnOf(kind)}[i]
		if i == 2 && kind == Sensitivity && strings.ReplaceAll(c, " ", "") == "<0" {
			unseen = true
			continue
		}
		if c == "" {
			return p, false, fmt.Errorf("%s is missing; a place not tested is left out of the file, never left empty", what)
		}
		if v[i], err = strconv.ParseFloat(c, 64); err != nil {
			return p, false, fmt.Errorf("%s must be a number (got %q)", what, c)
		}
	}
	return Point{At: unit.SightPoint{X: unit.Degrees(v[0]), Y: unit.Degrees(v[1])}, DB: v[2]}, unseen, checkNumbers(v)
}

// checkNumbers refuses what is not finite or outside any field test.
func checkNumbers(v [3]float64) error {
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("every number must be finite (got %v)", v)
		}
	}
	if err := checkPlace(v[0], v[1]); err != nil {
		return err
	}
	if math.Abs(v[2]) > MaxDB {
		return fmt.Errorf("%g dB is beyond %g; expected perimetric dB, 10 log10", v[2], MaxDB)
	}
	return nil
}

// WriteCSV writes the field in the form [ReadCSV] reads, x as the patient sees,
// sensitivities on the common scale.
func WriteCSV(w io.Writer, f Field) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "# %s eye, %s, x as-patient-sees\n", f.Side, f.Pattern)
	if f.Date != "" {
		fmt.Fprintf(b, "# date %s\n", f.Date)
	}
	fmt.Fprintf(b, "x_deg,y_deg,%s\n", columnOf(f.Kind))
	for _, p := range f.Points {
		fmt.Fprintf(b, "%g,%g,%g\n", p.At.X, p.At.Y, p.DB)
	}
	return b.Flush()
}
