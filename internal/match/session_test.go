package match

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

// clock ticks a second and a bit at each look.
func clock() func() time.Time {
	at := time.Date(2030, 1, 2, 3, 4, 5, 6789, time.FixedZone("", 3600))
	return func() time.Time {
		at = at.Add(1001 * time.Millisecond)
		return at
	}
}

func four(seed uint64) Setup {
	s := Default(seed, "lens", "cylinder", "scatter", "field")
	s.Foil = "upside down"
	return s
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func refused(t *testing.T, err error, words string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), words) {
		t.Errorf("got error %v, want one with %q", err, words)
	}
}

func begin(t *testing.T, s Setup, w *bytes.Buffer) *Session {
	t.Helper()
	se, err := Start(s, w, clock())
	must(t, err)
	return se
}

// through answers a number of questions as somebody would who likes view 1.
func through(t *testing.T, se *Session, answers int) {
	t.Helper()
	p := patient{lambda: []float64{0, 2, 0, 0, 0, 0, 0, 0}, r: rand.New(rand.NewPCG(4, 4))}
	for range answers {
		q, more, err := se.Next()
		must(t, err)
		if !more {
			t.Fatal("no more questions")
		}
		_, err = se.Answer(q.Number, p.answer(q), "")
		must(t, err)
	}
}

func TestASessionHoldsCatchTrialsOfEachKindAndEndsAfterFortyAnswers(t *testing.T) {
	for seed := range uint64(40) {
		se := begin(t, four(seed), &bytes.Buffer{})
		through(t, se, MaxAnswers)
		if _, more, _ := se.Next(); more {
			t.Fatal("a question beyond the last")
		}
		count := map[Kind]int{}
		for _, q := range se.State().Trials {
			count[q.Kind]++
		}
		if count[Identical] != 2 || count[Obvious] != 2 || count[Repeated] != 2 || count[Ordinary] != 34 {
			t.Errorf("seed %d: %v", seed, count)
		}
		_, err := se.Answer(41, Left, "")
		refused(t, err, "all 40 questions are answered")
	}
}

func TestWithoutAFoilNoObviousPairIsAskedAndTheResultSaysSo(t *testing.T) {
	s := four(1)
	s.Foil = ""
	se := begin(t, s, &bytes.Buffer{})
	through(t, se, MaxAnswers)
	r, err := Evaluate(se.State())
	must(t, err)
	if r.Catches.Obvious != 0 || !strings.Contains(strings.Join(r.Sentences, "\n"), "No pair with an obvious answer") {
		t.Errorf("%+v %q", r.Catches, r.Sentences)
	}
}

func TestViewsOfAPairStandLeftAndRightInTurn(t *testing.T) {
	se := begin(t, four(2), &bytes.Buffer{})
	through(t, se, MaxAnswers)
	lead := map[[2]int]int{}
	for _, q := range se.State().Trials {
		if q.Kind == Ordinary || q.Kind == Repeated {
			lead[[2]int{min(q.Left, q.Right), max(q.Left, q.Right)}] += 2*one(q.Left < q.Right) - 1
		}
	}
	for pair, l := range lead {
		if l < -1 || l > 1 {
			t.Errorf("pair %v stands one way round %d times more often", pair, l)
		}
	}
}

func TestTheSeedDecidesQuestionsAndLabels(t *testing.T) {
	run := func(seed uint64) string {
		se := begin(t, four(seed), &bytes.Buffer{})
		through(t, se, 20)
		return fmt.Sprint(se.State().Trials, se.State().Setup.Labels())
	}
	once, again, other := run(5), run(5), run(6)
	if once != again {
		t.Error("the same seed asks otherwise")
	}
	if once == other {
		t.Error("another seed asks the same")
	}
}

func TestLabelsAreNeutralAndDifferent(t *testing.T) {
	places := map[string]bool{}
	for seed := range uint64(50) {
		labels := four(seed).Labels()
		places[labels[0]] = true
		if different := slices.Compact(slices.Sorted(slices.Values(labels))); len(different) != 4 {
			t.Fatal(labels)
		}
		for _, l := range labels {
			if strings.ContainsAny(l, "ABCDE1234567890") {
				t.Errorf("label %q suggests an order", l)
			}
		}
	}
	if len(places) != len(letters) {
		t.Errorf("the first view has been given %d of %d labels", len(places), len(letters))
	}
}

// apart gives n views of which the pairs listed are not told apart.
func apart(n int, alike ...[2]int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = slices.Repeat([]float64{0.9}, n)
	}
	for _, p := range alike {
		m[p[0]][p[1]], m[p[1]][p[0]] = 0.6, 0.6
	}
	return m
}

func TestPairsThatTheFellowEyeCannotTellApartAreNotAsked(t *testing.T) {
	for seed := range uint64(20) {
		s := four(seed)
		s.Apart = apart(4, [2]int{0, 1}, [2]int{0, 2})
		se := begin(t, s, &bytes.Buffer{})
		through(t, se, MaxAnswers)
		for _, q := range se.State().Trials {
			if q.shows(0, 1) || q.shows(0, 2) {
				t.Fatalf("asked %+v", q)
			}
		}
		r, err := Evaluate(se.State())
		must(t, err)
		if len(r.NotAsked) != 2 || !strings.Contains(strings.Join(r.Sentences, "\n"), "lens and cylinder were not compared") {
			t.Errorf("%v %q", r.NotAsked, r.Sentences)
		}
	}
}

func TestAMatchIsNotPossibleWhenTooFewPairsRemain(t *testing.T) {
	s := four(1)
	s.Apart = apart(4, [2]int{0, 1}, [2]int{0, 2}, [2]int{1, 3}, [2]int{2, 3})
	var not NotPossible
	if err := s.Check(); !errors.As(err, &not) || not.Asked != 2 || not.All != 6 {
		t.Errorf("%v", err)
	}
	refused(t, s.Check(), "2 of 6 pairs")
	s.Apart = apart(4, [2]int{3, 0}, [2]int{3, 1}, [2]int{3, 2})
	refused(t, s.Check(), `joins "lens" to "field"`)
	s.Apart = apart(4, [2]int{0, 1}, [2]int{0, 2}, [2]int{1, 2})
	must(t, s.Check())
}

func TestSetupsThatAreNoneAreRefused(t *testing.T) {
	for words, change := range map[string]func(*Setup){
		"1 views":               func(s *Setup) { s.Views = s.Views[:1] },
		"has no name":           func(s *Setup) { s.Views[2] = " " },
		"used twice":            func(s *Setup) { s.Views[2] = "lens" },
		"counting the foil":     func(s *Setup) { s.Foil = "lens" },
		"answers: 41":           func(s *Setup) { s.Answers = 41 },
		"answers: 9":            func(s *Setup) { s.Answers = 9 },
		"seed:":                 func(s *Setup) { s.Seed = 1 << 53 },
		"3 rows for 4 views":    func(s *Setup) { s.Apart = apart(3) },
		"row 1 has 0 numbers":   func(s *Setup) { s.Apart = apart(4); s.Apart[1] = nil },
		"one way and":           func(s *Setup) { s.Apart = apart(4); s.Apart[1][0] = 0.8 },
		"from 0.5 (guessing)":   func(s *Setup) { s.Apart = apart(4); s.Apart[0][1] = 0.4 },
		`telling "lens" from "`: func(s *Setup) { s.Apart = apart(4); s.Apart[0][1] = nan() },
	} {
		s := four(1)
		change(&s)
		refused(t, s.Check(), words)
		if _, err := Start(s, &bytes.Buffer{}, clock()); err == nil {
			t.Errorf("%s: started", words)
		}
	}
}

func TestTheLastAnswerCanBeTakenBackAndIsAskedAgain(t *testing.T) {
	se := begin(t, four(3), &bytes.Buffer{})
	through(t, se, 12)
	q, _, _ := se.Next()
	_, err := se.Answer(q.Number, Left, "oops")
	must(t, err)
	must(t, se.Undo())
	again, _, _ := se.Next()
	if again != q {
		t.Errorf("asked %+v, then %+v", q, again)
	}
	if s := se.State(); len(s.Trials) != 12 || len(s.Undone) != 1 || s.Undone[0].Words != "oops" {
		t.Errorf("%d trials, %+v undone", len(s.Trials), s.Undone)
	}
	for range 12 {
		must(t, se.Undo())
	}
	refused(t, se.Undo(), "nothing to take back")
}

func TestAPausedOrEndedSessionTakesNoAnswers(t *testing.T) {
	se := begin(t, four(3), &bytes.Buffer{})
	must(t, se.Pause())
	_, err := se.Answer(1, Left, "")
	refused(t, err, "paused")
	must(t, se.Resume())
	refused(t, se.Resume(), "not paused")
	through(t, se, 3)
	must(t, se.End())
	_, err = se.Answer(4, Left, "")
	refused(t, err, "ended")
	if _, more, _ := se.Next(); more {
		t.Error("asks on after the end")
	}
}

func TestAnAnswerFromAnotherWindowIsRefusedAndNothingIsLost(t *testing.T) {
	var log bytes.Buffer
	se := begin(t, four(3), &log)
	through(t, se, 5)
	before, size := se.State(), log.Len()
	for _, number := range []int{0, 5, 7, -1, 41} {
		_, err := se.Answer(number, Left, "")
		refused(t, err, "question 6 is next")
	}
	for words, answer := range map[string]Answer{"not known": "perhaps", "needs words": SomethingElse} {
		_, err := se.Answer(6, answer, "")
		refused(t, err, words)
	}
	_, err := se.Answer(6, Neither, "a\xff")
	refused(t, err, "UTF-8")
	_, err = se.Answer(6, Neither, strings.Repeat("é", MaxWords+1))
	refused(t, err, "2001 characters")
	if !bytes.Equal(bytesOf(t, before), bytesOf(t, se.State())) || log.Len() != size {
		t.Error("a refused answer left a trace")
	}
}

func bytesOf(t *testing.T, v any) []byte {
	t.Helper()
	b, err := json.Marshal(v)
	must(t, err)
	return b
}

func TestWhatStateReturnsCanBeChangedWithoutHarm(t *testing.T) {
	se := begin(t, four(3), &bytes.Buffer{})
	through(t, se, 5)
	must(t, se.Adjust(1, BySetting, 0, 3, "times"))
	before := bytesOf(t, se.State())
	s := se.State()
	s.Trials[0].Answer, s.Setup.Views[0], s.Severity[0].Runs[0].Start = Neither, "x", 9
	if !bytes.Equal(before, bytesOf(t, se.State())) {
		t.Error("changing a copy changed the session")
	}
}

func TestNoPairIsRepeatedTwiceOrShownTwiceRunning(t *testing.T) {
	for seed := range uint64(60) {
		se := begin(t, four(seed), &bytes.Buffer{})
		through(t, se, MaxAnswers)
		done := map[int]bool{}
		trials := se.State().Trials
		for k, q := range trials {
			if q.Kind == Repeated && done[q.Repeats] {
				t.Errorf("seed %d: question %d repeated twice", seed, q.Repeats)
			}
			done[q.Repeats] = true
			if k > 0 && q.Kind == Ordinary && trials[k-1].shows(q.Left, q.Right) {
				t.Errorf("seed %d: question %d shows the pair of the one before", seed, q.Number)
			}
		}
	}
}
