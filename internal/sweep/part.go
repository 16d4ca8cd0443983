package sweep

import (
	"fmt"
	"strconv"
	"strings"
)

// Part is a share of a grid: the K-th of N, from 1.
type Part struct{ K, N int }

// Whole is all of a grid.
var Whole = Part{1, 1}

// ParsePart reads k/n with 1 <= k <= n; anything else is an error.
func ParsePart(text string) (Part, error) {
	a, b, ok := strings.Cut(text, "/")
	k, err1 := strconv.Atoi(a)
	n, err2 := strconv.Atoi(b)
	if !ok || err1 != nil || err2 != nil || k < 1 || n < k {
		return Part{}, fmt.Errorf("must be k/n with k from 1 to n, as in 2/16 (got %q)", text)
	}
	return Part{k, n}, nil
}

// Of returns the part's pictures: neighbours, since they share a scene and an eye.
// The parts 1/n to n/n hold each picture once, and their sizes differ by one at most;
// of more parts than pictures, some are empty.
func (p Part) Of(cells []Cell) []Cell {
	at := func(k int) int { return int(int64(len(cells)) * int64(k) / int64(p.N)) }
	return cells[at(p.K-1):at(p.K)]
}

// String returns k/n.
func (p Part) String() string { return fmt.Sprintf("%d/%d", p.K, p.N) }
