package shares_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"simview/internal/shares"
)

// rounding: sums of at most 2⁸ products of numbers of size 10 in float64.
const rounding = 1e-9

func near(a, b float64) bool { return math.Abs(a-b) <= rounding }

func exact(t *testing.T, n int, v func(shares.Set) float64) shares.Result {
	t.Helper()
	r, err := shares.Exact(n, v)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// anyGame gives every set a number of its own.
func anyGame(n int, seed uint64) func(shares.Set) float64 {
	random := rand.New(rand.NewPCG(seed, 7))
	values := make([]float64, 1<<n)
	for k := range values {
		values[k] = 10*random.Float64() - 5
	}
	return func(s shares.Set) float64 { return values[s] }
}

// TestTwoCausesByHand: v(none) 1, v(a) 4, v(b) 2, v(ab) 7. Cause a adds 3 first
// and 5 last, b 1 and 3; together they make 2 more than each by itself.
func TestTwoCausesByHand(t *testing.T) {
	v := []float64{1, 4, 2, 7}
	r := exact(t, 2, func(s shares.Set) float64 { return v[s] })
	if !near(r.Share[0], 4) || !near(r.Share[1], 2) || !near(r.Pair[0][1], 2) || !near(r.Pair[1][0], 2) {
		t.Errorf("shares %v, together %v", r.Share, r.Pair)
	}
	if !near(r.PutRight[0], 5) || !near(r.PutRight[1], 3) || !near(r.Alone[0], 3) || !near(r.Alone[1], 1) || !near(r.Total(), 6) {
		t.Errorf("put right %v, alone %v of %v", r.PutRight, r.Alone, r.Total())
	}
}

// TestTextbookGames: the division of gloves, of a landing strip and of a vote, as
// in textbooks of game theory (glove and airport game, Littlechild and Owen 1973;
// weighted vote, Shapley and Shubik 1954; from memory, each worked out by hand).
func TestTextbookGames(t *testing.T) {
	glove := func(s shares.Set) float64 { // one left glove, two right ones
		if s.Has(0) && (s.Has(1) || s.Has(2)) {
			return 1
		}
		return 0
	}
	airport := func(s shares.Set) float64 { // the strip must suit the largest plane
		var need float64
		for i, cost := range []float64{8, 11, 13, 18} {
			if s.Has(i) {
				need = max(need, cost)
			}
		}
		return need
	}
	vote := func(s shares.Set) float64 { // 50, 49 and 1 votes, 51 win
		sum := 0
		for i, w := range []int{50, 49, 1} {
			if s.Has(i) {
				sum += w
			}
		}
		if sum >= 51 {
			return 1
		}
		return 0
	}
	for _, c := range []struct {
		name string
		v    func(shares.Set) float64
		want []float64
	}{
		{"gloves", glove, []float64{4. / 6, 1. / 6, 1. / 6}},
		{"landing strip", airport, []float64{2, 3, 4, 9}}, // 8/4; + 3/3; + 2/2; + 5/1
		{"vote", vote, []float64{4. / 6, 1. / 6, 1. / 6}},
	} {
		r := exact(t, len(c.want), c.v)
		for i, w := range c.want {
			if !near(r.Share[i], w) {
				t.Errorf("%s: shares %v, want %v", c.name, r.Share, c.want)
				break
			}
		}
	}
}

// TestTheSharesAreTheMeanOverAllOrders goes through every order by itself, the
// definition of 1953, for games in which every set has a value of its own.
func TestTheSharesAreTheMeanOverAllOrders(t *testing.T) {
	for n := 1; n <= 6; n++ {
		v := anyGame(n, uint64(n))
		r := exact(t, n, v)
		sum, total := make([]float64, n), 0.0
		orders := 0
		permute(n, func(order []int) {
			var s shares.Set
			for _, i := range order {
				sum[i] += v(s.With(i)) - v(s)
				s = s.With(i)
			}
			orders++
		})
		for i := range n {
			if !near(r.Share[i], sum[i]/float64(orders)) {
				t.Errorf("%d causes: share of %d is %v, over %d orders %v", n, i, r.Share[i], orders, sum[i]/float64(orders))
			}
			total += r.Share[i]
		}
		if !near(total, r.Total()) {
			t.Errorf("%d causes: shares add up to %v of %v", n, total, r.Total())
		}
	}
}

func permute(n int, visit func([]int)) {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var walk func(k int)
	walk = func(k int) {
		if k == n {
			visit(order)
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			walk(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	walk(0)
}

// TestTheNamesOfCausesDoNotMatter: causes in another order have the same shares.
func TestTheNamesOfCausesDoNotMatter(t *testing.T) {
	const n = 5
	v := anyGame(n, 11)
	to := []int{3, 0, 4, 2, 1}
	renamed := func(s shares.Set) float64 {
		var back shares.Set
		for i := range n {
			if s.Has(to[i]) {
				back = back.With(i)
			}
		}
		return v(back)
	}
	a, b := exact(t, n, v), exact(t, n, renamed)
	for i := range n {
		if !near(a.Share[i], b.Share[to[i]]) {
			t.Errorf("share of %d: %v, under another name %v", i, a.Share[i], b.Share[to[i]])
		}
	}
}

func TestACauseThatChangesNothingHasNoShare(t *testing.T) {
	v := anyGame(4, 3)
	r := exact(t, 5, func(s shares.Set) float64 { return v(s.Without(4)) })
	if !near(r.Share[4], 0) || !near(r.PutRight[4], 0) || !near(r.Alone[4], 0) || !near(r.Pair[4][1], 0) {
		t.Errorf("share %v, put right %v, with another %v", r.Share[4], r.PutRight[4], r.Pair[4])
	}
}

func TestSharesOfASumOfGamesAreSumsOfShares(t *testing.T) {
	a, b := anyGame(5, 1), anyGame(5, 2)
	ra, rb := exact(t, 5, a), exact(t, 5, b)
	r := exact(t, 5, func(s shares.Set) float64 { return a(s) + 2*b(s) })
	for i := range r.Share {
		if !near(r.Share[i], ra.Share[i]+2*rb.Share[i]) {
			t.Errorf("share of %d: %v", i, r.Share[i])
		}
	}
}

// TestACauseThatCancelsAnotherHasANegativeShare: b alone harms nothing and takes
// back half of what a does.
func TestACauseThatCancelsAnotherHasANegativeShare(t *testing.T) {
	v := []float64{0, 2, 0, 1}
	r := exact(t, 2, func(s shares.Set) float64 { return v[s] })
	if !near(r.Share[1], -0.5) || !near(r.Share[0], 1.5) || !near(r.Pair[0][1], -1) {
		t.Errorf("shares %v, together %v", r.Share, r.Pair)
	}
}

func TestWhatCannotBeDividedIsRefused(t *testing.T) {
	none := func(shares.Set) float64 { return 0 }
	bad := func(s shares.Set) float64 { return math.NaN() }
	how := shares.Sampling{Seed: 1, Within: 0.1, MaxOrders: 10}
	for want, f := range map[string]func() (shares.Result, error){
		"must be a cause": func() (shares.Result, error) { return shares.Exact(0, none) },
		"at most 8 causes (got 10, which would take 1024 values); hint: take sampled shares": func() (shares.Result, error) { return shares.Exact(10, none) },
		"not a finite number":   func() (shares.Result, error) { return shares.Exact(2, bad) },
		"for 1 to 63 causes":    func() (shares.Result, error) { return shares.Sampled(64, none, how) },
		"within an error above": func() (shares.Result, error) { return shares.Sampled(3, none, shares.Sampling{MaxOrders: 9}) },
		"is not a finite":       func() (shares.Result, error) { return shares.Sampled(3, bad, how) },
	} {
		if _, err := f(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}
