package explain

import (
	"slices"

	"simview/internal/cause"
	"simview/internal/lost"
	"simview/internal/render"
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

// simulate works out the whole table, each state once, wavefront by wavefront on
// all cores.
func (g *engine) simulate() (table, error) {
	list := g.places()
	todo, groups := []place{}, [][]int{}
	at := map[string]int{}
	for _, p := range list {
		q := g.plain(p)
		if slices.Contains(todo, q) {
			continue
		}
		key := g.key(q.set, q.w)
		if _, ok := at[key]; !ok {
			at[key] = len(groups)
			groups = append(groups, nil)
		}
		groups[at[key]] = append(groups[at[key]], len(todo))
		todo = append(todo, q)
	}
	out := make([]Numbers, len(todo))
	err := each(len(groups), func(k int) error { return g.group(todo, groups[k], out) })
	t := table{}
	for _, p := range list {
		t[p] = out[slices.Index(todo, g.plain(p))]
	}
	return t, err
}

// group works out the numbers of places that share one wavefront, and with it the
// image of the scene.
func (g *engine) group(todo []place, members []int, out []Numbers) error {
	var image *lost.Image
	for _, k := range members {
		s, o, err := g.looked(todo[k])
		if err != nil {
			return err
		}
		if image == nil && g.stage != nil {
			image = g.stage.Image(render.View{Eye: s}, o.p)
		}
		if out[k], err = g.measure(s, o, 1, image); err != nil {
			return err
		}
	}
	return nil
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
