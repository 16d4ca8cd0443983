package cause

import (
	"cmp"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"simview/internal/eye"
	"simview/internal/quality"
	"simview/internal/refraction"
)

// Spread is the outcomes of a what-if in one view, ordered by the visual Strehl
// ratio, scattered light taken off ([VisualStrehl]).
type Spread struct {
	Draws      int
	Seed       uint64
	Now        float64   // the same number of the eye as it is, in the same kind of glasses
	Values     []float64 // of every draw, from worst to best
	WorseShare float64   // share of the draws below Now

	order []int // the draw behind each value
}

// ends of the middle 80 in 100.
const lowEnd, highEnd = 0.1, 0.9

// at is the place among the ordered draws of an outcome.
func (s Spread) at(o Outcome) int {
	part := map[Outcome]float64{Worse: lowEnd, Middle: 0.5, Better: highEnd}[o]
	return int(math.Round(part * float64(s.Draws-1)))
}

func (s Spread) drawOf(o Outcome) int { return s.order[s.at(o)] }

// Value is the visual Strehl ratio of the middle outcome or of one of the ends
// of the middle 80 in 100.
func (s Spread) Value(o Outcome) float64 { return s.Values[s.at(o)] }

// Words says how many draws come out worse than now.
func (s Spread) Words() string {
	return fmt.Sprintf("%.0f of %d draws (seed %d) come out worse than now in the optics alone", s.WorseShare*float64(s.Draws), s.Draws, s.Seed)
}

// Spread draws the outcomes of a what-if in a view. Errors are those of
// [Trial.Apply], and a trial that has no spread. An eye keeps its spreads.
func (t Trial) Spread(e *Eye, set Strengths, v Viewing) (Spread, error) {
	s, ok := t.whatIf()
	if !ok {
		return Spread{}, fmt.Errorf("trial %s: is tried in the room and has no spread", t.ID)
	}
	key := fmt.Sprintf("%s %v %v %v", t.With(Exact).ID, set, v, e.Extrapolate)
	e.mu.Lock()
	kept, ok := e.spreads[key]
	e.mu.Unlock()
	if ok {
		return kept, nil
	}
	sp, err := t.drawn(e, set, v, int(s.set["draws"]), uint64(s.set["seed"]))
	if err != nil {
		return sp, err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.spreads == nil {
		e.spreads = map[string]Spread{}
	}
	e.spreads[key] = sp
	return sp, nil
}

func (t Trial) drawn(e *Eye, set Strengths, v Viewing, n int, seed uint64) (Spread, error) {
	sp := Spread{Draws: n, Seed: seed, Values: make([]float64, n), order: make([]int, n)}
	var err error
	if sp.Now, err = t.value(e, set, v, asNow); err != nil {
		return sp, err
	}
	values, err := each(n, func(k int) (float64, error) { return t.value(e, set, v, draw(seed, k)) })
	if err != nil {
		return sp, err
	}
	for k := range sp.order {
		sp.order[k] = k
	}
	slices.SortStableFunc(sp.order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	worse := 0
	for k, from := range sp.order {
		sp.Values[k] = values[from]
		if values[from] < sp.Now {
			worse++
		}
	}
	sp.WorseShare = float64(worse) / float64(n)
	return sp, nil
}

// each works out n values on all cores, each in its place.
func each(n int, f func(k int) (float64, error)) ([]float64, error) {
	values, errs := make([]float64, n), make([]error, n)
	var wait sync.WaitGroup
	workers := min(n, runtime.GOMAXPROCS(0))
	for w := range workers {
		wait.Go(func() {
			for k := w; k < n; k += workers {
				values[k], errs[k] = f(k)
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return values, nil
}

func (t Trial) value(e *Eye, set Strengths, v Viewing, l luck) (float64, error) {
	r, err := t.run(e, set, v, l)
	if err != nil {
		return 0, err
	}
	return VisualStrehl(r.s)
}

// VisualStrehl is the visual Strehl ratio of a state as it is focused, light that
// passes beside a displaced lens counted as lost, times the
// share of light that is not scattered: what scatter takes, it takes from all
// detail alike.
func VisualStrehl(s eye.State) (float64, error) {
	p, err := quality.NewAperture(s.Aperture())
	if err != nil {
		return 0, err
	}
	return s.Glare.Keep() * p.VisualStrehl(refraction.PowerVector{}), nil
}
