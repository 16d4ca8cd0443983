package match

import (
	"bytes"
	"fmt"
	"io"
)

// MaxLog is the size of the largest log that is read, bytes. A session of 40
// answers with all its words is below a megabyte.
const MaxLog = 16 << 20

// Damaged is the error of a log that was changed after it was written. The lines
// before Line are sound, and the record made from them is returned beside it.
type Damaged struct {
	Line   int // from 1
	Reason string
}

// Error names the line.
func (d Damaged) Error() string {
	return fmt.Sprintf("match: line %d of the log is damaged (%s); hint: keep the file, and go on in a new one from the %d lines before", d.Line, d.Reason, d.Line-1)
}

// Record is a log that was read: the state, and notes on what was left out.
type Record struct {
	State State
	Notes []string
	j     journal
}

// accepted is a line that was found sound.
type accepted struct {
	event event
	sum   string
	line  int
}

// Read reads a log. Half a line, as a killed program or a full disk leaves it, is
// left out and noted. Errors: [Damaged] with the record before it; a log without a
// sound first line; one larger than [MaxLog]; what r reports.
func Read(r io.Reader) (Record, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxLog+1))
	if err != nil {
		return Record{}, fmt.Errorf("match: reading the log: %w", err)
	}
	if len(text) > MaxLog {
		return Record{}, fmt.Errorf("match: the log is larger than %d bytes; expected the log of one session", MaxLog)
	}
	rd := reader{}
	for i, line := range bytes.Split(text, []byte{'\n'}) {
		if len(line) > 0 && rd.damage == nil {
			rd.line(i+1, line)
		}
	}
	rec, err := rd.replay()
	rec.j.torn = len(text) > 0 && text[len(text)-1] != '\n'
	return rec, err
}

// reader collects the sound lines of a log.
type reader struct {
	sound  []accepted
	notes  []string
	damage error
}

// sumAt returns the sum of the line that is back lines before the end.
func (rd *reader) sumAt(back int) string {
	if k := len(rd.sound) - back; k > 0 {
		return rd.sound[k-1].sum
	}
	return ""
}

// line takes one line. One whose writing failed though it reached the disk is
// replaced by the one that follows on the same line before it.
func (rd *reader) line(number int, line []byte) {
	if !whole(line) {
		rd.note("line %d: half a line, as a stopped program or a full disk leaves it, was left out", number)
		return
	}
	n := len(rd.sound)
	e, sum, err := decode(rd.sumAt(0), line)
	if err == nil && e.N == n+1 {
		rd.sound = append(rd.sound, accepted{e, sum, number})
		return
	}
	if n > 0 {
		if e, sum, err := decode(rd.sumAt(1), line); err == nil && e.N == n {
			rd.note("line %d: replaced by line %d, because saving it had failed", rd.sound[n-1].line, number)
			rd.sound[n-1] = accepted{e, sum, number}
			return
		}
	}
	rd.damage = Damaged{Line: number, Reason: "its sum does not fit it and the line before"}
}

func (rd *reader) note(format string, args ...any) {
	rd.notes = append(rd.notes, fmt.Sprintf(format, args...))
}

// replay makes the state from the sound lines.
func (rd *reader) replay() (Record, error) {
	rec := Record{Notes: rd.notes}
	for _, a := range rd.sound {
		next, err := rec.State.apply(a.event)
		if err != nil {
			return rec, Damaged{Line: a.line, Reason: err.Error()}
		}
		rec.State = next
		rec.j.n, rec.j.sum = a.event.N, a.sum
	}
	if rd.damage == nil && len(rd.sound) == 0 {
		return rec, fmt.Errorf("match: the log holds no whole line; expected one that opens a session")
	}
	return rec, rd.damage
}
