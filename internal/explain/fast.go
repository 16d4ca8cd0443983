package explain

import (
	"math"
	"slices"

	"simview/internal/cause"
	"simview/internal/doubt"
	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/shares"
)

// fast is the surrogate of one eye in one light: the visual Strehl ratio of every
// wavefront as a function of the inputs, and a line from it to each number.
type fast struct {
	g       *engine
	places  []place
	keys    []string    // of the wavefronts
	keyOf   []int       // of each place
	full    [][]float64 // [measure][place], the whole simulation
	lines   []line      // by measure
	in      []input     // all, also those that do not matter in this light
	optical []int       // the inputs that the surface takes
	surface *doubt.Surface
	indexOf map[place]int
	usual   light.Glare
	kept    float64     // log10 of the light that it does not scatter
	keep    []float64   // log10 of the light not scattered, by log s in steps of keepStep
	linear  [][]float64 // [headline][place]: headlines are sums of the numbers of places
}

// newFast asks for the wavefronts at two more values of each input and fits the
// lines. in are the inputs of the whole story.
func (g *engine) newFast(t table, in []input) (*fast, error) {
	f := &fast{g: g, places: g.places(), in: in, indexOf: map[place]int{}}
	for k, p := range f.places {
		key := g.key(p.set, p.w)
		at := slices.Index(f.keys, key)
		if at < 0 {
			at = len(f.keys)
			f.keys = append(f.keys, key)
		}
		f.keyOf, f.indexOf[p] = append(f.keyOf, at), k
	}
	for _, m := range Measures {
		var row []float64
		for _, p := range f.places {
			row = append(row, t[p].Harm(m))
		}
		f.full = append(f.full, row)
	}
	if err := f.ask(); err != nil {
		return nil, err
	}
	if err := f.still(); err != nil {
		return nil, err
	}
	if err := f.learnHeadlines(); err != nil {
		return nil, err
	}
	x := f.effective(f.measuredValues())
	for _, m := range Measures {
		f.lines = append(f.lines, f.fit(m, x, f.full[m]))
	}
	return f, nil
}

func (f *fast) measuredValues() []float64 {
	var x []float64
	for _, i := range f.in {
		x = append(x, i.Measured)
	}
	return x
}

// ask lays the surface.
func (f *fast) ask() error {
	var in []doubt.Input
	for k, i := range f.in {
		if i.reach <= glasses && (i.night == 0 || i.night > 0 == f.g.v.Night) {
			in, f.optical = append(in, i.Input), append(f.optical, k)
		}
	}
	base := make([]float64, len(f.keys))
	for k, key := range f.keys {
		base[k] = f.g.lens[key].logVS
	}
	places := doubt.Places(in)
	numbers := make([][]float64, len(places))
	numbers[0] = base
	if err := each(len(places)-1, func(k int) (err error) {
		i := f.in[f.optical[k/2]]
		numbers[k+1], err = f.others(base, i, places[k+1][k/2])
		return err
	}); err != nil {
		return err
	}
	var err error
	f.surface, err = doubt.NewSurface(in, numbers)
	return err
}

// others are the fast numbers of all wavefronts with another value of one input.
func (f *fast) others(base []float64, i input, v float64) ([]float64, error) {
	out := slices.Clone(base)
	if v == i.Measured {
		return out, nil
	}
	if i.reach == glasses {
		return out, f.shifted(out, i, v)
	}
	e, err := variant(f.g.e, i, v)
	if err != nil {
		return nil, err
	}
	g, err := bareEngine(e, f.g.v)
	if err != nil {
		return nil, err
	}
	for k := range f.keys {
		p := f.places[slices.Index(f.keyOf, k)]
		if p.w != own && !f.touched(p.set, i) {
			continue
		}
		s, err := g.state(f.g.translate(p.set, g), p.w)
		if err != nil {
			return nil, err
		}
		if out[k], err = opticsLogVS(s); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// shifted are those with another refraction: only the error in the glasses moves,
// where the set holds it.
func (f *fast) shifted(out []float64, i input, v float64) error {
	d := *f.g.e.Data
	i.set(&d, v)
	now, err := needs(f.g.e.Data)
	if err != nil {
		return err
	}
	then, err := needs(&d)
	if err != nil {
		return err
	}
	more := then.Sub(now)
	for k := range f.keys {
		p := f.places[slices.Index(f.keyOf, k)]
		if p.w == fresh || !f.touched(p.set, i) {
			continue
		}
		s, err := f.g.state(p.set, p.w)
		if err != nil {
			return err
		}
		s = s.With(eye.Part{By: "focus", Plane: eye.Glasses, From: eye.Computed, PathUM: more.PathUM})
		if out[k], err = opticsLogVS(s); err != nil {
			return err
		}
	}
	return nil
}

// touched reports whether an input changes the wavefront of a set.
func (f *fast) touched(s shares.Set, i input) bool {
	return i.moves == nil || slices.ContainsFunc(i.moves, func(id cause.ID) bool {
		at := f.g.index(id)
		return at >= 0 && s.Has(at)
	})
}

// translate names a set in the causes of another engine, which may lack some.
func (g *engine) translate(s shares.Set, to *engine) (out shares.Set) {
	for i, id := range g.ids {
		if at := to.index(id); at >= 0 && s.Has(i) {
			out = out.With(at)
		}
	}
	return out
}

// effective is the fast number of every place at values of the inputs,
//
//	x = log10 VS + log10(1 - s) - loss/10
//
// s the share of scattered light and loss the field loss in dB where the eye reads.
func (f *fast) effective(x []float64) []float64 {
	optics := make([]float64, len(f.optical))
	for k, at := range f.optical {
		optics[k] = x[at]
	}
	vs := f.surface.At(optics)
	keep, loss := f.keeps(x), f.reads(x)
	out := make([]float64, len(f.places))
	for k, p := range f.places {
		out[k] = vs[f.keyOf[k]] + keep[0]
		if f.g.has(p.set, cause.Scatter) {
			out[k] += keep[1] - keep[0]
		}
		if f.g.has(p.set, cause.Field) {
			out[k] -= loss / 10
		}
	}
	return out
}

func (g *engine) has(s shares.Set, id cause.ID) bool {
	at := g.index(id)
	return at >= 0 && s.Has(at)
}

// still finds what no input changes.
func (f *fast) still() error {
	ref, err := f.g.e.Reference(f.g.v)
	if err != nil {
		return err
	}
	f.usual, f.kept = ref.Glare, math.Log10(ref.Glare.Keep())
	return f.learnKeep()
}

// keepStep is the step of log s between which the light that is not scattered is
// interpolated; over it the light changes by less than 1 in 100.
const keepStep = 0.02

// leastLogS and mostLogS are the ends of the table; no eye scatters as little as
// the lower one.
const leastLogS, mostLogS = 0.2, 3.0

// learnKeep tabulates log10 of the light that is not scattered by log s; what is no more than usual is no cause.
func (f *fast) learnKeep() error {
	for k := range int((mostLogS-leastLogS)/keepStep) + 2 {
		g, err := light.GlareFromLogS(leastLogS+keepStep*float64(k), light.NormAtDeg, f.g.e.Data.PigmentFactor())
		if err != nil {
			return err
		}
		g.Scale = max(g.Scale, f.usual.Scale)
		f.keep = append(f.keep, math.Log10(g.Keep()))
	}
	return nil
}

// keeps are log10 of the light that is not scattered, usual and as measured.
func (f *fast) keeps(x []float64) [2]float64 {
	out := [2]float64{f.kept, f.kept}
	for k, i := range f.in {
		if i.reach == scatter {
			at := min(max((x[k]-leastLogS)/keepStep, 0), float64(len(f.keep)-2))
			n := int(at)
			out[1] = f.keep[n] + (at-float64(n))*(f.keep[n+1]-f.keep[n])
		}
	}
	return out
}

// learnHeadlines finds how each headline adds up from the numbers of places, by
// asking for those of a story in which one place is 1 and all others 0.
func (f *fast) learnHeadlines() error {
	for k := range f.places {
		h, err := f.g.headlines(func(p place) float64 {
			if f.indexOf[p] == k {
				return 1
			}
			return 0
		})
		if err != nil {
			return err
		}
		if f.linear == nil {
			f.linear = make([][]float64, len(h))
		}
		for m, v := range h {
			f.linear[m] = append(f.linear[m], v)
		}
	}
	return nil
}

// headlines are those of the numbers of all places.
func (f *fast) headlines(row []float64) []float64 {
	out := make([]float64, len(f.linear))
	for m, weights := range f.linear {
		for k, w := range weights {
			out[m] += w * row[k]
		}
	}
	return out
}

// depth is the field loss over that measured, 1 as measured.
func (f *fast) depth(x []float64) float64 {
	for k, i := range f.in {
		if i.reach == field && i.Measured < 0 {
			return max(0, x[k]/i.Measured)
		}
	}
	return 1
}

// reads is the field loss in dB where the eye reads.
func (f *fast) reads(x []float64) float64 {
	for k, i := range f.in {
		if i.reach == reading {
			return x[k]
		}
	}
	return 0
}

// at returns the numbers of every place at values of the inputs: the whole
// simulation, moved by what the line says.
func (f *fast) at(x, base []float64) [][]float64 {
	now, depth := f.effective(x), f.depth(x)
	out := make([][]float64, len(Measures))
	for m, l := range f.lines {
		out[m] = make([]float64, len(f.places))
		for k, p := range f.places {
			out[m][k] = f.full[m][k] + l.rise(base[k], now[k])
			if f.g.has(p.set, cause.Field) {
				out[m][k] += l.field * (depth - 1)
			}
		}
	}
	return out
}
