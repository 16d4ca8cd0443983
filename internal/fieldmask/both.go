package fieldmask

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// Rule is how the sensitivities of two eyes add up to that of both.
type Rule int

// The two published rules. Against fields measured with both eyes open, in 111
// people with glaucoma, summation was off by 0 in the mean and the better eye
// too low by 1.5 dB (Nelson-Quigg2000).
const (
	Summation Rule = iota // B = √(R² + L²) in linear sensitivity
	BetterEye             // B = max(R, L)
)

// String names the rule for labels.
func (r Rule) String() string {
	if r == BetterEye {
		return "better eye at each place"
	}
	return "summation of both eyes"
}

// add returns the sensitivity of both eyes in dB; -Inf is a blind place.
func (r Rule) add(rightDB, leftDB float64) float64 {
	if r == BetterEye {
		return math.Max(rightDB, leftDB)
	}
	return 10 * math.Log10(math.Hypot(math.Pow(10, rightDB/10), math.Pow(10, leftDB/10)))
}

// Binocular is the field loss of two eyes that look at the same place:
// corresponding points are equal directions. The zero value is of no use; see
// [Both].
type Binocular struct {
	right, left *Surface
	rule        Rule
	age         float64
	norm        [2]*Norm
}

// Both combines the loss of two eyes. A nil surface is an eye with a full field;
// both nil, or an eye on the wrong side, is an error.
func Both(right, left *Surface, rule Rule) (*Binocular, error) {
	b := &Binocular{right: right, left: left, rule: rule}
	switch {
	case right == nil && left == nil:
		return nil, fmt.Errorf("field: neither eye has a field; nothing to combine")
	case right != nil && right.side != unit.Right, left != nil && left.side != unit.Left:
		return nil, fmt.Errorf("field: the fields to combine must be of the right eye, then of the left")
	case rule != Summation && rule != BetterEye:
		return nil, fmt.Errorf("field: unknown rule for two eyes (%d)", rule)
	}
	for i, s := range []*Surface{right, left} {
		if s != nil {
			b.age, b.norm[i] = s.age, s.norm
		}
	}
	return b, nil
}

// LossDB returns what both eyes together lack at a direction, in dB >= 0, of
// what two unharmed eyes have there,
//
//	loss = B(NR, NL) - B(NR - lossR, NL - lossL)
//
// N the age norm. In the blind spot of one eye only the other counts, on both
// sides of the difference, so that it is filled and leaves no loss of its own.
func (b *Binocular) LossDB(xDeg, yDeg float64) float64 {
	nr, r := b.eye(b.right, unit.Right, xDeg, yDeg)
	nl, l := b.eye(b.left, unit.Left, xDeg, yDeg)
	return math.Max(0, b.rule.add(nr, nl)-b.rule.add(nr-r, nl-l))
}

// eye returns norm and loss of one eye; -Inf and 0 in its blind spot.
func (b *Binocular) eye(s *Surface, side unit.Side, x, y float64) (norm, loss float64) {
	if InBlindSpot(side, x, y) {
		return math.Inf(-1), 0
	}
	n := b.norm[0]
	if side == unit.Left {
		n = b.norm[1]
	}
	norm = float64(n.At(side, unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}, b.age))
	if s != nil {
		loss = s.LossDB(x, y)
	}
	return norm, loss
}

// Known reports whether every eye that was tested is known at a direction, its
// own blind spot apart.
func (b *Binocular) Known(xDeg, yDeg float64) bool {
	for _, s := range []*Surface{b.right, b.left} {
		if s != nil && !s.Known(xDeg, yDeg) && !InBlindSpot(s.side, xDeg, yDeg) {
			return false
		}
	}
	return true
}
