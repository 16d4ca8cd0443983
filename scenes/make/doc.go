// Command make renders the pictures that stand beside some of the built-in
// scenes. It is needed only when one of them is changed:
//
//	go run ./scenes/make -out scenes stairs
//	go run ./scenes/make -quick -look /tmp stairs     (a coarse look, seconds)
//
// It prints the lamps of the scene as they belong into its YAML file: where
// they stand in the picture and the light they give the eye. The seed is fixed,
// so the same program gives the same pictures.
//
// # Conventions
//
// Axes and origin, index scheme and normalisation, sign, eye side, internal
// units, sampling and centring: those of package studio.
package main
