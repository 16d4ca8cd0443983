package sweep

import (
	"context"
	"fmt"
	"sync"
	"time"
)

// Make makes pictures with so many workers at once, each of which takes a group
// (see [Groups]) and makes its pictures in order with a maker of its own, which may
// keep what neighbours share. The first error, or the end of
// ctx, stops all before their next picture; what is made stays made. tell, which is
// called by one worker at a time, hears after each picture how many are made.
func Make(ctx context.Context, groups [][]Cell, workers int, maker func() func(Cell) error, tell func(done int)) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var mu sync.Mutex
	next, done := 0, 0
	take := func() []Cell {
		mu.Lock()
		defer mu.Unlock()
		if next == len(groups) {
			return nil
		}
		next++
		return groups[next-1]
	}
	work := func() {
		one := maker()
		for group := take(); group != nil; group = take() {
			for _, c := range group {
				if ctx.Err() != nil {
					return
				}
				if err := one(c); err != nil {
					stop(err)
					return
				}
				mu.Lock()
				done++
				tell(done)
				mu.Unlock()
			}
		}
	}
	var all sync.WaitGroup
	for range max(1, min(workers, len(groups))) {
		all.Go(work)
	}
	all.Wait()
	return context.Cause(ctx)
}

// TimeLeft says how long the rest takes if it goes on as before, rounded to what
// that is good for; nothing after too few pictures.
func TimeLeft(done, of int, since time.Duration) string {
	const few = 2
	if done < few || done >= of {
		return ""
	}
	left := time.Duration(float64(since) / float64(done) * float64(of-done))
	switch {
	case left < time.Minute:
		return fmt.Sprintf("about %.0f s left", left.Seconds())
	case left < 2*time.Hour:
		return fmt.Sprintf("about %.0f min left", left.Minutes())
	}
	return fmt.Sprintf("about %.0f h left", left.Hours())
}
