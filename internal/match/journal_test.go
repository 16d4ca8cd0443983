package match

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

func nan() float64 { return math.NaN() }

// disk is a writer with room for a number of bytes.
type disk struct {
	bytes.Buffer
	room int
	late bool // the error comes after all was written, as from a failed sync
}

var errFull = errors.New("no space left")

func (d *disk) Write(p []byte) (int, error) {
	if d.late {
		d.Buffer.Write(p)
		return len(p), errFull
	}
	n := min(len(p), d.room)
	d.room -= n
	d.Buffer.Write(p[:n])
	if n < len(p) {
		return n, errFull
	}
	return n, nil
}

// story lets all kinds of things happen and returns the state and the log.
func story(t *testing.T) (State, []byte) {
	t.Helper()
	var log bytes.Buffer
	s := four(8)
	s.Title = "right eye through its glasses; <b> & \u2028 é \x01"
	s.Apart = apart(4, [2]int{0, 2})
	se := begin(t, s, &log)
	through(t, se, 9)
	must(t, se.Undo())
	must(t, se.Pause())
	must(t, se.Resume())
	_, err := se.Answer(9, SomethingElse, "a black curtain\n,\"sum\":\"0123456789abcdef\"}")
	must(t, err)
	must(t, se.Adjust(1, BySetting, 0, 3, "times"))
	for _, v := range []float64{1.0 / 3, 0, 1.5, 3} {
		must(t, se.Set(v))
	}
	must(t, se.Undo())
	must(t, se.Adjust(2, ByStaircase, -1, 1, "D"))
	for k := range 8 {
		must(t, se.Judge(k%3 == 0))
	}
	must(t, se.End())
	return se.State(), log.Bytes()
}

func TestReadingBackGivesTheSameStateByteForByte(t *testing.T) {
	state, log := story(t)
	rec, err := Read(bytes.NewReader(log))
	must(t, err)
	if len(rec.Notes) != 0 {
		t.Errorf("notes: %q", rec.Notes)
	}
	if a, b := bytesOf(t, state), bytesOf(t, rec.State); !bytes.Equal(a, b) {
		t.Errorf("state\n%s\nread back as\n%s", a, b)
	}
	for i, line := range bytes.Split(bytes.TrimSpace(log), []byte("\n")) {
		if !bytes.HasPrefix(line, []byte(`{"n":`)) || !bytes.HasSuffix(line, []byte(`"}`)) {
			t.Errorf("line %d is no JSON object: %s", i, line)
		}
	}
}

func TestALogCutAnywhereGivesTheWholeLinesAndGoesOn(t *testing.T) {
	_, log := story(t)
	first := bytes.IndexByte(log, '\n')
	for cut := first; cut < len(log); cut++ {
		rec, err := Read(bytes.NewReader(log[:cut]))
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		lines := bytes.Count(log[:cut], []byte("\n"))
		atEnd := log[cut] == '\n'
		if rec.j.n != lines+one(atEnd) {
			t.Fatalf("cut at %d: %d events of %d lines", cut, rec.j.n, lines)
		}
		if half := !atEnd && log[cut-1] != '\n'; half != (len(rec.Notes) == 1) {
			t.Fatalf("cut at %d: notes %q", cut, rec.Notes)
		}
		if cut%5 != 0 { // going on needs no test at every byte
			continue
		}
		file := bytes.NewBuffer(bytes.Clone(log[:cut]))
		se := rec.Continue(file, clock())
		if rec.State.Paused {
			must(t, se.Resume())
		}
		if !rec.State.Ended {
			must(t, se.End())
		}
		again, err := Read(file)
		if err != nil || !bytes.Equal(bytesOf(t, again.State), bytesOf(t, se.State())) {
			t.Fatalf("cut at %d: going on: %v", cut, err)
		}
	}
}

func TestALogCutWithinItsFirstLineIsRefused(t *testing.T) {
	_, log := story(t)
	for _, cut := range []int{0, 1, 20, bytes.IndexByte(log, '\n') - 1} {
		_, err := Read(bytes.NewReader(log[:cut]))
		refused(t, err, "no whole line")
	}
}

func TestAFullDiskChangesNothingAndTheAnswerCanBeGivenAgain(t *testing.T) {
	var whole bytes.Buffer
	begin(t, four(1), &whole)
	head := whole.Len()
	for room := range 400 {
		d := &disk{room: head + room}
		se, err := Start(four(1), d, clock())
		must(t, err)
		for d.room > 0 {
			q, _, _ := se.Next()
			before := bytesOf(t, se.State())
			if _, err := se.Answer(q.Number, Neither, ""); err != nil {
				refused(t, err, "does not count")
				if !errors.Is(err, errFull) || !bytes.Equal(before, bytesOf(t, se.State())) {
					t.Fatalf("room %d: %v, or the state changed", room, err)
				}
			}
		}
		q, _, _ := se.Next()
		_, err = se.Answer(q.Number, Neither, "again") // no room for a byte
		if !errors.Is(err, errFull) {
			t.Fatalf("room %d: %v", room, err)
		}
		d.room = 10000
		_, err = se.Answer(q.Number, Neither, "room again")
		must(t, err)
		rec, err := Read(&d.Buffer)
		if err != nil || !bytes.Equal(bytesOf(t, rec.State), bytesOf(t, se.State())) {
			t.Fatalf("room %d: read back: %v %q", room, err, rec.Notes)
		}
	}
}

func TestALineThatWasSavedThoughSavingFailedIsReplacedByTheNext(t *testing.T) {
	d := &disk{room: 1 << 20}
	se, err := Start(four(1), d, clock())
	must(t, err)
	through(t, se, 3)
	d.late = true
	for range 2 {
		_, err = se.Answer(4, Neither, "not counted")
		refused(t, err, "does not count")
	}
	d.late = false
	_, err = se.Answer(4, NoDifference, "counted")
	must(t, err)
	through(t, se, 2)
	rec, err := Read(&d.Buffer)
	must(t, err)
	if len(rec.Notes) != 2 || rec.State.Trials[3].Words != "counted" || len(rec.State.Trials) != 6 {
		t.Errorf("%q %+v", rec.Notes, rec.State.Trials[3])
	}
}

func TestEveryChangedByteIsFound(t *testing.T) {
	_, log := story(t)
	last := bytes.LastIndexByte(log[:len(log)-1], '\n')
	for k := range last {
		bad := bytes.Clone(log)
		bad[k] ^= 1
		rec, err := Read(bytes.NewReader(bad))
		if err == nil {
			t.Fatalf("byte %d of line %d: changed unseen", k, 1+bytes.Count(log[:k], []byte("\n")))
		}
		var damaged Damaged
		if line := 1 + bytes.Count(log[:k], []byte("\n")); line > 1 && (!errors.As(err, &damaged) || rec.j.n > line) {
			t.Fatalf("byte %d: %v, with %d events kept of %d lines", k, err, rec.j.n, line-1)
		}
	}
}

func TestLinesTakenOutOrMovedAreFound(t *testing.T) {
	_, log := story(t)
	lines := bytes.SplitAfter(log, []byte("\n"))
	var damaged Damaged
	for k := 1; k < len(lines)-3; k++ {
		out := bytes.Join(append(append([][]byte{}, lines[:k]...), lines[k+1:]...), nil)
		if _, err := Read(bytes.NewReader(out)); !errors.As(err, &damaged) || damaged.Line != k+1 {
			t.Errorf("line %d taken out: %v", k+1, err)
		}
	}
}

func TestLogsThatAreTooLargeOrCannotBeReadAreRefused(t *testing.T) {
	_, err := Read(io.LimitReader(zeros{}, MaxLog+1))
	refused(t, err, "larger than")
	_, err = Read(io.MultiReader(strings.NewReader("{"), failing{}))
	if !errors.Is(err, errFull) {
		t.Error(err)
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { return len(p), nil }

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errFull }

// forge writes events with right sums, whatever they say.
func forge(events ...event) []byte {
	var out []byte
	sum := ""
	for i, e := range events {
		e.N = i + 1
		var line []byte
		line, sum, _ = encode(sum, e)
		out = append(append(out, line...), '\n')
	}
	return out
}

func TestEventsThatCannotFollowAreRefused(t *testing.T) {
	s := four(1)
	open := event{Kind: opened, Version: version, Setup: &s, At: clock()()}
	other, late := open, open
	other.Version = 2
	late.Setup = nil
	trial := func(q Question) event { return event{Kind: answered, Trial: &Trial{Question: q, Answer: Left}} }
	for words, events := range map[string][]event{
		"version 2":                 {other},
		"with a setup":              {late},
		"opened first":              {{Kind: undone}},
		"and once":                  {open, open},
		"no kind of event":          {open, {Kind: "danced"}},
		"without a question":        {open, {Kind: answered}},
		"views 0 and 4":             {open, trial(Question{Number: 1, Kind: Ordinary, Right: 4})},
		"no ordinary pair":          {open, trial(Question{Number: 1, Kind: Ordinary, Left: Foil, Right: 1})},
		"no identical pair":         {open, trial(Question{Number: 1, Kind: Identical, Right: 1})},
		"no obvious pair":           {open, trial(Question{Number: 1, Kind: Obvious, Right: 1})},
		"no repeated pair":          {open, trial(Question{Number: 1, Kind: Repeated, Right: 1, Repeats: 1})},
		"no odd pair":               {open, trial(Question{Number: 1, Kind: "odd", Right: 1})},
		"without a view":            {open, {Kind: adjusts}},
		"no view is being":          {open, {Kind: set}},
		"adjustment of view 9":      {open, {Kind: adjusts, Adjust: &Adjustment{View: 9}}},
		"expected 1 to 4":           {open, {Kind: adjusts, Adjust: &Adjustment{Method: BySetting, Hi: 1}}},
		"a run starts at 2":         {open, {Kind: adjusts, Adjust: &Adjustment{Method: BySetting, Hi: 1, Runs: []Run{{Start: 2}}}}},
		"two numbers, the second":   {open, {Kind: adjusts, Adjust: &Adjustment{Method: BySetting}}},
		`method "magic"`:            {open, {Kind: adjusts, Adjust: &Adjustment{Method: "magic", Hi: 1}}},
		"the session is not paused": {open, {Kind: resumed}},
	} {
		_, err := Read(bytes.NewReader(forge(events...)))
		refused(t, err, words)
	}
	first := trial(Question{Number: 1, Kind: Ordinary, Left: 0, Right: 1})
	for _, q := range []Question{{2, Repeated, 0, 1, 1}, {2, Repeated, 1, 2, 1}} {
		_, err := Read(bytes.NewReader(forge(open, first, trial(q))))
		refused(t, err, "no repeated pair")
	}
}

func TestALineOfAnotherSessionIsFound(t *testing.T) {
	log := func(seed uint64) [][]byte {
		var b bytes.Buffer
		through(t, begin(t, four(seed), &b), 6)
		return bytes.SplitAfter(b.Bytes(), []byte("\n"))
	}
	mixed := append(log(1)[:3], log(2)[3:]...)
	var damaged Damaged
	if _, err := Read(bytes.NewReader(bytes.Join(mixed, nil))); !errors.As(err, &damaged) || damaged.Line != 4 {
		t.Errorf("lines of two sessions: %v", err)
	}
}

// careless writes less than it was given and says nothing.
type careless struct{}

func (careless) Write(p []byte) (int, error) { return len(p) - 1, nil }

func TestAWriterThatSaysNothingOfAShortWriteIsFoundOut(t *testing.T) {
	if _, err := Start(four(1), careless{}, clock()); !errors.Is(err, io.ErrShortWrite) {
		t.Error(err)
	}
}
