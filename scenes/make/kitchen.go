package main

import (
	"math"

	"simview/internal/studio"
)

// A breakfast table with a white cloth, lit by a window on the left: white china
// on white, bread, a jar, fruit and a knife.
func kitchen() stage {
	return stage{
		id: "kitchen-table", build: breakfast, white: 500,
		camera: studio.Camera{Eye: v(0, 0.52, 0), PitchDeg: -26.5},
		tiles:  []tile{frame(2), around(), {"window", 6, -2, 6, 4.5, 0.5, 2}},
	}
}

func breakfast() *studio.World {
	wall := plaster(hue(0.50, 0.50, 0.43), 1)
	b := []body{
		across(2.9, -1.6, -0.75, 2.2, 1.8, wall), across(-1.4, -1.6, -0.75, 2.2, 1.8, wall),
		along(-1.6, -0.75, -1.4, 1.8, 2.9, wall), along(2.2, -0.75, -1.4, 1.8, 2.9, wall),
		level(1.8, -1.6, -1.4, 2.2, 2.9, matt(grey(0.75))),
		level(-0.75, -1.6, -1.4, 2.2, 2.9, wooden(hue(0.22, 0.13, 0.07), v(0, 0, 1), 0.05, 0.3, 2)),
		along(-1.59, 0.1, 0.2, 1.35, 1.75, shining(hue(0.95, 1, 1.08).Mul(2600))),
		slab(v(-0.75, -0.03, 0.25), v(0.75, -0.002, 1.5), wooden(hue(0.34, 0.22, 0.12), v(1, 0, 0), 0.03, 0.25, 4)),
		cloth(), cutting(),
	}
	b = append(b, cup(v(0.155, 0, 0.86))...)
	b = append(b, plate(v(-0.055, 0, 0.88)), slice(v(-0.06, 0.0215, 0.885)), knife(v(0.07, 0.006, 0.86)))
	b = append(b, jar(v(0.06, 0, 1.14))...)
	b = append(b, loaf(v(-0.235, 0.018, 1.12)), orange(v(0.245, 0.036, 1.10)), orange(v(0.30, 0.035, 1.02)))
	b = append(b, dresser()...)
	return studio.NewWorld(b, nil, nil)
}

func grey(l float64) rgb { return studio.Grey(l) }

// cloth lies on the table, creased where it was folded.
func cloth() body {
	c := hue(0.78, 0.77, 0.74)
	m := &material{Surface: surface{Albedo: c}, Plain: true, Vary: func(p v3, s *surface) {
		s.Albedo = c.Mul(min(studio.Weave(p, 0.0011, 4), 1.2))
		s.Tilt = relief(v(p.X, 0, p.Z), 5, 60, 3, 0.06)
		for _, x := range []float64{-0.17, 0.13, 0.43} { // creases
			d := (p.X - x) / 0.006
			s.Tilt.X += 0.16 * d * math.Exp(-d*d)
		}
		d := (p.Z - 1.02) / 0.006
		s.Tilt.Z += 0.16 * d * math.Exp(-d*d)
		s.Tilt = s.Tilt.Add(relief(p, 500, 70, 2, 0.05))
	}}
	return level(0, -0.62, 0.25, 0.62, 1.38, m)
}

// cutting is the board under the loaf.
func cutting() body {
	return field(v(-0.235, 0.009, 1.12), v(0.13, 0.012, 0.16), 1, wooden(hue(0.42, 0.27, 0.14), v(0, 0, 1), 0.012, 0.4, 9), func(p v3) float64 {
		return studio.RoundBlock(p.RotY(-14), v(0.10, 0.009, 0.135), 0.006)
	})
}

// china is white with a blue line near a rim at a distance from the axis.
func china(at v3, rim float64) *material {
	c := hue(0.80, 0.79, 0.76)
	m := glazed(c, 0.06)
	m.Vary = func(p v3, s *surface) {
		r := math.Hypot(p.X-at.X, p.Z-at.Z)
		if rim > 0 && math.Abs(r-rim) < 0.0022 {
			s.Albedo = hue(0.10, 0.17, 0.40)
		}
	}
	return m
}

func plate(at v3) body {
	return field(at.Add(v(0, 0.012, 0)), v(0.125, 0.016, 0.125), 1, china(at, 0.112), func(p v3) float64 {
		return studio.Profile(p.Add(v(0, 0.012, 0)), 0.0028, [][2]float64{{0, 0.004}, {0.07, 0.004}, {0.085, 0.011}, {0.117, 0.02}})
	})
}

// cup stands on a saucer and holds coffee.
func cup(at v3) []body {
	saucer := field(at.Add(v(0, 0.01, 0)), v(0.08, 0.014, 0.08), 1, china(at, 0), func(p v3) float64 {
		return studio.Profile(p.Add(v(0, 0.01, 0)), 0.0025, [][2]float64{{0, 0.0035}, {0.035, 0.0035}, {0.045, 0.008}, {0.072, 0.015}})
	})
	wall := field(at.Add(v(0, 0.045, 0)), v(0.085, 0.05, 0.085), 1.1, china(at, 0), func(p v3) float64 {
		q := p.Add(v(0, 0.037, 0))
		d := studio.Profile(q, 0.0024, [][2]float64{{0, 0.003}, {0.024, 0.003}, {0.033, 0.018}, {0.038, 0.04}, {0.041, 0.074}})
		h := q.RotY(35).Sub(v(0.047, 0.042, 0))
		handle := studio.Ring(h, 0.019, 0.0038)
		if math.Hypot(q.X, q.Z) < 0.036 {
			handle = 0.004
		}
		return studio.Join(d, handle, 0.005)
	})
	coffee := field(at.Add(v(0, 0.07, 0)), v(0.041, 0.004, 0.041), 1, glazed(hue(0.045, 0.018, 0.007), 0.03), func(p v3) float64 {
		return studio.Profile(p, 0.0008, [][2]float64{{0, 0}, {0.0385, 0}})
	})
	return []body{saucer, wall, coffee}
}

// slice of bread, with a crust.
func slice(at v3) body {
	crumb, crust := hue(0.56, 0.42, 0.25), hue(0.24, 0.10, 0.035)
	shape := func(p v3) float64 {
		q := p.RotY(-25)
		flat := studio.Join(studio.RoundBlock(q.Add(v(0, 0, 0.01)), v(0.042, 0.05, 0.034), 0.012), studio.RoundBlock(q.Sub(v(0, 0, 0.02)), v(0.048, 0.05, 0.022), 0.02), 0.02)
		return max(flat, math.Abs(q.Y)-0.006)
	}
	m := &material{Surface: surface{Albedo: crumb}, Vary: func(p v3, s *surface) {
		q := p.Sub(at)
		inside := -studio.RoundBlock(v(q.X, 0, q.Z).RotY(-25), v(0.046, 0.05, 0.043), 0.018)
		hole := studio.Fractal(p.Mul(260), 80, 3, 0.9)
		s.Albedo = crumb.Mul(1 + 0.22*studio.Fractal(p.Mul(60), 81, 4, 0.9) + 0.25*min(hole+0.15, 0))
		if inside < 0.0035 {
			s.Albedo = crust
		}
		s.Tilt = relief(p, 300, 84, 2, 0.25)
	}}
	return field(at, v(0.07, 0.008, 0.07), 1.2, m, shape)
}

func loaf(at v3) body {
	crust := hue(0.30, 0.145, 0.052)
	m := &material{Surface: surface{Albedo: crust}, Vary: func(p v3, s *surface) {
		q := p.Sub(at).RotY(-14)
		flour := studio.Fractal(p.Mul(30), 90, 5, 0.9)
		s.Albedo = crust.Mul(1 + 0.35*studio.Fractal(p.Mul(22), 92, 5, 0.8))
		cut := math.Abs(wrap(q.Z+q.X*0.5, 0.05) - 0.025)
		if q.Y > 0.05 && cut < 0.007 {
			s.Albedo = hue(0.52, 0.37, 0.2)
		} else if flour > 0.22 {
			s.Albedo = s.Albedo.Mix(hue(0.62, 0.52, 0.4), min((flour-0.22)*3, 0.6))
		}
		if q.Z < -0.107 { // the cut face
			s.Albedo = hue(0.58, 0.44, 0.27).Mul(1 + 0.2*studio.Fractal(p.Mul(90), 95, 4, 0.9))
		}
		s.Tilt = relief(p, 120, 97, 3, 0.2)
	}}
	return field(at.Add(v(0, 0.045, 0)), v(0.1, 0.055, 0.15), 1.3, m, func(p v3) float64 {
		q := p.Add(v(0, 0.045, 0)).RotY(-14)
		d := studio.Ellipsoid(q.Sub(v(0, 0.035, 0.02)), v(0.062, 0.056, 0.15))
		d = studio.Join(d, studio.RoundBlock(q.Sub(v(0, 0.03, 0.01)), v(0.052, 0.03, 0.115), 0.025), 0.03)
		return max(d, -0.112-q.Z, -q.Y)
	})
}

// jar of jam with a paper label and a metal lid.
func jar(at v3) []body {
	m := glazed(hue(0.16, 0.012, 0.015), 0.04)
	m.Vary = func(p v3, s *surface) {
		q := p.Sub(at)
		if q.Y > 0.025 && q.Y < 0.068 && q.X > -0.026 && q.X < 0.030 && q.Z < 0 {
			s.Albedo, s.F0 = hue(0.68, 0.64, 0.54), 0
			line := wrap(q.Y-0.025, 0.0105)
			if q.X > -0.018 && q.X < 0.020-0.012*wrap(floor((q.Y-0.025)/0.0105)*0.37, 1) && line > 0.0045 && line < 0.0072 && studio.Noise(v(q.X*420, floor(q.Y/0.0105)*3.7, 0), 6) > -0.28 {
				s.Albedo = hue(0.10, 0.07, 0.06)
			}
		}
	}
	glass := field(at.Add(v(0, 0.05, 0)), v(0.045, 0.055, 0.045), 1, m, func(p v3) float64 {
		q := p.Add(v(0, 0.05, 0))
		return studio.Join(studio.Capsule(q, v(0, 0.036, 0), v(0, 0.06, 0), 0.036, 0.034), max(math.Hypot(q.X, q.Z)-0.036, math.Abs(q.Y-0.045)-0.042), 0.012)
	})
	lid := &material{Surface: surface{Albedo: hue(0.30, 0.22, 0.09), F0: 0.45, Rough: 0.2}}
	top := field(at.Add(v(0, 0.101, 0)), v(0.04, 0.012, 0.04), 1.2, lid, func(p v3) float64 {
		ridge := 0.0007 * math.Cos(40*math.Atan2(p.Z, p.X))
		return max(math.Hypot(p.X, p.Z)-0.034+ridge, math.Abs(p.Y)-0.0075) - 0.0012
	})
	return []body{glass, top}
}

// knife has a steel blade and a dark handle.
func knife(at v3) body {
	m := &material{Surface: surface{Albedo: grey(0.05), F0: 0.55, Rough: 0.12}, Vary: func(p v3, s *surface) {
		if p.Sub(at).RotY(-4).Z < -0.028 {
			s.Albedo, s.F0, s.Rough = hue(0.045, 0.03, 0.022), 0.04, 0.2
		}
	}}
	return field(at, v(0.03, 0.011, 0.13), 1.2, m, func(p v3) float64 {
		q := p.RotY(-4)
		blade := studio.RoundBlock(q.Sub(v(0.001, -0.0035, 0.045)), v(0.0095-0.05*max(q.Z-0.09, 0), 0.0011, 0.07), 0.0006)
		handle := studio.Capsule(q, v(0, -0.001, -0.095), v(0, -0.001, -0.03), 0.0085, 0.007)
		return studio.Join(blade, handle, 0.003)
	})
}

func orange(at v3) body {
	c := hue(0.72, 0.24, 0.02)
	m := glazed(c, 0.3)
	m.Vary = func(p v3, s *surface) {
		s.Albedo = c.Mul(1 + 0.08*studio.Fractal(p.Mul(50), 20, 4, 0.8))
		s.Tilt = relief(p, 420, 21, 1, 0.22)
	}
	return body{Shape: studio.Ball{Centre: at, Radius: 0.037}, Material: m}
}

// dresser stands at the far wall, out of the light: doors with knobs.
func dresser() []body {
	wood := wooden(hue(0.27, 0.30, 0.27), v(0, 1, 0), 0.05, 0.35, 14)
	b := []body{slab(v(-1.2, -0.75, 2.45), v(1.5, 0.14, 2.9), wood), slab(v(-1.22, 0.14, 2.42), v(1.52, 0.17, 2.9), wooden(hue(0.3, 0.19, 0.1), v(1, 0, 0), 0.04, 0.3, 15))}
	for x := -1.15; x < 1.4; x += 0.45 {
		b = append(b, slab(v(x, -0.65, 2.435), v(x+0.41, 0.08, 2.45), wood),
			body{Shape: studio.Ball{Centre: v(x+0.37, -0.2, 2.425), Radius: 0.016}, Material: glazed(hue(0.25, 0.2, 0.1), 0.15)})
	}
	return b
}
