package doubt

import (
	"cmp"
	"slices"
)

// cells is how many slices an input is cut into when asking how much of a number's variance goes with it.
const cells = 20

// ratio is the share of the variance of a number that input i alone explains,
// the correlation ratio
//
//	η² = Var(E[y | x_i]) / Var y
//
// counted in cells of equally many draws each, less what chance makes of it,
// (cells - 1)/(n - 1). It sees a bent relation as well as a straight one. 0 for an
// input or a number that does not move. order are the draws by rising x_i.
func (s *sample) ratio(i int, order []int, y []float64) float64 {
	n := len(y)
	if s.xs[order[0]][i] == s.xs[order[n-1]][i] || slices.Min(y) == slices.Max(y) {
		return 0
	}
	var mean float64
	for _, v := range y {
		mean += v / float64(n)
	}
	var between, all float64
	for c := range cells {
		part := order[c*n/cells : (c+1)*n/cells]
		var sum float64
		for _, k := range part {
			sum += y[k]
			all += (y[k] - mean) * (y[k] - mean)
		}
		d := sum/float64(len(part)) - mean
		between += d * d * float64(len(part))
	}
	chance := float64(cells-1) / float64(n-1)
	return max(0, (between/all-chance)/(1-chance))
}

// order lists the draws by rising input i.
func (s *sample) order(i int) []int {
	order := make([]int, len(s.xs))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.xs[a][i], s.xs[b][i]) })
	return order
}
