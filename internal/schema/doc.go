// Package schema builds the JSON Schema of a kind of file from the Go types it is
// read into, so that editors and the reader know the same keys.
//
// # Conventions
//
// Axes, origin, eye side and sampling or centring: none. Index scheme and
// normalisation: a group of keys has one definition, named after its type; other
// keys are never let in. Sign: none. Internal units: none; ranges are in the unit
// of their key.
package schema
