package web

import (
	"bytes"
	"fmt"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"simview/internal/match"
)

// The program is killed at any byte of a line: what was answered before is there, and
// the session goes on as one that was never stopped.
func TestAKilledProgramLosesNothing(t *testing.T) {
	dir := t.TempDir()
	one := enter(t, dir)
	a := one.sit(one.begin(usual()), 1, 9)
	whole := one.log(a.ID)
	one.Close()
	last := bytes.LastIndexByte(whole[:len(whole)-1], '\n') + 1
	for _, cut := range []int{last, last + 1, (last + len(whole)) / 2, len(whole) - 1, len(whole)} {
		if err := os.WriteFile(filepath.Join(dir, a.ID+logEnd), whole[:cut], 0o600); err != nil {
			t.Fatal(err)
		}
		two := enter(t, dir)
		list := must[listed](two, "/api/match", nil)
		if len(list.Sessions) != 1 || !list.Sessions[0].Resume || list.Sessions[0].Eye != "right" {
			t.Fatalf("cut at %d: %+v", cut, list)
		}
		b := must[asked](two, "/api/match/one?id="+a.ID, nil)
		if b.Number < 9 || b.Number > 10 {
			t.Fatalf("cut at %d: question %d is next", cut, b.Number)
		}
		if b = two.sit(b, 1, 20-b.Number+1); !b.All {
			t.Fatalf("cut at %d: %+v", cut, b)
		}
		if m := must[matchResult](two, "/api/match/result?id="+a.ID, nil); m.Broken != "" || m.Answered != 20 {
			t.Errorf("cut at %d: %+v", cut, m)
		}
		two.Close()
	}
}

func TestTwoWindowsCannotAnswerTheSameQuestion(t *testing.T) {
	r := enter(t, t.TempDir())
	first := r.begin(usual())
	r.sit(first, 0, 1) // the other window
	r.refused("/api/match/act", act{ID: first.ID, At: first.At, Do: "answer", Number: 1, Answer: match.Left}, http.StatusConflict, "match.moved", "question 2 is next")
	for _, do := range []string{"undo", "pause", "end"} {
		r.refused("/api/match/act", act{ID: first.ID, At: first.At, Do: do}, http.StatusConflict, "match.moved", "question 2 is next")
	}
	r.refused(fmt.Sprintf("/api/match/picture?id=%s&at=%d&place=left", first.ID, first.At), nil, http.StatusConflict, "match.moved", "nothing that was answered is lost")
}

// Ten answers to one question at the same time: one counts.
func TestAnswersAtTheSameTime(t *testing.T) {
	r := enter(t, t.TempDir())
	a := r.begin(usual())
	codes := make(chan int)
	for range 10 {
		go func() {
			code, _ := r.ask("/api/match/act", act{ID: a.ID, At: a.At, Do: "answer", Number: 1, Answer: match.Left})
			codes <- code
		}()
	}
	count := map[int]int{}
	for range 10 {
		count[<-codes]++
	}
	if count[http.StatusOK] != 1 || count[http.StatusConflict] != 9 {
		t.Errorf("answered with %v", count)
	}
}

// Two runs of the program on one folder: the second finds what the first wrote, and
// the first goes on from what the second wrote.
func TestTwoProgramsOnOneFolder(t *testing.T) {
	dir := t.TempDir()
	one, two := enter(t, dir), enter(t, dir)
	a := one.sit(one.begin(usual()), 0, 3)
	b := two.sit(must[asked](two, "/api/match/one?id="+a.ID, nil), 0, 2)
	one.refused("/api/match/act", act{ID: a.ID, At: a.At, Do: "answer", Number: 4, Answer: match.Left}, http.StatusConflict, "match.moved", "question 6 is next")
	if a = must[asked](one, "/api/match/one?id="+a.ID, nil); a.Number != b.Number {
		t.Errorf("the first is at %d, the second at %d", a.Number, b.Number)
	}
	if m := must[matchResult](one, "/api/match/result?id="+a.ID, nil); m.Broken != "" || m.Answered != 5 {
		t.Errorf("%d answers, %s", m.Answered, m.Broken)
	}
}

// The disk is full at any byte of an answer: it says so, the answer does not count,
// and counts when it is given again after room was made.
func TestAFullDiskLosesNothing(t *testing.T) {
	for _, left := range []int{0, 1, 40} {
		r := enter(t, t.TempDir())
		room := math.MaxInt
		r.disk(&room)
		a := r.sit(r.begin(usual()), 0, 2)
		room = left
		r.refused("/api/match/act", act{ID: a.ID, At: a.At, Do: "answer", Number: 3, Answer: match.Left}, http.StatusInsufficientStorage, "match.disk", "no space left")
		a = must[asked](r, "/api/match/one?id="+a.ID, nil)
		if a.Number != 3 {
			t.Fatalf("an answer that was not saved counts: %+v", a)
		}
		room = math.MaxInt
		r.sit(a, 0, 5)
		again := enter(t, r.srv.matches.folder.dir)
		if m := must[matchResult](again, "/api/match/result?id="+a.ID, nil); m.Answered != 7 || m.Broken != "" {
			t.Errorf("%d bytes left: afterwards %d answers, %q", left, m.Answered, m.Broken)
		}
	}
}

func TestAFullDiskBeforeTheFirstQuestion(t *testing.T) {
	one := enter(t, t.TempDir())
	text, err := os.ReadFile(filepath.Join(one.srv.matches.folder.dir, one.begin(usual()).ID+planEnd))
	if err != nil {
		t.Fatal(err)
	}
	for _, left := range []int{0, 100, len(text), len(text) + 100} { // in the set-up, and in the first line of the log
		r := enter(t, t.TempDir())
		room := left
		r.disk(&room)
		r.refused("/api/match/start", usual(), http.StatusInsufficientStorage, "match.disk", "no space left")
		if files, _ := os.ReadDir(r.srv.matches.folder.dir); len(files) > 0 {
			t.Errorf("%d bytes left: files stay behind: %v", left, files)
		}
	}
	r := enter(t, "")
	r.refused("/api/match/start", usual(), http.StatusInsufficientStorage, "match.disk", "--sessions")
	if l := must[listed](r, "/api/match", nil); !strings.Contains(l.Problem, "--sessions") {
		t.Errorf("no folder: %+v", l)
	}
}

func TestPauseResumeAndUndo(t *testing.T) {
	r := enter(t, t.TempDir())
	a := r.sit(r.begin(usual()), 0, 2)
	a = must[asked](r, "/api/match/act", act{ID: a.ID, At: a.At, Do: "pause"})
	r.refused("/api/match/act", act{ID: a.ID, At: a.At, Do: "answer", Number: 3, Answer: match.Left}, http.StatusBadRequest, "question", "paused")
	a = must[asked](r, "/api/match/act", act{ID: a.ID, At: a.At, Do: "resume"})
	a = must[asked](r, "/api/match/act", act{ID: a.ID, At: a.At, Do: "undo"})
	if a.Number != 2 || a.Paused {
		t.Errorf("after undo: %+v", a)
	}
	if m := must[matchResult](r, "/api/match/result?id="+a.ID, nil); m.Undone != 1 {
		t.Errorf("%d taken back", m.Undone)
	}
}

// A log that was changed, and a case that was: the sound part can be read, and the
// session does not go on.
func TestDamageIsSaid(t *testing.T) {
	r := enter(t, t.TempDir())
	a := r.sit(r.begin(usual()), 0, 4)
	name := filepath.Join(r.srv.matches.folder.dir, a.ID+logEnd)
	text := bytes.Replace(r.log(a.ID), []byte(`"n":4,`), []byte(`"n":7,`), 1)
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
	r = enter(t, r.srv.matches.folder.dir)
	m := must[matchResult](r, "/api/match/result?id="+a.ID, nil)
	if m.Answered != 2 || !strings.Contains(m.Broken, "line 4") || m.Resume {
		t.Errorf("%d answers, %q", m.Answered, m.Broken)
	}
	if l := must[listed](r, "/api/match", nil); l.Sessions[0].Resume || l.Sessions[0].Why == "" {
		t.Errorf("listed %+v", l.Sessions)
	}
	if code, _ := r.ask("/api/match/one?id="+a.ID, nil); code == http.StatusOK {
		t.Error("a damaged session goes on")
	}
	b := r.begin(usual())
	r.srv.matches.caseSum = "another"
	r.srv.matches.open = map[string]*sitting{}
	r.refused("/api/match/one?id="+b.ID, nil, http.StatusBadRequest, "question", "another case")
}

func TestHostileQuestionsAreRefused(t *testing.T) {
	r := enter(t, t.TempDir())
	a := r.begin(usual())
	for _, id := range []string{"", "../../etc/passwd", "2026-01-01-0123456789ab", "2026-01-01-0123456789ab/../x", strings.Repeat("a", 9000), "%00"} {
		for _, door := range []string{"one", "result", "beside", "picture", "export"} {
			if code, text := r.ask("/api/match/"+door+"?id="+id, nil); code != http.StatusNotFound && code < 400 {
				t.Errorf("%s of %.30q: %d %.100s", door, id, code, text)
			}
		}
	}
	bad := func(change func(*act)) act {
		x := act{ID: a.ID, At: a.At, Do: "answer", Number: 1, Answer: match.Left}
		change(&x)
		return x
	}
	for _, c := range []struct {
		body any
		says string
	}{
		{bad(func(x *act) { x.Do = "drop" }), "nothing called"},
		{bad(func(x *act) { x.Answer = "yes" }), "answer"},
		{bad(func(x *act) { x.Number = -1 }), "question 1 is next"},
		{bad(func(x *act) { x.Answer = match.SomethingElse }), "needs words"},
		{bad(func(x *act) { x.Words = strings.Repeat("ä", match.MaxWords+1) }), "at most 2000"},
		{bad(func(x *act) { x.Do, x.View = "adjust", 17 }), "adjustment of view 17"},
		{bad(func(x *act) { x.Do, x.Value = "set", 2 }), "no view is being adjusted"},
		{`{"id":"` + a.ID + `","cause":"lens"}`, "unknown field"},
		{`{"id":1}`, "cannot be read"},
		{`{} {}`, "more than one"},
		{`{"words":"` + strings.Repeat("x", maxPosted) + `"}`, "too large"},
		{"nothing at all", "cannot be read"},
	} {
		code, text := r.ask("/api/match/act", c.body)
		if code != http.StatusBadRequest && code != http.StatusNotFound || !strings.Contains(text, c.says) {
			t.Errorf("%.80v: %d %s, want %q", c.body, code, text, c.says)
		}
	}
	if b := must[asked](r, "/api/match/one?id="+a.ID, nil); b.Number != 1 || b.At != a.At {
		t.Errorf("something counted: %+v", b)
	}
}

func TestASetUpIsWholeOrRefused(t *testing.T) {
	r := enter(t, t.TempDir())
	for says, change := range map[string]func(*setUp){
		"complaint_eye":                   func(u *setUp) { u.Eye = "third" },
		"through":                         func(u *setUp) { u.Through = "rose glasses" },
		"real thing":                      func(u *setUp) { u.Object = "  " },
		"cover the eye":                   func(u *setUp) { u.Covered = false },
		"give the other eye":              func(u *setUp) { u.Corrected = false },
		"screen_m":                        func(u *setUp) { u.ScreenM = 0 },
		"picture_cm":                      func(u *setUp) { u.PictureCM = 1e9 },
		"degrees wide":                    func(u *setUp) { u.PictureCM, u.ScreenM = 2, 6 },
		"part":                            func(u *setUp) { u.Part = "half" },
		"there is no scene":               func(u *setUp) { u.Scene = "../etc" },
		"choose 2 to 8":                   func(u *setUp) { u.Views = u.Views[:1] },
		"there twice":                     func(u *setUp) { u.Views = []string{"lens", "lens"} },
		"this eye has no view":            func(u *setUp) { u.Views = []string{"lens", "lens-exchanged-refracted"} }, // a what-if
		"answers: must be":                func(u *setUp) { u.Answers = 41 },
		fmt.Sprint(uint64(match.MaxSeed)): func(u *setUp) { u.Seed = match.MaxSeed + 1 },
	} {
		u := usual()
		change(&u)
		r.refused("/api/match/start", u, http.StatusBadRequest, "question", says)
	}
}

// Only a script of the page itself changes anything.
func TestOtherSitesChangeNothing(t *testing.T) {
	r := enter(t, t.TempDir())
	for name, how := range map[string]func(*http.Request){
		"another site":     header("Origin", "http://evil.example"),
		"no origin":        func(q *http.Request) { q.Header.Del("Origin") },
		"a form":           header("Content-Type", "application/x-www-form-urlencoded"),
		"a form of text":   header("Content-Type", "text/plain"),
		"no key":           noCookie,
		"a name of others": func(q *http.Request) { q.Host = "evil.example" },
		"a site beside":    header("Sec-Fetch-Site", "same-site"),
	} {
		if code, text := r.ask("/api/match/start", usual(), how); code < 400 {
			t.Errorf("%s: %d %s", name, code, text)
		}
	}
	if code, _ := r.ask("/api/case", usual()); code != http.StatusMethodNotAllowed {
		t.Errorf("POST elsewhere: %d", code)
	}
	if files, _ := os.ReadDir(r.srv.matches.folder.dir); len(files) > 0 {
		t.Errorf("files: %v", files)
	}
}

func TestTheSumTellsCasesApart(t *testing.T) {
	a, b := enter(t, ""), enter(t, "")
	b.srv.kase.AgeYears.V++
	if x, y := a.srv.fingerprint(), enter(t, "").srv.fingerprint(); x != y || len(x) != 16 {
		t.Errorf("the same case: %s and %s", x, y)
	}
	if a.srv.fingerprint() == b.srv.fingerprint() {
		t.Error("another age, the same sum")
	}
}
