package main

import "simview/internal/studio"

// A flight of wooden stairs in a house, from its top: 11 steps of 17 x 28 cm,
// all of one wood, daylight from a hall on the left and a lamp overhead.
const (
	steps         = 11
	rise, going   = 0.17, 0.28
	topEdge       = 0.95 // m ahead of the eye
	leftX, rightX = -0.50, 0.56
	hallY         = -steps * rise
	endZ          = topEdge + going*steps
	hallZ         = endZ + 1.05
)

func stairs() stage {
	return stage{
		id: "stairs", build: stairwell, white: 80,
		camera: studio.Camera{Eye: v3{X: 0.03, Y: 1.58}, PitchDeg: -45.5, YawDeg: -1.5},
		tiles:  []tile{frame(3), around(), {"window", 0.5, 1, 6, 4.5, 0.5, 3}},
	}
}

func stairwell() *studio.World {
	wall := plaster(hue(0.70, 0.67, 0.60), 1)
	white := glazed(hue(0.72, 0.70, 0.66), 0.3)
	oak := wooden(hue(0.36, 0.235, 0.135), v3{X: 1}, 0.035, 0.28, 3)
	rail := wooden(hue(0.28, 0.15, 0.075), v3{Y: -0.52, Z: 0.855}, 0.02, 0.2, 5)
	b := []body{
		along(rightX, hallY, -3, 2.5, hallZ, wall),
		along(-3.2, hallY, -3, 2.5, hallZ, wall),
		across(hallZ, -3.2, hallY, rightX, 2.5, wall),
		across(-3, -3.2, hallY, rightX, 2.5, wall),
		level(2.5, -3.2, -3, rightX, hallZ, matt(studio.Grey(0.8))),
		level(hallY, -3.2, -3, rightX, hallZ, tiled()),
		slab(v(-3.2, -0.25, -3), v(rightX, 0, topEdge), oak),
		slab(v(-3.2, hallY, hallZ-0.015), v(rightX, hallY+0.1, hallZ), white),
		along(-3.19, hallY+0.9, 1.6, hallY+2.3, 3.2, shining(hue(0.92, 1, 1.12).Mul(1500))),
		level(2.49, -0.3, 0.4, 0.3, 1.0, shining(hue(1.25, 0.97, 0.62).Mul(350))),
		level(hallY+0.012, -0.40, endZ+0.22, 0.42, endZ+0.74, rug()),
	}
	b = append(b, flight(oak, white)...)
	b = append(b, banister(rail, white)...)
	b = append(b, shoes()...)
	return studio.NewWorld(b, nil, nil)
}

// flight returns treads with a nosing, risers, and the string board on the wall.
func flight(oak, white *material) []body {
	var b []body
	for i := 1; i < steps; i++ {
		y, z := -rise*float64(i), topEdge+going*float64(i)
		top, nose := board(oak, uint64(i)), z+0.005
		b = append(b, slab(v(leftX, y-0.032, z-going-0.02), v(rightX, y, nose), top),
			body{Shape: studio.Rod{A: v(leftX+0.016, y-0.016, nose), B: v(rightX, y-0.016, nose), Radius: 0.016}, Material: top},
			slab(v(leftX, y-rise, z-0.02), v(rightX, y-0.02, z), oak))
	}
	const under, over = 0.2, 0.11 // the string board, below and above the line of nosings
	foot := v(rightX-0.016, rise-under, topEdge-going)
	b = append(b, body{Shape: studio.Quad{At: foot, U: v(0, -rise*(steps+1), going*(steps+1)), V: v(0, under+over, 0)}, Material: white})
	return b
}

// board makes each tread a board of its own.
func board(m *material, n uint64) *material {
	own := *m
	own.Vary = func(p v3, s *surface) {
		m.Vary(p.Add(v3{X: 3.7 * float64(n), Y: 0.9 * float64(n%3)}), s)
		s.Albedo = s.Albedo.Mul(1 + 0.05*float64(int(n*7%5)-2)/2)
	}
	return &own
}

// banister returns balusters on the open side, its rail, and one on the wall.
func banister(rail, white *material) []body {
	var b []body
	const up = 0.92
	for i := range 2*steps + 1 {
		z := topEdge + going*(float64(i)/2-0.25)
		y := -rise * float64((i+1)/2)
		top := -rise*(z-topEdge+going/2)/going + up
		b = append(b, body{Shape: studio.Rod{A: v3{X: leftX + 0.04, Y: y, Z: z}, B: v3{X: leftX + 0.04, Y: top, Z: z}, Radius: 0.011}, Material: white})
	}
	slope := func(x, z0, z1, lift, r float64) body {
		at := func(z float64) v3 { return v3{X: x, Y: -rise*(z-topEdge+going/2)/going + lift, Z: z} }
		return body{Shape: studio.Rod{A: at(z0), B: at(z1), Radius: r}, Material: rail}
	}
	b = append(b, slope(leftX+0.04, topEdge-0.2, endZ, up, 0.028), slope(rightX-0.075, topEdge-0.3, endZ-0.1, 0.88, 0.022))
	b = append(b, slab(v(leftX, hallY, endZ-0.02), v(leftX+0.09, hallY+1.06, endZ+0.07), white))
	for i := range 4 {
		z := topEdge + 0.3 + 0.8*float64(i)
		y := -rise*(z-topEdge+going/2)/going + 0.87
		b = append(b, body{Shape: studio.Rod{A: v3{X: rightX, Y: y - 0.03, Z: z}, B: v3{X: rightX - 0.07, Y: y - 0.01, Z: z}, Radius: 0.008}, Material: rail})
	}
	return b
}

// tiled is the floor of the hall: pale stone tiles with joints.
func tiled() *material {
	c := hue(0.44, 0.40, 0.34)
	return &material{Surface: surface{Albedo: c, F0: 0.04, Rough: 0.25}, Plain: true, Vary: func(p v3, s *surface) {
		const size, joint = 0.3, 0.006
		x, z := wrap(p.X, size), wrap(p.Z, size)
		tone := 1 + 0.07*studio.Noise(v3{X: floor(p.X / size * 1.0001), Z: floor(p.Z / size * 1.0001)}.Mul(3.31), 8)
		s.Albedo = c.Mul(tone * (1 + 0.09*studio.Fractal(p.Mul(9), 7, 7, 0.85)))
		if x < joint || z < joint {
			s.Albedo, s.F0 = c.Mul(0.62), 0
		}
	}}
}

// rug is a mat in front of the stairs, with two stripes.
func rug() *material {
	dark, pale := hue(0.14, 0.11, 0.12), hue(0.34, 0.27, 0.2)
	return &material{Surface: surface{Albedo: dark}, Plain: true, Vary: func(p v3, s *surface) {
		edge := min(p.X+0.40, 0.42-p.X, p.Z-endZ-0.22, endZ+0.74-p.Z)
		s.Albedo = dark
		if edge > 0.05 && edge < 0.09 {
			s.Albedo = pale
		}
		s.Albedo = s.Albedo.Mul(studio.Weave(p, 0.006, 4) * (1 + 0.2*studio.Fractal(p.Mul(80), 6, 3, 0.8)))
	}}
}

// shoes stand beside the mat.
func shoes() []body {
	leather := glazed(hue(0.07, 0.045, 0.03), 0.25)
	var b []body
	for i, x := range []float64{-0.30, -0.18} {
		turn := 8 - 14*float64(i)
		c := v3{X: x, Y: hallY + 0.06, Z: endZ + 0.86}
		b = append(b, field(c, v3{X: 0.12, Y: 0.08, Z: 0.18}, 1.5, leather, func(p v3) float64 {
			p = p.RotY(-turn)
			sole := studio.Ellipsoid(p.Sub(v3{Y: -0.03, Z: -0.03}), v3{X: 0.045, Y: 0.035, Z: 0.13})
			heel := studio.Ellipsoid(p.Sub(v3{Y: -0.005, Z: 0.07}), v3{X: 0.04, Y: 0.055, Z: 0.065})
			hole := studio.Ellipsoid(p.Sub(v3{Y: 0.05, Z: 0.07}), v3{X: 0.028, Y: 0.06, Z: 0.05})
			return max(studio.Carve(studio.Join(sole, heel, 0.04), hole, 0.01), -0.06-p.Y)
		}))
	}
	return b
}
