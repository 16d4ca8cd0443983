package explain

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/cause"
	"simview/internal/eye"
)

// stateLogVS is the fast number of a state, as [fast.effective] has it.
func stateLogVS(s eye.State) (float64, error) {
	v, err := cause.VisualStrehl(s)
	if err != nil {
		return 0, err
	}
	return logVS(v) - readingLoss(s)/10, nil
}

// Apart is the quick test whose predicted results differ most between two
// explanations, each the one cause alone at its measured strength.
type Apart struct {
	A      cause.ID `json:"a"`
	B      cause.ID `json:"b"`
	Test   string   `json:"test"`
	A1     float64  `json:"expected_if_a_logmar_gained"`
	B1     float64  `json:"expected_if_b_logmar_gained"`
	Ratio  float64  `json:"difference_over_noise"`
	Enough bool     `json:"tells_them_apart"`
}

// quick are the tests of a pair, in their fixed order; dim light is the change
// from the bright to the dim pupil.
var quick = []string{"pinhole", "spectacles", "rigid-lens", "more-light", dimLight}

const dimLight = "dim-light"

// enough is how many standard deviations of the measurement two results must lie
// apart to be told apart: as in a repeat, 95 in 100.
const enough = 1.96

// gainNoise is the noise of the difference of two acuities.
var gainNoise = acuitySD * math.Sqrt2

// apart fills the pairs. What is expected is the gain in letters, by the fast
// surrogate.
func (t *teller) apart() error {
	t.tell("which quick test tells causes apart")
	ids := slices.DeleteFunc(slices.Clone(t.engines[0].ids), func(id cause.ID) bool { return id == cause.Rest })
	gains := make([][]float64, len(ids))
	if err := each(len(ids), func(i int) (err error) {
		gains[i], err = t.gains(ids[i])
		return err
	}); err != nil {
		return err
	}
	for i := range ids {
		for j := i + 1; j < len(ids); j++ {
			t.story.Apart = append(t.story.Apart, tellApart(ids[i], ids[j], gains[i], gains[j]))
		}
	}
	t.story.Covering = t.covering()
	return nil
}

func tellApart(a, b cause.ID, ga, gb []float64) Apart {
	out := Apart{A: a, B: b, Ratio: -1}
	for q, name := range quick {
		if r := math.Abs(ga[q]-gb[q]) / gainNoise; r > out.Ratio && !math.IsNaN(r) {
			out.Test, out.A1, out.B1, out.Ratio = name, ga[q], gb[q], r
		}
	}
	out.Enough = out.Ratio >= enough
	return out
}

// gains are the logMAR gained by each quick test in the eye with one cause alone;
// NaN for a test that this eye does not allow.
func (t *teller) gains(id cause.ID) ([]float64, error) {
	e, err := alone(t.engines[0], id)
	if err != nil {
		return nil, err
	}
	day, night := t.engines[0].v, t.engines[1].v
	before, err := e.State(e.All(), day, cause.Same)
	if err != nil {
		return nil, err
	}
	x0, err := stateLogVS(before)
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(quick))
	for q, test := range quick {
		after, err := e.State(e.All(), night, cause.Same)
		if test != dimLight {
			after, err = try(e, test, day)
		}
		if err != nil {
			out[q] = math.NaN()
			continue
		}
		x1, err := stateLogVS(after)
		if err != nil {
			return nil, err
		}
		out[q] = t.fasts[0].lines[Letters].rise(x1, x0)
	}
	return out, nil
}

func try(e *cause.Eye, test string, v cause.Viewing) (eye.State, error) {
	k, err := cause.FindTrial(test)
	if err != nil {
		return eye.State{}, err
	}
	return k.Apply(e, e.All(), v)
}

// covering says what covering one eye tells.
func (t *teller) covering() string {
	other := t.e.Side.Other()
	return fmt.Sprintf("Covering the %s eye: the trouble stays if it is the %s eye's, whichever cause; covering the %s eye: it goes. What stays with either eye covered is no matter of one eye.", other, t.e.Side, t.e.Side)
}
