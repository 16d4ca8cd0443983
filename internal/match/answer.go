package match

import (
	"fmt"
	"slices"
	"time"
)

// Answer is what the patient says to a pair.
type Answer string

// The answers.
const (
	Left          Answer = "left"  // the left one is more like what I see
	Right         Answer = "right" // the right one is more like what I see
	Neither       Answer = "neither"
	NoDifference  Answer = "no difference"
	NothingWrong  Answer = "nothing wrong" // I see nothing wrong
	SomethingElse Answer = "something else"
)

// Answers lists all answers in the order in which a page offers them.
func Answers() []Answer {
	return []Answer{Left, Right, Neither, NoDifference, NothingWrong, SomethingElse}
}

// compares reports whether an answer says which of two views is nearer, or that
// none is.
func (a Answer) compares() bool { return a == Left || a == Right || a == NoDifference }

// mirrored returns the answer as it would be with the sides swapped.
func (a Answer) mirrored() Answer {
	switch a {
	case Left:
		return Right
	case Right:
		return Left
	}
	return a
}

func (a Answer) check() error {
	if slices.Contains(Answers(), a) {
		return nil
	}
	return fmt.Errorf("match: answer %q is not known; expected one of %q", string(a), Answers())
}

// Trial is a question with its answer. Words are the patient's own, whatever the
// answer; Urgent holds those of them that call for the urgent box. At is when it
// was answered.
type Trial struct {
	Question
	Answer Answer    `json:"answer"`
	Words  string    `json:"words,omitempty"`
	Urgent []string  `json:"urgent,omitempty"`
	At     time.Time `json:"at"`
}

// shows reports whether a trial showed two views, on whichever side.
func (t Trial) shows(i, j int) bool {
	return t.Number > 0 && (t.Left == i && t.Right == j || t.Left == j && t.Right == i)
}
