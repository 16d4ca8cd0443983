package match

import (
	"bytes"
	"testing"
)

// FuzzRead holds that no bytes break the reader, and that what it takes for a
// session can be evaluated, exported, gone on with and read again.
func FuzzRead(f *testing.F) {
	s := four(1)
	open := event{Kind: opened, Version: version, Setup: &s, At: clock()()}
	trial := Trial{Question: Question{Number: 1, Kind: Ordinary, Right: 1}, Answer: Left, Words: "black"}
	plan := s.plan(Adjustment{View: 1, Method: ByStaircase, Hi: 3}, 0)
	log := forge(open, event{Kind: answered, Trial: &trial}, event{Kind: adjusts, Adjust: &plan}, event{Kind: judged, Stronger: true}, event{Kind: undone}, event{Kind: paused})
	f.Add(log)
	f.Add(log[:len(log)-9])
	f.Add(bytes.ReplaceAll(log, []byte("\n"), []byte("\n{\n\n")))
	f.Fuzz(func(t *testing.T, text []byte) {
		held(t, text)
		held(t, resealed(text))
	})
}

// resealed gives every line the sum that belongs to it, so that the fuzzer gets
// past the sums.
func resealed(text []byte) []byte {
	var out []byte
	sum := ""
	for _, line := range bytes.Split(text, []byte("\n")) {
		if !whole(line) {
			continue
		}
		body := line[:len(line)-tailSize]
		sum = sumOf(sum, body)
		out = append(append(append(out, body...), sumKey+sum+`"}`...), '\n')
	}
	return out
}

// held checks what has to be true of any log.
func held(t *testing.T, text []byte) {
	rec, err := Read(bytes.NewReader(text))
	if rec.State.Opened.IsZero() {
		if err == nil {
			t.Fatal("a log that opens no session was read without complaint")
		}
		return
	}
	if len(text)%16 == 0 { // slow: thousands of draws
		if _, err := Evaluate(rec.State); err != nil {
			t.Fatal(err)
		}
	}
	for _, a := range rec.State.Severity {
		a.summary("")
		a.Level()
	}
	if err := WriteCSV(&bytes.Buffer{}, rec.State); err != nil {
		t.Fatal(err)
	}
	if err != nil {
		return
	}
	file := bytes.NewBuffer(bytes.Clone(text))
	se := rec.Continue(file, clock())
	if se.End() != nil {
		return // it had ended
	}
	again, err := Read(file)
	if err != nil || !bytes.Equal(bytesOf(t, again.State), bytesOf(t, se.State())) {
		t.Fatalf("gone on with, read back: %v", err)
	}
}
