package main

import "simview/internal/studio"

// Short names: a scene is mostly places and colours.
type (
	v3       = studio.V3
	rgb      = studio.RGB
	body     = studio.Body
	material = studio.Material
	surface  = studio.Surface
)

// v returns a place or direction: right, up, ahead.
func v(x, y, z float64) v3 { return v3{X: x, Y: y, Z: z} }

// hue returns a colour of linear sRGB primaries.
func hue(r, g, b float64) rgb { return rgb{R: r, G: g, B: b} }
