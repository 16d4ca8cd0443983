package match

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
)

// csvHead names the columns of [WriteCSV].
var csvHead = []string{"number", "kind", "left", "right", "left_label", "right_label", "repeats", "answer", "words", "urgent", "at", "undone"}

// WriteCSV writes one row for each answer: those that count, then those taken
// back. Text that a spreadsheet would take for a formula gets an apostrophe before
// it. Errors: a state that no session could be in, and those of w.
func WriteCSV(w io.Writer, s State) error {
	if err := s.check(); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	rows := [][]string{csvHead}
	for _, t := range s.Trials {
		rows = append(rows, s.row(t, "no"))
	}
	for _, t := range s.Undone {
		rows = append(rows, s.row(t, "yes"))
	}
	if err := c.WriteAll(rows); err != nil {
		return fmt.Errorf("match: writing the table: %w", err)
	}
	return nil
}

// row writes a trial as cells.
func (s State) row(t Trial, undone string) []string {
	labels := s.Setup.Labels()
	name := func(v int) (string, string) {
		if v == Foil {
			return s.Setup.Foil, ""
		}
		return s.Setup.Views[v], labels[v]
	}
	left, leftLabel := name(t.Left)
	right, rightLabel := name(t.Right)
	repeats := ""
	if t.Repeats > 0 {
		repeats = strconv.Itoa(t.Repeats)
	}
	return []string{
		strconv.Itoa(t.Number), string(t.Kind), plain(left), plain(right), leftLabel, rightLabel,
		repeats, string(t.Answer), plain(t.Words), strings.Join(t.Urgent, " "), t.At.Format(time.RFC3339Nano), undone,
	}
}

// plain keeps a cell from being taken for a formula.
func plain(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}

// Export is what [WriteJSON] writes.
type Export struct {
	Session State       `json:"session"`
	Labels  []string    `json:"labels"`
	Result  Result      `json:"result"`
	Beside  *Comparison `json:"beside,omitempty"`
}

// WriteJSON writes the session, its result and, if it is not nil, the comparison
// with the measurements. Errors: those of [Evaluate] and of w.
func WriteJSON(w io.Writer, s State, beside *Comparison) error {
	r, err := Evaluate(s)
	if err != nil {
		return err
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	if err := e.Encode(Export{Session: s, Labels: s.Setup.Labels(), Result: r, Beside: beside}); err != nil {
		return fmt.Errorf("match: writing the session: %w", err)
	}
	return nil
}
