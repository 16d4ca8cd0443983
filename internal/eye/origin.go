package eye

import "simview/internal/unit"

// Origin says how a part of the wavefront is known.
type Origin int

// The origins of a part.
const (
	NotStated    Origin = iota // nobody said: the zero value
	Measured                   // measured on this eye
	Traced                     // rays through the surfaces of this eye
	Typical                    // usual for an eye like this one
	Assumed                    // taken for want of anything better
	Generated                  // a seeded surface with measured or assumed height and grain
	Computed                   // worked out to suit the rest: glasses, the turn of the eye
	NotExplained               // measured on this eye, and no cause explains it
)

// String returns the origin in one word.
func (o Origin) String() string {
	names := [...]string{"not stated", "measured", "traced", "typical", "assumed", "generated", "computed", "unexplained"}
	if o < 0 || int(o) >= len(names) {
		return "unknown origin"
	}
	return names[o]
}

// OriginOf returns the origin of a part that a single value made.
func OriginOf(o unit.Origin) Origin {
	return map[unit.Origin]Origin{unit.Measured: Measured, unit.Typical: Typical, unit.Assumed: Assumed}[o]
}
