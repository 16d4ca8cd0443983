package explain

import (
	"slices"

	"simview/internal/cause"
	"simview/internal/shares"
)

// place is one state of the story: a set of causes and how it is corrected.
type place struct {
	set shares.Set
	w   wear
}

// table holds the numbers of every place that was asked for.
type table map[place]Numbers

// places lists every state that shares and changes need: all sets in the game,
// and all but each cause in own and in new glasses.
func (g *engine) places() []place {
	var out []place
	for s := shares.Set(0); s <= g.all(); s++ {
		out = append(out, place{s, suited})
	}
	for i := range g.ids {
		out = append(out, place{g.all().Without(i), own}, place{g.all().Without(i), fresh})
	}
	return append(out, place{g.all(), fresh})
}

// simulate works out the whole table: first each wavefront once, on all cores,
// then the numbers.
func (g *engine) simulate() (table, error) {
	list := g.places()
	firsts := map[string]place{}
	var keys []string
	for _, p := range list {
		if k := g.key(p.set, p.w); firsts[k] == (place{}) {
			firsts[k] = p
			keys = append(keys, k)
		}
	}
	if err := each(len(keys), func(k int) error {
		p := firsts[keys[k]]
		s, err := g.state(p.set, p.w)
		if err != nil {
			return err
		}
		_, err = g.point(s, keys[k])
		return err
	}); err != nil {
		return nil, err
	}
	t, todo := table{}, []place{}
	for _, p := range list {
		if q := g.plain(p); !slices.Contains(todo, q) {
			todo = append(todo, q)
		}
	}
	out := make([]Numbers, len(todo))
	err := each(len(todo), func(k int) (err error) {
		out[k], err = g.numbers(todo[k].set, todo[k].w)
		return err
	})
	for _, p := range list {
		t[p] = out[slices.Index(todo, g.plain(p))]
	}
	return t, err
}

// harms looks a number up as harm.
type harms func(p place) float64

func (t table) harms(m Measure) harms { return func(p place) float64 { return t[p].Harm(m) } }

// divide gives every cause its share of what all of them do together.
func divide(n int, h harms) (shares.Result, error) {
	return shares.Exact(n, func(s shares.Set) float64 { return h(place{s, suited}) })
}

// right is what goes away if only cause i is put right: in own glasses, and in new
// ones. Before new glasses nothing else is put right, so that both sides of the
// difference wear them; for the error that glasses leave over, new glasses are
// what puts it right.
func (g *engine) right(i int, h harms) (same, renewed float64) {
	all := g.all()
	same = h(place{all, suited}) - h(place{all.Without(i), own})
	if g.ids[i] == cause.Cylinder {
		return same, h(place{all, suited}) - h(place{all, fresh})
	}
	return same, h(place{all, fresh}) - h(place{all.Without(i), fresh})
}
