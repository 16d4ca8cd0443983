package web

import "sync"

// kept holds the results that were used last, up to a bound on their cost. Safe for
// concurrent use.
type kept[V any] struct {
	bound int
	cost  func(V) int

	mu    sync.Mutex
	by    map[string]V
	order []string // oldest first
	sum   int
}

func newKept[V any](bound int, cost func(V) int) *kept[V] {
	return &kept[V]{bound: bound, cost: cost, by: map[string]V{}}
}

func one[V any](V) int { return 1 }

// get returns what is kept under a name, or makes it and keeps it. Errors are not
// kept. Two that ask at once may both make it; the results are the same.
func (k *kept[V]) get(name string, make func() (V, error)) (V, error) {
	k.mu.Lock()
	v, ok := k.by[name]
	if ok {
		k.touch(name)
	}
	k.mu.Unlock()
	if ok {
		return v, nil
	}
	v, err := make()
	if err == nil {
		k.put(name, v)
	}
	return v, err
}

func (k *kept[V]) has(name string) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	_, ok := k.by[name]
	return ok
}

func (k *kept[V]) touch(name string) {
	for i, n := range k.order {
		if n == name {
			k.order = append(append(k.order[:i:i], k.order[i+1:]...), name)
			return
		}
	}
}

// put keeps v and drops the oldest until the rest is within the bound; what is
// above the bound by itself is not kept.
func (k *kept[V]) put(name string, v V) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if _, ok := k.by[name]; ok || k.cost(v) > k.bound {
		return
	}
	k.by[name], k.order = v, append(k.order, name)
	for k.sum += k.cost(v); k.sum > k.bound; k.order = k.order[1:] {
		k.sum -= k.cost(k.by[k.order[0]])
		delete(k.by, k.order[0])
	}
}
