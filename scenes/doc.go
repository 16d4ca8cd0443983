// Package scenes holds the scenes that come with simview: one YAML file each,
// all invented for it. The README beside them says how to write another.
//
// # Conventions
//
// Axes and origin, index scheme and normalisation, sign, eye side, internal
// units, sampling and centring: those of package scene, which reads the files.
// The order of [Builtins] is the order in which the scenes are best shown.
package scenes
