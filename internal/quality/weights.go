package quality

import "sync"

// weights are what the sum over frequencies needs of a pupil's diameter, not of
// its wavefront.
type weights struct {
	diameterMM float64
	neural     []float64
	ideal      float64
}

// manyDiameters is how many are kept, half a megabyte each; the views of one
// case need fewer.
const manyDiameters = 12

// store keeps the weights used last. Safe for concurrent use; what it hands out
// is only read.
type store struct {
	mu   sync.Mutex
	kept []weights // newest last
}

var weighings store

func (s *store) of(diameterMM float64) (weights, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, w := range s.kept {
		if w.diameterMM == diameterMM {
			return w, true
		}
	}
	return weights{}, false
}

func (s *store) keep(w weights) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.kept) == manyDiameters {
		s.kept = append(s.kept[:0], s.kept[1:]...)
	}
	s.kept = append(s.kept, w)
}
