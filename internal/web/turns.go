package web

import (
	"context"
	"errors"
	"sync"
)

// errSuperseded ends a question when its pane has asked a newer one.
var errSuperseded = errors.New("a newer question of the same pane took this one's place")

// turns lets one preview and one full picture be made at a time, and ends a
// question when the same pane asks again. Safe for concurrent use.
type turns struct {
	quick, slow chan struct{}

	mu   sync.Mutex
	open map[string]*turn
}

type turn struct{ stop context.CancelCauseFunc }

func newTurns() *turns {
	return &turns{quick: make(chan struct{}, 1), slow: make(chan struct{}, 1), open: map[string]*turn{}}
}

// enter starts the question of a slot and ends the one before; done must be called
// when it is answered. An empty slot supersedes nothing.
func (t *turns) enter(parent context.Context, slot string) (ctx context.Context, done func()) {
	ctx, stop := context.WithCancelCause(parent)
	if slot == "" {
		return ctx, func() { stop(nil) }
	}
	mine := &turn{stop}
	t.mu.Lock()
	if old := t.open[slot]; old != nil {
		old.stop(errSuperseded)
	}
	t.open[slot] = mine
	t.mu.Unlock()
	return ctx, func() {
		t.mu.Lock()
		if t.open[slot] == mine {
			delete(t.open, slot)
		}
		t.mu.Unlock()
		stop(nil)
	}
}

// work waits for its lane and runs f, unless the question has ended by then.
func (t *turns) work(ctx context.Context, full bool, f func() error) error {
	lane := t.quick
	if full {
		lane = t.slow
	}
	select {
	case lane <- struct{}{}:
	case <-ctx.Done():
		return context.Cause(ctx)
	}
	defer func() { <-lane }()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return f()
}
