package web

import (
	"context"
	"errors"
	"testing"
)

func TestANewerQuestionOfAPaneEndsTheOlder(t *testing.T) {
	turns := newTurns()
	first, done := turns.enter(t.Context(), "pane-1")
	defer done()
	other, doneOther := turns.enter(t.Context(), "pane-2")
	defer doneOther()
	second, doneSecond := turns.enter(t.Context(), "pane-1")
	defer doneSecond()
	if err := context.Cause(first); !errors.Is(err, errSuperseded) {
		t.Errorf("the older question ended with %v", err)
	}
	if other.Err() != nil || second.Err() != nil {
		t.Errorf("ended too: the other pane %v, the newer question %v", other.Err(), second.Err())
	}
	if err := turns.work(first, false, func() error { t.Error("an ended question was worked on"); return nil }); !errors.Is(err, errSuperseded) {
		t.Errorf("an ended question: %v", err)
	}
}

// A question that waits for its turn leaves the queue when it is superseded.
func TestAWaitingQuestionLeavesTheQueue(t *testing.T) {
	turns := newTurns()
	inside, release, left := make(chan struct{}), make(chan struct{}), make(chan error)
	go func() {
		_ = turns.work(t.Context(), true, func() error { close(inside); <-release; return nil })
	}()
	<-inside
	ctx, done := turns.enter(t.Context(), "pane")
	defer done()
	go func() {
		left <- turns.work(ctx, true, func() error { t.Error("a superseded question was worked on"); return nil })
	}()
	_, doneNewer := turns.enter(t.Context(), "pane")
	defer doneNewer()
	if err := <-left; !errors.Is(err, errSuperseded) {
		t.Errorf("left with %v", err)
	}
	close(release)
}

// An older answer must not take away a newer one's place.
func TestAnEndedQuestionDoesNotFreeTheNewersSlot(t *testing.T) {
	turns := newTurns()
	_, done := turns.enter(t.Context(), "pane")
	second, doneSecond := turns.enter(t.Context(), "pane")
	done()
	_, doneThird := turns.enter(t.Context(), "pane")
	if !errors.Is(context.Cause(second), errSuperseded) {
		t.Error("the second question went on beside the third")
	}
	doneSecond()
	doneThird()
	if len(turns.open) != 0 {
		t.Errorf("slots left open: %d", len(turns.open))
	}
}
