package explain

import "simview/internal/doubt"

// headlines are the numbers of one measure in one light, in a fixed order: as it
// is, then for each cause put right in own glasses, in new glasses, and its share.
func (g *engine) headlines(h harms) ([]float64, error) {
	r, err := divide(len(g.ids), h)
	if err != nil {
		return nil, err
	}
	out := []float64{h(place{g.all(), suited})}
	for i := range g.ids {
		same, renewed := g.right(i, h)
		out = append(out, same, renewed, r.Share[i])
	}
	return out, nil
}

// Estimate is a number and how sure it is.
type Estimate struct {
	Value float64 `json:"value"`
	// Low and High hold 90 in 100 of what the noise of measurements leaves open.
	Low  float64 `json:"low_noise_only"`
	High float64 `json:"high_noise_only"`
	// ModelLow and ModelHigh add that the model may be wrong.
	ModelLow  float64 `json:"low_with_model_error"`
	ModelHigh float64 `json:"high_with_model_error"`
	// Matters is the input that moves the number most, with its part of the
	// variance, 0 to 1; empty where nothing moves it.
	Matters      string  `json:"matters_most,omitempty"`
	MattersShare float64 `json:"matters_share,omitempty"`
}

// Errors of the model, one standard deviation, all assumed: of a level, the rms
// distance of the letter observer from published acuities with blur; of a change,
// a part of its size and a little of its own, since most of the error of a level
// is the same on both sides.
var (
	levelError  = [...]float64{0.10, 0.15, 5}
	changeFloor = [...]float64{0.02, 0.03, 1}
)

const changePart = 0.3

func estimate(value float64, i doubt.Interval, in []input, sd float64) Estimate {
	w := i.Wider(value, sd)
	e := Estimate{Value: value, Low: i.Low, High: i.High, ModelLow: min(w.Low, i.Low), ModelHigh: max(w.High, i.High)}
	if i.Matters >= 0 {
		e.Matters, e.MattersShare = in[i.Matters].Name, i.Share
	}
	return e
}

func changeError(m Measure, value float64) float64 {
	return max(changeFloor[m], changePart*max(value, -value))
}
