package cause

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"simview/internal/eye"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// tryout is a trial on its way through the planes of one eye in one view.
type tryout struct {
	e    *Eye
	set  Strengths // without what the trial takes away
	all  Strengths // as asked for
	v    Viewing
	s    eye.State
	luck luck
	rand *rand.Rand // of the step at hand; nil without luck

	// own is the far error in the glasses worn, at the cornea, shift what the
	// trial adds to it.
	own, shift refraction.PowerVector
	contact    wear    // nil: no contact lens is tried
	glasses    wear    // nil: own glasses, or none over a contact lens
	touched    bool    // parts are no longer those of set
	gain       float64 // light at the retina over that now
	lies       *lies   // nil: no implant was drawn
}

// luck says which outcome of a what-if is made: none at all (the eye as it is
// now, with the trial's glasses), the exact one, or one draw.
type luck struct {
	now   bool
	drawn bool
	seed  uint64
	draw  uint64
}

var (
	asNow   = luck{now: true}
	exactly = luck{}
)

func draw(seed uint64, n int) luck { return luck{drawn: true, seed: seed, draw: uint64(n)} }

// run takes the state that the causes made through every plane.
func (t Trial) run(e *Eye, set Strengths, v Viewing, l luck) (*tryout, error) {
	r := &tryout{e: e, set: t.taken(set, l), all: set, v: v, luck: l, gain: 1}
	var err error
	if err := set.Check(e); err != nil {
		return r, err
	}
	if r.s, err = e.State(r.set, v, Same); err != nil {
		return r, err
	}
	if r.own, err = e.ownError(r.set, r.s.PupilMM); err != nil {
		return r, err
	}
	for _, at := range []plane{contactPlane, corneaPlane, lensPlane, glassesPlane} {
		if err := t.step(r, at); err != nil {
			return r, err
		}
	}
	if err := r.focus(); err != nil {
		return r, err
	}
	for _, at := range []plane{pupilPlane, holePlane} {
		if err := t.step(r, at); err != nil {
			return r, err
		}
	}
	if err := r.edged(); err != nil {
		return r, err
	}
	r.s = settled(r.s.Without(func(p eye.Part) bool { return p.By == "fixation" }))
	return r, nil
}

// taken leaves out the displaced lens where the trial does away with it.
func (t Trial) taken(set Strengths, l luck) Strengths {
	if !l.now && slices.ContainsFunc(t.steps, func(s step) bool { return s.at == lensPlane }) {
		return without(set, Lens)
	}
	return set
}

func (t Trial) step(r *tryout, at plane) error {
	for _, s := range t.steps {
		if s.at != at {
			continue
		}
		r.rand = nil
		if r.luck.drawn {
			r.rand = rand.New(rand.NewPCG(r.luck.seed<<8|uint64(at), r.luck.draw))
		}
		if err := s.apply(r, s.set); err != nil {
			return fmt.Errorf("trial %s: %w", s.id, err)
		}
	}
	return nil
}

// ownError is the far error of the eye in the glasses worn, at the cornea, as
// in [Eye.State] with the same glasses:
//
//	P = G(all) + L + E k
func (e *Eye) ownError(set Strengths, pupilMM float64) (refraction.PowerVector, error) {
	p, err := e.best(e.All(), pupilMM)
	return p.Add(e.left.Sub(e.rest)).Add(e.rest.Times(set[Cylinder])), err
}

// correction is what is worn in a trial: the far error that it leaves, at the
// cornea, the glasses in it, and its words for a caption.
type correction struct {
	left, glasses refraction.PowerVector
	words         string
}

// wear puts something on instead of, or over, what is worn so far.
type wear func(t *tryout, now correction) (correction, error)

// focus puts on the glasses of the trial. Own glasses on an untouched eye keep
// the focus that the state has.
func (t *tryout) focus() error {
	if t.contact == nil && t.glasses == nil && t.shift == (refraction.PowerVector{}) && !t.touched {
		return nil
	}
	c := correction{t.own.Add(t.shift), t.e.worn, t.e.wornWords}
	for _, put := range []wear{t.contact, t.glasses} {
		if put == nil {
			continue
		}
		var err error
		if c, err = put(t, c); err != nil {
			return err
		}
	}
	asked, words := t.e.distance(t.v)
	p := c.left
	p.M += asked
	given, err := t.accommodated(p.M)
	if err != nil {
		return err
	}
	p.M -= given
	t.s = t.bare()
	t.s.Focus = strings.Replace(words, t.e.wornWords, c.words, 1)
	if given > 0 {
		t.s.Focus += fmt.Sprintf(", accommodating %.2f D", float64(given))
	}
	t.s = t.s.With(eye.Part{By: "focus", Plane: eye.Glasses, From: eye.Computed, PathUM: p.PathUM})
	return nil
}

// accommodated is what the eye gives when it is left with m dioptres.
func (t *tryout) accommodated(m unit.Dioptres) (unit.Dioptres, error) {
	if t.e.accommodationD == 0 {
		return 0, nil
	}
	best, err := t.best()
	return accommodation(m-best.M, t.e.accommodationD), err
}

// bare is the state without its focus, leftover error and fixation.
func (t *tryout) bare() eye.State {
	return t.s.Without(func(p eye.Part) bool { return p.By == "focus" || p.By == string(Cylinder) || p.By == "fixation" })
}

// pupil samples the bare wavefront to choose a correction by.
func (t *tryout) pupil() (*quality.Pupil, error) {
	return quality.NewPupil(t.s.PupilMM, t.bare().PathUM)
}

// best is the error that suits the wavefront of the trial best, in quarter
// dioptres.
func (t *tryout) best() (refraction.PowerVector, error) {
	if !t.touched {
		return t.e.best(t.set, t.s.PupilMM)
	}
	p, err := t.pupil()
	if err != nil {
		return refraction.PowerVector{}, err
	}
	best, _ := p.Refract(p.FlatStart())
	return best, nil
}

// change replaces the parts for which which is true by k times themselves.
func (t *tryout) change(which func(eye.Part) bool, k float64) {
	if k == 1 {
		return
	}
	t.touched = true
	parts := slices.Clone(t.s.Parts)
	for i, p := range parts {
		if which(p) {
			parts[i] = scaled(p, k)
		}
	}
	t.s.Parts = parts
}

// unevenFront reports whether a part is the irregularity of the cornea's front.
func unevenFront(p eye.Part) bool { return p.By == string(Cornea) && p.Plane == eye.FrontCornea }

func onFront(p eye.Part) bool { return p.Plane == eye.FrontCornea }

func without(set Strengths, ids ...ID) Strengths {
	s := Strengths{}
	for id, k := range set {
		if !slices.Contains(ids, id) {
			s[id] = k
		}
	}
	return s
}
