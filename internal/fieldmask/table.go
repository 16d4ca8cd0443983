package fieldmask

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"
)

// tableReader is how a table of comma-separated numbers is read line by line;
// blank lines are skipped.
type tableReader struct {
	comment func(text string)                 // a line that starts with #
	header  func(text string) error           // the first other line
	row     func(line int, text string) error // every further one
}

// read reads the table and reports whether it has a header. An error names the
// table and the line.
func (t tableReader) read(r io.Reader, name string) (header bool, err error) {
	sc := bufio.NewScanner(r)
	for line := 1; sc.Scan(); line++ {
		text := strings.TrimSpace(strings.TrimPrefix(sc.Text(), "\ufeff"))
		switch {
		case text == "":
		case strings.HasPrefix(text, "#"):
			t.comment(text)
		case !header:
			header, err = true, t.header(text)
		default:
			err = t.row(line, text)
		}
		if err != nil {
			return header, fmt.Errorf("%s:%d: %w", name, line, err)
		}
	}
	if err := sc.Err(); err != nil {
		return header, fmt.Errorf("%s: cannot be read: %w", name, err)
	}
	return header, nil
}

// noComment takes no notice of comments.
func noComment(string) {}

// headerKey is a header line without spaces and capitals.
func headerKey(text string) string { return strings.ToLower(strings.ReplaceAll(text, " ", "")) }

// checkPlace refuses a place outside any field test, degrees.
func checkPlace(x, y float64) error {
	if math.Abs(x) > 90 || math.Abs(y) > 90 {
		return fmt.Errorf("place (%g, %g) degrees lies beyond 90; is it in another unit?", x, y)
	}
	return nil
}
