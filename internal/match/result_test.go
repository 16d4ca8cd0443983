package match

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
)

// saying answers a whole session by a rule.
func saying(t *testing.T, s Setup, rule func(Question) Answer) State {
	t.Helper()
	se := begin(t, s, &bytes.Buffer{})
	for range s.Answers {
		q, _, err := se.Next()
		must(t, err)
		_, err = se.Answer(q.Number, rule(q), "words")
		must(t, err)
	}
	return se.State()
}

// prefers chooses the view, then whatever is not the foil, else says no difference.
func prefers(view int) func(Question) Answer {
	return func(q Question) Answer {
		switch {
		case q.Left == q.Right:
			return NoDifference
		case q.Left == view || q.Right == Foil:
			return Left
		case q.Right == view || q.Left == Foil:
			return Right
		}
		return NoDifference
	}
}

func evaluated(t *testing.T, s State) Result {
	t.Helper()
	r, err := Evaluate(s)
	must(t, err)
	return r
}

func TestSomeoneSureIsUnderstood(t *testing.T) {
	for view, name := range four(1).Views {
		r := evaluated(t, saying(t, four(1), prefers(view)))
		first := r.Standings[0]
		if r.Outcome != Decided || r.First != name || first.View != name || first.Rank != 1 || first.Liked.Lo < 0 {
			t.Errorf("%s: %s %s, %+v", name, r.Outcome, r.Why, first)
		}
		if first.Chosen != first.Shown || first.Neither != 0 || r.Standings[3].Chosen != 0 {
			t.Errorf("%s: counts %+v", name, r.Standings)
		}
		c := r.Catches
		if c.SaidAlike != 2 || c.FoilChosen != 0 || c.SaidTheSame != c.Repeated || c.Repeated != 2 {
			t.Errorf("%s: %+v", name, c)
		}
	}
}

func TestOutcomesOtherThanAWinner(t *testing.T) {
	always := func(a Answer) func(Question) Answer { return func(Question) Answer { return a } }
	foil := func(q Question) Answer {
		if q.Left == Foil {
			return Left
		}
		if q.Right == Foil {
			return Right
		}
		return prefers(0)(q)
	}
	left := func(q Question) Answer { // but never the foil
		if q.Left == Foil {
			return Right
		}
		return Left
	}
	short := four(1)
	short.Answers = MinAnswers
	for name, c := range map[string]struct {
		state State
		want  Outcome
		why   string
	}{
		"neither":        {saying(t, four(1), always(Neither)), NoneFits, "the answer was neither"},
		"nothing wrong":  {saying(t, four(1), always(NothingWrong)), SeesNoFault, "nothing is wrong"},
		"no difference":  {saying(t, four(1), always(NoDifference)), NotDependable, "2 of 2"},
		"always left":    {saying(t, four(1), left), NotDecided, "chance"},
		"likes the foil": {saying(t, four(1), foil), NotDependable, "2 of 2"},
		"short":          {saying(t, short, prefers(0)), NotDecided, "16 or more"},
		"not begun":      {begin(t, four(1), &bytes.Buffer{}).State(), NotDecided, "0 answers"},
	} {
		r := evaluated(t, c.state)
		if r.Outcome != c.want || !strings.Contains(r.Why, c.why) {
			t.Errorf("%s: %s (%s), want %s (%s)", name, r.Outcome, r.Why, c.want, c.why)
		}
		if r.First != "" || !strings.Contains(strings.Join(r.Sentences, "\n"), "not settled") {
			t.Errorf("%s: names %q or says nothing of the order: %q", name, r.First, r.Sentences)
		}
	}
}

func TestTheTwoSentencesStandBesideEveryResult(t *testing.T) {
	for _, s := range []State{begin(t, four(1), &bytes.Buffer{}).State(), saying(t, four(1), prefers(0))} {
		if r := evaluated(t, s); !slices.Contains(r.Sentences, Conversation) || !slices.Contains(r.Sentences, NotAgainstTheLoss) {
			t.Errorf("%q", r.Sentences)
		}
	}
}

func TestUrgentWordsComeFirstAlsoFromAnswersTakenBack(t *testing.T) {
	se := begin(t, four(1), &bytes.Buffer{})
	urgent, err := se.Answer(1, SomethingElse, "a black curtain, suddenly")
	must(t, err)
	if !slices.Equal(urgent, []string{"black", "curtain", "suddenly"}) {
		t.Errorf("%q", urgent)
	}
	must(t, se.Undo())
	r := evaluated(t, se.State())
	if len(r.Urgent) != 3 || !strings.HasPrefix(r.Sentences[0], UrgentSentence) || len(r.Said) != 0 {
		t.Errorf("%q %q %v", r.Urgent, r.Sentences, r.Said)
	}
}

func TestTheChanceOfASplitIsThatOfACoin(t *testing.T) {
	const rounding = 1e-12
	near(t, "5 of 10", binomialTwoSided(5, 10), 1, rounding)
	near(t, "none of 10", binomialTwoSided(0, 10), 2.0/1024, rounding)
	// 2 (1 + 10 + 45)/1024, counted by hand; the textbook value of the sign test.
	near(t, "8 of 10", binomialTwoSided(8, 10), 112.0/1024, rounding)
	near(t, "no choices", binomialTwoSided(0, 0), 1, rounding)
}

func measures(effects ...Estimate) []Measured {
	var out []Measured
	for i, v := range four(1).Views {
		out = append(out, Measured{View: v, Effect: effects[i], Words: "as measured"})
	}
	return out
}

func TestAgreementAndDisagreementAreBothSaid(t *testing.T) {
	r := evaluated(t, saying(t, four(1), prefers(1)))
	cylinder := measures(Estimate{1, 0.5, 1.5}, Estimate{3, 2, 4}, Estimate{0, 0, 0.1}, Estimate{1, 0, 5})
	field := measures(Estimate{1, 0.5, 1.5}, Estimate{2, 1, 2.5}, Estimate{0, 0, 0.1}, Estimate{5, 3, 7})
	unsure := measures(Estimate{1, 0.5, 1.5}, Estimate{3, 0, 4}, Estimate{0, 0, 0.1}, Estimate{2, 0, 7})
	says := func(m []Measured) (map[string]string, string) {
		c, err := r.Beside("letters", m)
		must(t, err)
		out := map[string]string{}
		for i, row := range c.Rows {
			out[row.View] = row.Says
			if row.Rank != i+1 {
				t.Errorf("row %d has rank %d", i, row.Rank)
			}
		}
		return out, c.Sentence
	}
	if m, s := says(cylinder); m["cylinder"] != "both" || m["field"] != "neither" || !strings.Contains(s, "they agree") {
		t.Errorf("%v %s", m, s)
	}
	if m, s := says(field); m["cylinder"] != "answers only" || m["field"] != "measurements only" || !strings.Contains(s, "disagree") {
		t.Errorf("%v %s", m, s)
	}
	if m, s := says(unsure); m["cylinder"] != "answers only" || m["field"] != "neither" || !strings.Contains(s, "none clearly first") {
		t.Errorf("%v %s", m, s)
	}
	r = evaluated(t, begin(t, four(1), &bytes.Buffer{}).State())
	if m, s := says(field); m["field"] != "measurements only" || !strings.Contains(s, "name no view (not decided)") {
		t.Errorf("%v %s", m, s)
	}
}

func TestMeasurementsThatDoNotFitAreRefused(t *testing.T) {
	r := evaluated(t, begin(t, four(1), &bytes.Buffer{}).State())
	good := measures(Estimate{}, Estimate{}, Estimate{}, Estimate{})
	for words, bad := range map[string][]Measured{
		`none of "field"`: good[:3],
		"given twice":     append(slices.Clone(good), good[0]),
		"of 5 views":      append(slices.Clone(good), Measured{View: "other"}),
		"in order":        measures(Estimate{1, 2, 3}, Estimate{}, Estimate{}, Estimate{}),
		"three numbers":   measures(Estimate{nan(), 0, 0}, Estimate{}, Estimate{}, Estimate{}),
	} {
		_, err := r.Beside("", bad)
		refused(t, err, words)
	}
}

func TestTheTableHoldsEveryAnswerAndNoFormula(t *testing.T) {
	s := four(1)
	s.Views[0] = "-lens"
	se := begin(t, s, &bytes.Buffer{})
	_, err := se.Answer(1, Left, "=SUM(A1), \"quoted\"\nnext line")
	must(t, err)
	through(t, se, 11)
	must(t, se.Undo())
	var out bytes.Buffer
	must(t, WriteCSV(&out, se.State()))
	rows, err := csv.NewReader(&out).ReadAll()
	must(t, err)
	if len(rows) != 13 || !slices.Equal(rows[0], csvHead) || rows[12][11] != "yes" || rows[1][11] != "no" {
		t.Fatalf("%q", rows)
	}
	if rows[1][8] != "'=SUM(A1), \"quoted\"\nnext line" {
		t.Errorf("words %q", rows[1][8])
	}
	for _, r := range rows[1:] {
		if strings.HasPrefix(r[2], "-") || strings.HasPrefix(r[3], "-") {
			t.Errorf("a cell that a spreadsheet would compute: %q", r)
		}
	}
	if err := WriteCSV(&disk{}, se.State()); !errors.Is(err, errFull) {
		t.Error(err)
	}
}

func TestTheExportReadsBackAsTheSession(t *testing.T) {
	state, _ := story(t)
	var out bytes.Buffer
	c := &Comparison{Sentence: "they agree"}
	must(t, WriteJSON(&out, state, c))
	var e Export
	must(t, json.Unmarshal(out.Bytes(), &e))
	if !bytes.Equal(bytesOf(t, e.Session), bytesOf(t, state)) || e.Beside.Sentence != c.Sentence || len(e.Labels) != 4 {
		t.Errorf("%+v", e)
	}
	if err := WriteJSON(&disk{}, state, nil); !errors.Is(err, errFull) {
		t.Error(err)
	}
}

func TestStatesThatNoSessionCouldBeInAreRefused(t *testing.T) {
	state, _ := story(t)
	for name, change := range map[string]func(*State){
		"a view that is none":    func(s *State) { s.Trials[0].Left = 7 },
		"a trial left out":       func(s *State) { s.Trials = s.Trials[1:] },
		"an answer that is none": func(s *State) { s.Trials[0].Answer = "" },
		"an adjustment of none":  func(s *State) { s.Severity[0].View = 4 },
		"no setup":               func(s *State) { s.Setup = Setup{} },
	} {
		bad := state.clone()
		change(&bad)
		if _, err := Evaluate(bad); err == nil {
			t.Errorf("%s: was evaluated", name)
		}
		if err := WriteCSV(&bytes.Buffer{}, bad); err == nil {
			t.Errorf("%s: was written", name)
		}
	}
}
