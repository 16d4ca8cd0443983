package match_test

import (
	"bytes"
	"fmt"
	"time"

	"simview/internal/match"
)

// Someone to whom the view with scattered light always looks right.
func Example() {
	setup := match.Default(7, "lens", "cylinder", "scatter", "field")
	setup.Foil = "upside down"
	var log bytes.Buffer
	s, err := match.Start(setup, &log, time.Now)
	if err != nil {
		fmt.Println(err)
		return
	}
	for {
		q, more, _ := s.Next()
		if !more {
			break
		}
		a := match.NoDifference
		switch {
		case q.Kind == match.Identical:
		case q.Left == 2 || q.Right == match.Foil:
			a = match.Left
		case q.Right == 2 || q.Left == match.Foil:
			a = match.Right
		}
		if _, err := s.Answer(q.Number, a, ""); err != nil {
			fmt.Println(err)
			return
		}
	}
	r, _ := match.Evaluate(s.State())
	fmt.Println(r.Outcome, r.First, len(s.State().Trials), "answers")
	fmt.Println(r.Sentences[0])
	// Output:
	// decided scatter 40 answers
	// A match is a conversation, not a finding.
}

// A program is killed while it writes the second answer.
func ExampleRead() {
	var log bytes.Buffer
	s, _ := match.Start(match.Default(1, "lens", "field"), &log, time.Now)
	s.Answer(1, match.Neither, "")
	s.Answer(2, match.Left, "")
	log.Truncate(log.Len() - 10)
	r, err := match.Read(&log)
	fmt.Println(len(r.State.Trials), "answer,", err)
	fmt.Println(r.Notes[0])
	// Output:
	// 1 answer, <nil>
	// line 3: half a line, as a stopped program or a full disk leaves it, was left out
}

// Pictures that look alike to a good eye make no match.
func ExampleSetup_Check() {
	s := match.Default(1, "lens", "field")
	s.Apart = [][]float64{{0, 0.55}, {0.55, 0}}
	fmt.Println(s.Check())
	// Output: match: a match is not possible: the fellow eye is predicted to tell apart 0 of 1 pairs of pictures, fewer than half; hint: a scene, a size or strengths in which the views differ more
}

// Four games between two teams, three of them won at home.
func ExampleModel_Solve() {
	f, err := match.Model{Views: 2, SideBias: true}.Solve([]match.Contest{{First: 0, Second: 1, FirstWins: 3, SecondWins: 1}, {First: 1, Second: 0, FirstWins: 3, SecondWins: 1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	d, _ := f.Difference(0, 1)
	fmt.Printf("difference %.3f, home %.3f\n", d, f.Delta) // log 3
	// Output: difference 0.000, home 1.099
}
