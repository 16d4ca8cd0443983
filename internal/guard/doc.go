// Package guard holds the rules of the house as tests: which room may import
// which, what every package has to say about itself, how long things may be,
// where test data comes from, and that nothing is random without a seed. It has
// no code of its own. Each rule is a function that is first shown a small
// broken source, so that a rule that cannot fail is itself a failure.
//
// # Conventions
//
// Axes and origin, index scheme and normalisation, sign, eye side, sampling and
// centring: none, for no quantity passes through here. Internal units: lengths
// of files and functions are counted in lines, brace to brace.
package guard
