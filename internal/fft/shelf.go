package fft

import (
	"runtime"
	"sync"
)

// shelf keeps work arrays for the next user, as many as there are processors;
// unlike a sync.Pool it does not lose them to the garbage collector.
type shelf[T any] struct {
	make func() T
	mu   sync.Mutex
	free []T
}

// get takes one from the shelf, or makes one.
func (s *shelf[T]) get() T {
	s.mu.Lock()
	defer s.mu.Unlock()
	if last := len(s.free) - 1; last >= 0 {
		t := s.free[last]
		s.free = s.free[:last]
		return t
	}
	return s.make()
}

// put gives one back.
func (s *shelf[T]) put(t T) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.free) < runtime.GOMAXPROCS(0) {
		s.free = append(s.free, t)
	}
}

// newLines is a shelf of lines of n elements.
func newLines[C complexOf](n int) *shelf[[]C] {
	return &shelf[[]C]{make: func() []C { return make([]C, n) }}
}
