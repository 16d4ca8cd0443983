package match

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
)

// A line of a log is one JSON object that ends in its sum: the first eight bytes,
// in hexadecimal, of
//
//	SHA-256(sum of the line before, then this line up to the sum)
//
// so that a line cannot be changed, taken out or put elsewhere unseen. It guards
// against accidents, not against forgery.
const (
	sumKey   = `,"sum":"`
	sumBytes = 8
	tailSize = len(sumKey) + 2*sumBytes + len(`"}`)
)

// sumOf chains a line's body to the line before.
func sumOf(before string, body []byte) string {
	h := sha256.New()
	io.WriteString(h, before)
	h.Write(body)
	return hex.EncodeToString(h.Sum(nil)[:sumBytes])
}

// encode writes an event as a line without its end, and returns the line's sum.
func encode(before string, e event) (line []byte, sum string, err error) {
	body, err := json.Marshal(e)
	if err != nil {
		return nil, "", fmt.Errorf("match: an event that cannot be written: %w", err)
	}
	body = body[:len(body)-1] // without the closing brace
	sum = sumOf(before, body)
	return fmt.Appendf(body, `%s%s"}`, sumKey, sum), sum, nil
}

// whole reports whether a line ends as lines do; one that does not was cut off.
func whole(line []byte) bool {
	if len(line) < tailSize {
		return false
	}
	tail := line[len(line)-tailSize:]
	return bytes.HasPrefix(tail, []byte(sumKey)) && bytes.HasSuffix(tail, []byte(`"}`))
}

// decode reads a line that follows on the sum of the line before.
func decode(before string, line []byte) (e event, sum string, err error) {
	if !whole(line) {
		return event{}, "", fmt.Errorf("match: the line is cut off")
	}
	body := line[:len(line)-tailSize]
	sum = sumOf(before, body)
	if string(line[len(body)+len(sumKey):len(line)-2]) != sum {
		return event{}, "", fmt.Errorf("match: the line's sum is wrong")
	}
	d := json.NewDecoder(bytes.NewReader(append(bytes.Clone(body), '}')))
	d.DisallowUnknownFields()
	if err := d.Decode(&e); err != nil {
		return event{}, "", fmt.Errorf("match: the line is no event: %w", err)
	}
	return e, sum, nil
}

// journal appends events to a log. What could not be written is as if it had not
// happened, and the next line begins anew.
type journal struct {
	w    io.Writer
	n    int    // events written
	sum  string // of the last one
	torn bool   // the log may end in half a line
}

// append writes an event and returns it as a reader would find it.
func (j *journal) append(e event) (event, error) {
	e.N = j.n + 1
	line, sum, err := encode(j.sum, e)
	if err != nil {
		return event{}, err
	}
	back, _, err := decode(j.sum, line)
	if err != nil {
		return event{}, err
	}
	text := append(line, '\n')
	if j.torn {
		text = append([]byte{'\n'}, text...)
	}
	n, err := j.w.Write(text)
	if err == nil && n < len(text) {
		err = io.ErrShortWrite
	}
	if err != nil {
		j.torn = true
		return event{}, fmt.Errorf("match: the answer could not be saved and does not count: %w; hint: make room on the disk and answer again", err)
	}
	j.n, j.sum, j.torn = e.N, sum, false
	return back, nil
}
