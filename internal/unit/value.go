package unit

import "fmt"

// Origin says where a value came from.
type Origin int

// The origins, from the strongest to the weakest.
const (
	Missing  Origin = iota // not given: the zero Value
	Measured               // measured on this eye
	Typical                // usual for this age or kind of eye, source named
	Assumed                // taken for want of anything better
)

// String returns "missing", "measured", "typical" or "assumed".
func (o Origin) String() string {
	names := [...]string{"missing", "measured", "typical", "assumed"}
	if o < 0 || int(o) >= len(names) {
		return fmt.Sprintf("origin(%d)", int(o))
	}
	return names[o]
}

// Value is one thing known about an eye: the value in the unit of its type,
// its noise (one standard deviation in the same unit, 0 = not stated), and
// where it came from.
type Value[T any] struct {
	V      T
	SD     float64
	From   Origin
	Source string // instrument, norm or reason, in words
	File   string // case file it was read from
	Line   int    // line in that file, 0 = none
}

// Given reports whether the value is present at all.
func (v Value[T]) Given() bool { return v.From != Missing }

// Or returns v when it is given and otherwise an assumed value with the reason.
func (v Value[T]) Or(t T, from Origin, source string) Value[T] {
	if v.Given() {
		return v
	}
	return Value[T]{V: t, From: from, Source: source}
}
