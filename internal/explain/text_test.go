package explain

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/unit"
)

// made is a story written by hand: two causes, one of which cancels part of the
// other.
func made() *Story {
	row := func(v float64) []Estimate {
		e := Estimate{Value: v, Low: v - 0.1, High: v + 0.1, ModelLow: v - 0.2, ModelHigh: v + 0.2}
		return []Estimate{e, e, e}
	}
	light := func(name string) Light {
		return Light{
			Name: name, PupilMM: 3, Sure: row(0.3), SurrogateRMS: []float64{0, 0, 0},
			Causes: []CauseRow{
				{ID: cause.Lens, Label: "Displaced lens", Same: row(0.4), Renewed: row(0.4), Share: row(0.4)},
				{ID: cause.Cornea, Label: "Irregular cornea", Same: row(-0.1), Renewed: row(-0.1), Share: row(-0.1)},
			},
		}
	}
	return &Story{
		Case: "Made up", Eye: "right", Notice: compare.Notice, Lights: []Light{light("bright"), light("dim")}, Settled: true,
		Checks: []Check{{Name: "pinhole", Done: true}, {Name: "macula seen"}},
	}
}

func written(t *testing.T, s *Story, whole bool) string {
	t.Helper()
	var b bytes.Buffer
	if err := s.Write(&b, whole); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// inOrder fails unless all words stand in the text, one after the other.
func inOrder(t *testing.T, text string, words ...string) {
	t.Helper()
	at := 0
	for _, w := range words {
		k := strings.Index(text[at:], w)
		if k < 0 {
			t.Fatalf("%q is not in its place in\n%s", w, text)
		}
		at += k + len(w)
	}
}

func TestAShareBelowZeroPartlyCancels(t *testing.T) {
	text := written(t, made(), false)
	inOrder(t, text, "SHARE OF EACH CAUSE", "-0.10", "Irregular cornea, bright pupil: its share of letters is below zero: it partly cancels")
	if strings.Contains(text, "Displaced lens, bright pupil: its share") || strings.Contains(strings.Split(text, "SHARE OF EACH")[1], "SHARE OF EACH") {
		t.Error("the lens cancels nothing")
	}
}

// TestNumbersOfSharesStandBelowEachOther, whatever the length of their labels.
func TestNumbersOfSharesStandBelowEachOther(t *testing.T) {
	s := made()
	s.Unexplained = Unexplained{Known: true, Gap: Estimate{Value: 0.3}}
	_, part, _ := strings.Cut(written(t, s, false), "SHARE OF EACH CAUSE")
	rows := strings.Split(part, "\n")
	at := strings.Index(rows[1], "letters")
	for label, number := range map[string]string{"Displaced lens": "+0.40", "Irregular cornea": "-0.10", "they add up to": "+0.00", notExplained: "+0.30"} {
		k := slices.IndexFunc(rows, func(row string) bool { return strings.HasPrefix(strings.TrimSpace(row), label) })
		if k < 0 || strings.Index(rows[k], number) != at {
			t.Errorf("%s: %s does not stand in column %d of\n%s", label, number, at, part)
		}
	}
}

func TestWhatIsNotKnownIsSaidBeforeAnyShare(t *testing.T) {
	s := made()
	inOrder(t, written(t, s, false), "NOT DONE: MACULA SEEN", "not explained by this case", "unknown: no measured acuity", "WHAT CHANGES IF ONLY", "SHARE OF EACH CAUSE", "a share is not what treatment would give back", "not explained")
	s.Unexplained = Unexplained{Known: true, Measured: 0.6, Gap: Estimate{Value: 0.3}, Notice: notModelled}
	inOrder(t, written(t, s, false), "macula, retina, capsule, swelling of the cornea, vitreous", "WHAT CHANGES IF ONLY", "SHARE OF EACH CAUSE")
}

// TestTheWholeStoryIsToldInItsOrder of a real eye, in text and in JSON.
func TestTheWholeStoryIsToldInItsOrder(t *testing.T) {
	s := story(t)
	text := written(t, s, true)
	inOrder(t, text, "Illustrations for discussion", "Needs care the same day", "BEFORE BELIEVING", "NOT DONE: PINHOLE", "WHAT IT READS", "WHAT CHANGES IF ONLY", "SHARE OF EACH CAUSE", "TWO TOGETHER", "TO TRY IN THE ROOM", "More light", "WHAT IF", "WHICH QUICK TEST", "Covering the left eye", "DO MEASURED AND EXPECTED FIT", "HOW SURE", "hangs most on", "WHERE IT COMES FROM", "rests on")
	for _, banned := range []string{"best choice", "recommend", "NaN", "Inf"} {
		if strings.Contains(text, banned) {
			t.Errorf("says %q", banned)
		}
	}
	for n, row := range strings.Split(text, "\n") {
		if len([]rune(row)) > width+12 { // a long name of a scene or of glasses may stand out
			t.Errorf("line %d has %d characters: %s", n+1, len([]rune(row)), row)
		}
	}
	data, err := json.Marshal(s)
	if err != nil || !strings.Contains(string(data), `"not_explained_by_this_case":{"known":true`) {
		t.Errorf("%v: %.200s", err, data)
	}
}

// screen is how many lines a tall screen shows at once.
const screen = 60

func TestTheUsualStoryFitsOneScreen(t *testing.T) {
	text := written(t, story(t), false)
	inOrder(t, text, "BEFORE BELIEVING", "WHAT IT READS", "WHAT CHANGES IF ONLY", "SHARE OF EACH CAUSE", "DO MEASURED AND EXPECTED FIT", "HOW SURE", "--long: trials")
	if n := strings.Count(text, "\n"); n > screen {
		t.Errorf("%d lines", n)
	}
}

func TestTrialsKeepTheirOrderWhateverTheyLeave(t *testing.T) {
	var want, got []string
	for _, k := range cause.Trials {
		want = append(want, k.ID)
	}
	s := story(t)
	for _, r := range slices.Concat(s.Trials, s.WhatIfs) {
		got = append(got, r.ID)
		if r.NotHere == "" && len(r.Leaves) == 0 {
			t.Errorf("%s leaves nothing", r.ID)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for _, r := range s.WhatIfs {
		if r.NotHere == "" && (r.Leaves[0].Better == nil || r.Leaves[0].Worse == nil || r.Worse == nil || r.Now == nil || r.SawLess == "") {
			t.Errorf("%s stands without its spread", r.ID)
		}
	}
}

// TestALensAndScatterAreToldApartByAPinholeOrDimLight: blur changes with the pupil,
// scatter does not.
func TestALensAndScatterAreToldApartByTheSizeOfThePupil(t *testing.T) {
	s := story(t)
	if len(s.Apart) != 1 {
		t.Fatalf("%d pairs", len(s.Apart))
	}
	a := s.Apart[0]
	if a.A != cause.Lens || a.B != cause.Scatter || !slices.Contains([]string{"pinhole", dimLight}, a.Test) || !a.Enough {
		t.Errorf("%+v", a)
	}
}

func TestMeasurementsThatContradictEachOtherAreSaid(t *testing.T) {
	a := func(v float64, with string) casefile.Acuity {
		return casefile.Acuity{LogMAR: unit.Value[float64]{V: v, SD: 0.05, From: unit.Measured}, With: with}
	}
	for want, list := range map[string][]casefile.Acuity{
		"was measured as 0.10 and as 0.40: further apart than noise": {a(0.1, "glasses"), a(0.4, "glasses")},
		"through a pinhole (0.50) is worse than with glasses (0.20)": {a(0.2, "glasses"), a(0.5, "pinhole")},
	} {
		fs := conflicts(list)
		if len(fs) != 1 || fs[0].Agrees || !strings.Contains(fs[0].Words, want) {
			t.Errorf("%+v, want %q", fs, want)
		}
	}
	if fs := conflicts([]casefile.Acuity{a(0.2, "glasses"), a(0.1, "pinhole"), a(0.25, "glasses")}); len(fs) != 0 {
		t.Errorf("%+v", fs)
	}
	worse := acuityFit("acuity with glasses", a(0.6, "glasses"), 0.1)
	if worse.Agrees || !strings.Contains(worse.Words, "the model expects 0.10, measured 0.60: worse than expected; something not in this case") {
		t.Errorf("%+v", worse)
	}
}

func TestAnEyeWithoutACauseIsNotExplained(t *testing.T) {
	_, err := Tell(t.Context(), parsed(t, natural, pupils), UsualOptions)
	if err == nil || !strings.Contains(err.Error(), "the right eye has no cause that could be explained; hint:") {
		t.Errorf("got %v", err)
	}
}
