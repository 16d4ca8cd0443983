package match

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Severity sums up an adjustment; all numbers are in Unit.
type Severity struct {
	View  string    `json:"view"`
	Unit  string    `json:"unit"`
	Below []float64 `json:"below"` // values of the runs that came from below
	Above []float64 `json:"above"` // and of those from above
	// Complete says that all runs are done; the rest holds what there is.
	Complete bool `json:"complete"`
	// Known says that there are two values or more, one of each direction; without
	// it Mean, SD and Gap are 0.
	Known bool `json:"known"`
	// Mean is the mean of the mean from below and the mean from above, with the
	// 90 % interval from the spread of all values (Student's t).
	Mean Estimate `json:"mean"`
	// SD is the standard deviation of all values.
	SD float64 `json:"sd"`
	// Gap is the mean from above minus the mean from below.
	Gap float64 `json:"gap"`
	// AtEnd counts values at an end of the range: the true one may lie beyond.
	AtEnd int `json:"at_end"`
}

// summary sums up the runs that are done. With m values of standard deviation SD
//
//	Mean = (mean(Below) + mean(Above)) / 2
//	half of the interval = t(0.95; m - 1) SD / sqrt(m)
func (a Adjustment) summary(view string) Severity {
	s := Severity{View: view, Unit: a.Unit, Below: []float64{}, Above: []float64{}}
	_, going := a.Current()
	s.Complete = !going
	var all []float64
	for _, r := range a.Runs {
		if !r.Done {
			continue
		}
		all = append(all, r.Value)
		s.AtEnd += one(r.Value == a.Lo || r.Value == a.Hi)
		if r.FromAbove {
			s.Above = append(s.Above, r.Value)
		} else {
			s.Below = append(s.Below, r.Value)
		}
	}
	if len(s.Below) == 0 || len(s.Above) == 0 {
		return s
	}
	s.Known = true
	below, above := mean(s.Below), mean(s.Above)
	s.Gap, s.SD = above-below, deviation(all)
	m := float64(len(all))
	half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: m - 1}.Quantile((1+0.90)/2) * s.SD / math.Sqrt(m)
	at := (below + above) / 2
	s.Mean = Estimate{Value: at, Lo: at - half, Hi: at + half}
	return s
}

// deviation is the standard deviation of two values or more.
func deviation(x []float64) float64 {
	var sum float64
	m := mean(x)
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return math.Sqrt(sum / float64(len(x)-1))
}
