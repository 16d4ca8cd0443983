package explain

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"

	"simview/internal/acuity"
	"simview/internal/cause"
	"simview/internal/csf"
	"simview/internal/eye"
	"simview/internal/lost"
	"simview/internal/psf"
	"simview/internal/render"
	"simview/internal/scene"
	"simview/internal/shares"
)

// wear is how a state is corrected.
type wear string

const (
	suited wear = "suited" // the game of the package: glasses that suit the set
	own    wear = "own"    // own glasses, found with all causes
	fresh  wear = "fresh"  // new glasses, nothing left over
)

// engine works out the numbers of one eye in one light, each state once.
type engine struct {
	e        *cause.Eye
	v        cause.Viewing
	ids      []cause.ID
	model    csf.Model
	lensPath func(x, y float64) float64 // L of the package; nil: none
	observer *acuity.Observer
	trolands float64
	stage    *lost.Stage // nil: no scene
	seen     *lost.Seen  // by the reference eye

	mu   sync.Mutex
	lens map[string]*optics
}

// optics is one wavefront and what it does to the image of a point.
type optics struct {
	once     sync.Once
	p        *psf.PSF
	transfer acuity.Transfer
	mtf      []float64 // at [Frequencies], mean over directions, nothing scattered
	logVS    float64
	err      error
}

// chartCdM2 is the luminance of a letter chart (ISO 8596 asks for 80 to 320, from
// memory) and, for the dim pupil, of what is read by it.
const chartCdM2 = 100

// newEngine prepares one eye in one light, with an observer who knows the letters
// as its reference eye sees them; a nil scene is none.
func newEngine(e *cause.Eye, v cause.Viewing, m csf.Model, sc *scene.Scene) (*engine, error) {
	g, err := bareEngine(e, v)
	if err != nil {
		return nil, err
	}
	g.model = m
	ref, err := g.state(0, suited)
	if err != nil {
		return nil, err
	}
	p, err := g.point(ref, g.key(0, suited))
	if err != nil {
		return nil, err
	}
	g.trolands = chartCdM2 * math.Pi / 4 * ref.PupilMM * ref.PupilMM
	if g.observer, err = acuity.New(m, g.trolands, p.transfer); err != nil || sc == nil {
		return g, err
	}
	if g.stage, err = lost.New(sc, sceneStepDeg, m); err != nil {
		return nil, err
	}
	g.seen = g.stage.Look(render.View{Eye: ref}, p.p)
	return g, nil
}

// sceneStepDeg is the step at which a scene is judged: bands up to 8 cycles per
// degree.
const sceneStepDeg = lost.QuickStepDeg

// bareEngine makes states and no numbers.
func bareEngine(e *cause.Eye, v cause.Viewing) (*engine, error) {
	g := &engine{e: e, v: v, lens: map[string]*optics{}}
	for _, c := range e.Causes {
		g.ids = append(g.ids, c.ID)
	}
	slices.SortFunc(g.ids, func(a, b cause.ID) int {
		return cmp.Compare(slices.Index(cause.Order, a), slices.Index(cause.Order, b))
	})
	return g, g.findLensShare()
}

// findLensShare takes the displaced lens's share of the leftover error from the
// two ways in which package cause corrects all causes together.
func (g *engine) findLensShare() error {
	if _, ok := g.e.Cause(cause.Lens); !ok {
		return nil
	}
	var focus [2]func(x, y float64) float64
	for k, w := range []cause.Glasses{cause.Same, cause.Refracted} {
		s, err := g.e.State(g.e.All(), g.v, w)
		if err != nil {
			return err
		}
		at := slices.IndexFunc(s.Parts, func(p eye.Part) bool { return p.By == "focus" })
		if at < 0 {
			return fmt.Errorf("explain: the state of the %s eye has no focus", g.e.Side)
		}
		focus[k] = s.Parts[at].PathUM
	}
	g.lensPath = func(x, y float64) float64 { return focus[0](x, y) - focus[1](x, y) }
	return nil
}

// strengths are the causes of a set at their measured strength.
func (g *engine) strengths(s shares.Set) cause.Strengths {
	out := cause.Strengths{}
	for i, id := range g.ids {
		if s.Has(i) {
			out[id] = 1
		}
	}
	return out
}

func (g *engine) all() shares.Set { return shares.All(len(g.ids)) }

func (g *engine) index(id cause.ID) int { return slices.Index(g.ids, id) }

// state is the eye with the causes of a set.
func (g *engine) state(s shares.Set, w wear) (eye.State, error) {
	set := g.strengths(s)
	switch w {
	case own:
		return g.e.State(set, g.v, cause.Same)
	case fresh:
		delete(set, cause.Cylinder)
		return g.e.State(set, g.v, cause.Refracted)
	}
	st, err := g.e.State(set, g.v, cause.Refracted)
	if err == nil && set[cause.Lens] > 0 && g.lensPath != nil {
		st = st.With(eye.Part{By: "focus", Plane: eye.Glasses, From: eye.Computed, PathUM: g.lensPath})
	}
	return st, err
}

// optical leaves the causes out that change no wavefront.
func optical(set cause.Strengths) string {
	var words []string
	for _, id := range slices.Sorted(maps.Keys(set)) {
		if id != cause.Scatter && id != cause.Field {
			words = append(words, string(id))
		}
	}
	return strings.Join(words, "+")
}

// plain is the simplest place with the same state: new glasses leave no cylinder to
// tell apart and suit a set without the lens as in the game; own glasses suit a set
// that has every wavefront.
func (g *engine) plain(p place) place {
	if at := g.index(cause.Cylinder); p.w == fresh && at >= 0 {
		p.set = p.set.Without(at)
	}
	switch {
	case p.w == fresh && (g.lensPath == nil || !g.has(p.set, cause.Lens)):
		p.w = suited
	case p.w == own && optical(g.strengths(p.set)) == optical(g.e.All()):
		p.w = suited
	}
	return p
}

// key names the wavefront of a set.
func (g *engine) key(s shares.Set, w wear) string {
	p := g.plain(place{s, w})
	return string(p.w) + " " + optical(g.strengths(p.set))
}

// point works out the image of a point through a state, once for each name.
func (g *engine) point(s eye.State, name string) (*optics, error) {
	g.mu.Lock()
	o := g.lens[name]
	if o == nil {
		o = &optics{}
		g.lens[name] = o
	}
	g.mu.Unlock()
	opt := render.Optics()
	opt.NoOutside = true // nobody asks
	o.once.Do(func() {
		if o.p, o.err = psf.Compute(s.Aperture(), render.White(), opt); o.err != nil {
			return
		}
		o.transfer = acuity.Of(o.p)
		o.mtf = radial(o.p, Frequencies)
		o.logVS, o.err = opticsLogVS(s)
	})
	return o, o.err
}

// radial is the mean transfer over directions; light that passes beside a displaced
// lens, spread over degrees, carries no detail, as for letters.
func radial(p *psf.PSF, fs []float64) []float64 {
	keep, through := 1.0, p.ThroughOTF()
	if p.Beside != nil {
		keep -= p.Beside.Share
	}
	var out []float64
	for _, f := range fs {
		out = append(out, keep*through.RadialMTF(f))
	}
	return out
}

// opticsLogVS is log10 of the visual Strehl ratio of a state, scattered light left
// aside.
func opticsLogVS(s eye.State) (float64, error) {
	v, err := cause.VisualStrehl(s)
	if err != nil {
		return 0, err
	}
	return logVS(v / s.Glare.Keep()), nil
}

// leastVS is where the ratio stops meaning anything: it may be 0 or below for a
// blur that turns contrast round.
const leastVS = 1e-4

func logVS(v float64) float64 { return math.Log10(max(leastVS, v)) }
