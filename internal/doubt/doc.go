// Package doubt says how sure a number is that was worked out from measurements:
// each measurement has noise, each quantity a usual range, and together they leave
// a belief about what is true. Seeded draws from these beliefs go through the
// model and give an interval.
//
// An [Input] is measured with a standard deviation and is usual by a [Prior]; its
// [Input.Belief] is the product of the two, a normal distribution cut where the
// quantity ends. [Propagate] draws until the ends of every interval stand still,
// and names the input that moves each number most. Where the model is slow, a
// [Surface] stands in for it: the model at two more values of each input,
// interpolated.
//
// An interval covers the noise of measurements only. That the model itself may be
// wrong is no part of it; [Interval.Wider] adds that.
//
// # Conventions
//
// Axes and origin: none, numbers only. Index scheme and normalisation: draws are
// [input] and results [number], in the order given. Sign: none. Eye side: none.
// Internal units: those of each input; a standard deviation is in the unit of its
// quantity. Sampling and centring: an interval holds the middle 90 in 100 of the
// draws and is not centred on the value that was measured; draws come from a seed.
package doubt
