package main

import (
	"math"

	"simview/internal/studio"
)

// Someone sits at a table with a bright window behind: a face of about 45 cd/m²
// against a sky of several thousand. Nobody in particular.
var head = v(-0.01, 1.225, 1.25)

// turned is how far the head looks to the left of us, degrees.
const turned = 24.0

// own takes a place from the middle of the head into its own axes: x to our
// right, y up, the nose towards -z.
func own(p v3) v3 { return p.RotY(-turned) }

func sitter() stage {
	return stage{
		id: "face-window", build: sitting, white: 400,
		camera: studio.Camera{Eye: v(0, 1.2, 0)},
		tiles:  []tile{frame(2), around(), {"window", 0.7, 1, 6, 4.5, 0.5, 3}},
	}
}

func sitting() *studio.World {
	wall := plaster(hue(0.52, 0.48, 0.42), 1)
	b := []body{
		along(-2.2, 0, -2.5, 2.6, 3.4, wall), along(2.2, 0, -2.5, 2.6, 3.4, wall),
		across(-2.5, -2.2, 0, 2.2, 2.6, wall),
		level(2.6, -2.2, -2.5, 2.2, 3.4, matt(grey(0.78))),
		level(0, -2.2, -2.5, 2.2, 3.4, wooden(hue(0.3, 0.2, 0.12), v(0, 0, 1), 0.05, 0.3, 2)),
		across(3.41, windowLeft-0.05, sill-0.05, windowRight+0.05, lintel+0.05, outdoors()),
		// a second window, on the left behind the eye
		along(-2.19, 1.0, -1.9, 2.1, 0.5, shining(hue(0.95, 1, 1.1).Mul(1700))),
	}
	b = append(b, windowWall(wall)...)
	b = append(b, person()...)
	return studio.NewWorld(b, nil, nil)
}

const windowLeft, windowRight, sill, lintel = -1.15, 1.05, 0.98, 2.3

// outdoors is what the window shows: sky over a line of trees and a field.
func outdoors() *material {
	return &material{Surface: surface{Glow: grey(3000)}, Vary: func(p v3, s *surface) {
		sky := hue(0.93, 1, 1.1).ToY(4300 + 500*studio.Fractal(v(p.X*1.2, p.Y*2.5, 0), 3, 5, 0.7))
		line := 1.17 + 0.06*studio.Fractal(v(p.X*2.2, 0, 0), 5, 6, 0.75)
		trees := hue(0.8, 1.05, 0.7).ToY(900 * (1 + 0.5*studio.Fractal(v(p.X*14, p.Y*14, 0), 7, 6, 0.85)))
		lawn := hue(0.85, 1.08, 0.5).ToY(1900 * (1 + 0.12*studio.Fractal(v(p.X*9, p.Y*40, 0), 9, 5, 0.8)))
		t := min(max((line-p.Y)/0.012, 0), 1)
		u := min(max((1.085-p.Y)/0.02, 0), 1)
		s.Glow = sky.Mix(trees.Mix(lawn, u), t)
	}}
}

// windowWall leaves an opening and sets a frame with two bars, a sill with a
// plant, and a curtain.
func windowWall(wall *material) []body {
	white := glazed(grey(0.72), 0.25)
	const z, back = 3.3, 3.4
	b := []body{
		slab(v(-2.2, 0, z), v(2.2, sill, back), wall), slab(v(-2.2, lintel, z), v(2.2, 2.6, back), wall),
		slab(v(-2.2, sill, z), v(windowLeft, lintel, back), wall), slab(v(windowRight, sill, z), v(2.2, lintel, back), wall),
		slab(v(windowLeft-0.05, sill-0.03, z-0.16), v(windowRight+0.05, sill, back), white),
	}
	for _, x := range []float64{windowLeft, -0.42, 0.32, windowRight} {
		b = append(b, slab(v(x-0.03, sill, z+0.02), v(x+0.03, lintel, z+0.07), white))
	}
	for _, y := range []float64{sill + 0.02, 1.72, lintel - 0.02} {
		b = append(b, slab(v(windowLeft, y-0.022, z+0.025), v(windowRight, y+0.022, z+0.065), white))
	}
	b = append(b, curtain(-1.5, -0.86, 3.16), curtain(0.80, 1.5, 3.16))
	return append(b, plant(v(0.66, sill, 3.2))...)
}

// curtain hangs in folds.
func curtain(x0, x1, z float64) body {
	c := hue(0.44, 0.36, 0.28)
	m := &material{Surface: surface{Albedo: c}, Plain: true, Vary: func(p v3, s *surface) {
		s.Albedo = c.Mul(1 + 0.08*studio.Fractal(p.Mul(40), 30, 4, 0.9))
	}}
	mid, half := (x0+x1)/2, (x1-x0)/2
	return field(v(mid, 1.35, z), v(half+0.02, 1.1, 0.06), 1.8, m, func(p v3) float64 {
		fold := 0.03 * math.Sin(p.X*62+1.2*math.Sin(p.Y*1.3+x0*9)+0.8*math.Sin(p.X*17))
		return max(math.Abs(p.Z-fold)-0.006, math.Abs(p.X)-half, math.Abs(p.Y)-1.08)
	})
}

// plant in a pot: leaves as flat drops on stalks.
func plant(at v3) []body {
	pot := field(at.Add(v(0, 0.07, 0)), v(0.09, 0.075, 0.09), 1.1, matt(hue(0.36, 0.15, 0.08)), func(p v3) float64 {
		return max(math.Hypot(p.X, p.Z)-0.06-0.22*p.Y, math.Abs(p.Y)-0.065)
	})
	b := []body{pot}
	leaf := matt(hue(0.09, 0.17, 0.05))
	for i := range 9 {
		f := float64(i)
		turn := 137.5 * f
		out := v(1, 0, 0).RotY(turn)
		tip := at.Add(v(0, 0.26+0.03*math.Mod(f*2.3, 5), 0)).Add(out.Mul(0.07 + 0.015*math.Mod(f, 4)))
		from := at.Add(v(0, 0.13, 0))
		d := tip.Sub(from).Unit()
		b = append(b, body{Shape: studio.Rod{A: from, B: tip, Radius: 0.003}, Material: leaf})
		b = append(b, field(tip, v(0.08, 0.08, 0.08), 2.2, leaf, func(p v3) float64 {
			q := p.RotY(-turn)
			_ = d
			return studio.Ellipsoid(v(q.X*0.8+q.Y*0.6, q.Y*0.8-q.X*0.6, q.Z), v(0.055, 0.006, 0.034))
		}))
	}
	return b
}

// person sits upright, hair to the chin, in a knitted jumper.
func person() []body {
	half := v(0.34, 0.42, 0.2)
	at := head.Sub(v(0, 0.17, 0))
	part := func(m *material, steep float64, f func(v3) float64) body {
		return field(at, half, steep, m, func(p v3) float64 { return f(p.Sub(v(0, 0.17, 0))) })
	}
	b := []body{part(skin(), 1.3, func(p v3) float64 { return face(own(p)) }), part(hair(), 1.3, func(p v3) float64 { return hairShape(own(p)) }), part(jumper(), 1.3, torso)}
	return b
}

// face: x to the right, y up, the nose towards -z.
func face(p v3) float64 {
	q := v(math.Abs(p.X), p.Y, p.Z)
	d := studio.Ellipsoid(p.Sub(v(0, 0.032, 0.012)), v(0.073, 0.092, 0.092))
	d = studio.Join(d, studio.Ellipsoid(p.Sub(v(0, -0.026, -0.022)), v(0.061, 0.078, 0.066)), 0.025)
	d = studio.Join(d, studio.Ellipsoid(q.Sub(v(0.047, 0.012, -0.03)), v(0.016, 0.034, 0.036)), 0.015) // temples
	d = studio.Join(d, studio.Ellipsoid(p.Sub(v(0, -0.088, -0.056)), v(0.022, 0.017, 0.02)), 0.03)
	d = studio.Join(d, studio.Capsule(q, v(0.042, -0.012, -0.062), v(0.03, -0.04, -0.066), 0.016, 0.014), 0.025) // cheeks
	d = studio.Carve(d, studio.Ellipsoid(q.Sub(v(0.031, 0.0145, -0.096)), v(0.022, 0.014, 0.016)), 0.018)        // sockets
	d = studio.Join(d, studio.Ellipsoid(q.Sub(v(0.0305, 0.011, -0.0745)), v(0.0155, 0.0125, 0.0125)), 0.006)     // lowered lids
	d = studio.Join(d, studio.Capsule(q, v(0.012, 0.036, -0.082), v(0.044, 0.036, -0.068), 0.007, 0.006), 0.014) // brows
	d = studio.Join(d, studio.Capsule(p, v(0, 0.022, -0.083), v(0, -0.019, -0.102), 0.0065, 0.0105), 0.014)      // nose
	d = studio.Join(d, studio.Ellipsoid(q.Sub(v(0.0105, -0.024, -0.092)), v(0.0075, 0.0065, 0.009)), 0.007)
	d = studio.Join(d, studio.Capsule(q, v(0, -0.0525, -0.0875), v(0.021, -0.0515, -0.0775), 0.0045, 0.002), 0.006)
	d = studio.Join(d, studio.Capsule(q, v(0, -0.0625, -0.0865), v(0.018, -0.0555, -0.078), 0.0055, 0.002), 0.006)
	return studio.Join(d, studio.Capsule(p, v(0, -0.09, 0.02), v(0, -0.21, 0.035), 0.048, 0.055), 0.025)
}

func skin() *material {
	c := hue(0.46, 0.28, 0.20)
	m := &material{Surface: surface{Albedo: c, F0: 0.028, Rough: 0.42}}
	m.Vary = func(p v3, s *surface) {
		q := own(p.Sub(head))
		x := math.Abs(q.X)
		s.Albedo = c.Mul(1 + 0.05*studio.Fractal(p.Mul(90), 50, 5, 0.8))
		blush := math.Exp(-((x-0.04)*(x-0.04)+(q.Y+0.022)*(q.Y+0.022))/0.0005) + 0.6*math.Exp(-(x*x+(q.Y+0.02)*(q.Y+0.02))/0.0002)
		s.Albedo = s.Albedo.Mix(hue(0.47, 0.22, 0.16), min(0.5*blush, 0.6))
		upper, lower := -0.0505+0.0015*math.Exp(-(x-0.006)*(x-0.006)/2e-5), -0.067+0.6*x
		if q.Z < -0.06 && x < 0.023 {
			t := ease(upper+0.002-q.Y, 0.003) * ease(q.Y-lower+0.002, 0.003) * ease(0.023-x, 0.005)
			s.Albedo = s.Albedo.Mix(hue(0.36, 0.125, 0.105), 0.75*t)
			s.Albedo = s.Albedo.Mul(1 - 0.5*math.Exp(-math.Pow((q.Y+0.0572-0.28*x)/0.0011, 2))*t)
		}
		brow := 0.0385 + 0.06*(x-0.014) - 3.2*(x-0.03)*(x-0.03)
		if q.Z < -0.05 && x > 0.012 && x < 0.053 {
			t := math.Exp(-math.Pow((q.Y-brow)/0.0036, 2)) * ease(x-0.012, 0.006) * ease(0.053-x, 0.012)
			s.Albedo = s.Albedo.Mix(hue(0.06, 0.036, 0.022), 0.85*t*(0.85+0.3*studio.Fractal(v(q.X*900, q.Y*250, 0), 55, 2, 0.8)))
		}
		lash := 0.0045 + 22*(x-0.0305)*(x-0.0305) // the edge of the lids, lowered
		if q.Z < -0.06 && math.Abs(x-0.0305) < 0.0155 {
			t := math.Exp(-math.Pow((q.Y-lash)/0.0013, 2)) * ease(0.0155-math.Abs(x-0.0305), 0.004)
			s.Albedo = s.Albedo.Mix(hue(0.05, 0.03, 0.02), 0.85*t)
		}
	}
	return m
}

// hairShape is combed to the sides and reaches the chin.
func hairShape(p v3) float64 {
	d := studio.Ellipsoid(p.Sub(v(0, 0.042, 0.022)), v(0.086, 0.1, 0.1))
	d = studio.Join(d, studio.Ellipsoid(p.Sub(v(0, -0.02, 0.05)), v(0.092, 0.095, 0.07)), 0.04)
	open := studio.Ellipsoid(p.Sub(v(0.012, -0.03, -0.085)), v(0.07, 0.105, 0.088))
	d = studio.Carve(d, open, 0.014)
	d += 0.0016 * math.Sin(150*p.X+70*p.Y+4*math.Sin(40*p.Y))
	return max(d, -0.09-p.Y+0.25*p.Z)
}

func hair() *material {
	c := hue(0.085, 0.05, 0.03)
	return &material{Surface: surface{Albedo: c, F0: 0.045, Rough: 0.35}, Vary: func(p v3, s *surface) {
		q := own(p.Sub(head))
		a := math.Atan2(q.X, -q.Z)
		strand := studio.Fractal(v(a*26, q.Y*14, 0), 58, 5, 0.9)
		s.Albedo = c.Mul(1 + 0.7*strand)
		s.Tilt = v(math.Cos(a), 0, math.Sin(a)).RotY(turned).Mul(0.22 * studio.Fractal(v(a*40, q.Y*9, 3), 62, 3, 0.9))
	}}
}

func torso(p v3) float64 {
	q := v(math.Abs(p.X), p.Y, p.Z)
	d := studio.Capsule(q, v(0, -0.215, 0.035), v(0.148, -0.262, 0.04), 0.062, 0.062)
	d = studio.Join(d, studio.Ellipsoid(p.Sub(v(0, -0.42, 0.035)), v(0.185, 0.24, 0.115)), 0.06)
	d = studio.Join(d, studio.Capsule(q, v(0.168, -0.27, 0.04), v(0.215, -0.55, 0.01), 0.058, 0.05), 0.03)
	collar := studio.Ring(v(p.X, p.Z-0.03-0.25*(p.Y+0.17), p.Y+0.168-0.25*(p.Z-0.03)), 0.062, 0.013)
	return studio.Join(d, collar, 0.02)
}

func jumper() *material {
	c := hue(0.085, 0.14, 0.17)
	return &material{Surface: surface{Albedo: c}, Plain: true, Vary: func(p v3, s *surface) {
		q := p.Sub(head)
		rib := math.Sin(q.X*900+0.8*math.Sin(q.Y*1100)) * math.Sin(q.Y*1100)
		s.Albedo = c.Mul(1 + 0.16*rib + 0.12*studio.Fractal(p.Mul(50), 66, 4, 0.9))
		s.Tilt = relief(p, 160, 68, 3, 0.12)
	}}
}
