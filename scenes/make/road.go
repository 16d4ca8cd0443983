package main

import (
	"fmt"
	"io"
	"math"

	"simview/internal/studio"
)

// A street in the rain at night, seen by a driver: a car with dipped beams
// comes on the left, someone in a dark coat steps from between parked cars on
// the right, luminaires light the street to about 0.7 cd/m², and the lamps of a
// village stand on a hill.
const (
	eyeY           = 1.2
	midLine        = -1.4 // x of the line between the lanes
	leftKerb       = -5.0
	rightKerb      = 2.3
	carX, lampY    = -3.15, 0.66
	lampHalf       = 0.6
	walkerX        = 1.3
	walkerZ        = 30.0
	aheadX, aheadZ = 0.2, 85.0 // the car before us
)

// luminaires stand along the right kerb, m ahead.
var luminaires = []float64{0, 30, 60, 90, 120, 150, 180, 240}

const luminaireDown, luminaireX, luminaireY = 260, 2.0, 8.0

func road(carZ float64) stage {
	return stage{
		id: fmt.Sprintf("road-%.0f", carZ), white: 4,
		build:  func() *studio.World { return street(carZ) },
		camera: studio.Camera{Eye: v(0, eyeY, 0)},
		tiles:  []tile{frame(2), around(), {"window", 2.6, 0.4, 6, 4.5, 0.5, 2}},
		note:   func(w io.Writer, c studio.Camera) { roadLamps(w, c, carZ) },
	}
}

func street(carZ float64) *studio.World {
	asphalt, stone := wet(), matt(hue(0.1, 0.097, 0.09))
	slabs := plaster(hue(0.11, 0.107, 0.10), 12)
	b := []body{
		level(0, leftKerb, -30, rightKerb, 420, asphalt),
		slab(v(rightKerb, -0.5, -30), v(rightKerb+0.14, 0.13, 420), stone),
		slab(v(leftKerb-0.14, -0.5, -30), v(leftKerb, 0.13, 420), stone),
		slab(v(rightKerb+0.14, -0.5, -30), v(40, 0.12, 420), slabs),
		slab(v(-40, -0.5, -30), v(leftKerb-0.14, 0.12, 420), slabs),
		{Shape: studio.Ball{Centre: v(500, -2460, 2700), Radius: 2560}, Material: matt(hue(0.03, 0.035, 0.03))},
		{Shape: studio.Ball{Centre: v(-1400, -5300, 3000), Radius: 5360}, Material: matt(hue(0.03, 0.035, 0.03))},
	}
	b = append(b, houses()...)
	b = append(b, posts()...)
	b = append(b, car(v(carX, 0, carZ+2.1), hue(0.10, 0.11, 0.13)), car(v(aheadX, 0, aheadZ+2.1), hue(0.2, 0.2, 0.21)))
	for i, z := range []float64{43, 49.5, 56, 66} {
		b = append(b, car(v(rightKerb-0.98, 0, z), []rgb{hue(0.16, 0.03, 0.03), hue(0.22, 0.22, 0.23), hue(0.03, 0.05, 0.11), hue(0.1, 0.1, 0.1)}[i]))
	}
	b = append(b, walker(v(walkerX, 0, walkerZ))...)
	lamps := []studio.Lamp{
		headlamp(v(-0.25, lampY, 1.6), 1), headlamp(v(0.95, lampY, 1.6), 1),
		headlamp(v(carX-lampHalf, lampY, carZ), -1), headlamp(v(carX+lampHalf, lampY, carZ), -1),
	}
	for _, z := range luminaires {
		lamps = append(lamps, luminaire(v(luminaireX, luminaireY, z), luminaireDown))
	}
	return studio.NewWorld(b, lamps, nightSky)
}

// nightSky is cloud over a small town: brighter towards the horizon.
func nightSky(d v3) rgb {
	up := max(d.Y, 0)
	l := 0.006 + 0.016*math.Exp(-up*9)
	l *= 1 + 0.3*studio.Fractal(v(d.X*3, d.Y*7, d.Z*3), 40, 5, 0.6)
	return hue(1.1, 0.98, 0.9).ToY(l)
}

// wet is asphalt after rain: damp grain, puddles in its hollows and along the
// kerb, worn white lines under the water.
func wet() *material {
	base := hue(0.055, 0.055, 0.058)
	return &material{Surface: surface{Albedo: base, F0: 0.02, Rough: 0.25}, Vary: func(p v3, s *surface) {
		near := 1 / (1 + p.Z*p.Z/900) // fine grain is seen near the eye only
		s.Albedo = base.Mul(1 + 0.25*studio.Fractal(p.Mul(1.3), 31, 4, 0.8) + 0.5*near*studio.Fractal(p.Mul(24), 35, 3, 1))
		if painted(p) > 0.25+0.3*studio.Fractal(p.Mul(5), 37, 4, 0.8) {
			s.Albedo = hue(0.32, 0.32, 0.30)
		}
		hollow := studio.Fractal(v(p.X*0.55, 0, p.Z*0.16), 61, 4, 0.55)
		hollow += 0.5 * math.Exp(-min(rightKerb-p.X, p.X-leftKerb)/0.35)
		hollow -= 0.12 * math.Cos(2*math.Pi*(p.X-midLine)/1.75) // the tracks of wheels
		t := min(max((hollow-0.24)/0.2, 0), 1)
		damp := 0.38 + 0.12*studio.Fractal(v(p.X*1.5, 0, p.Z*0.4), 39, 5, 0.8)
		s.Rough = damp*(1-t) + 0.03*t
		s.Albedo = s.Albedo.Mul(1 - 0.35*t)
	}}
}

// painted is 1 on the lines of the road and 0 beside them.
func painted(p v3) float64 {
	if math.Abs(p.X-midLine) < 0.06 && wrap(p.Z, 9) < 4 {
		return 1
	}
	if math.Abs(p.X-(leftKerb+0.3)) < 0.05 {
		return 1
	}
	return 0
}

// houses are two rows of fronts with a few lit windows.
func houses() []body {
	var b []body
	z := 12.0
	for i := range 11 {
		deep, high := 9+4*math.Mod(float64(i)*0.618, 1), 6.5+4*math.Mod(float64(i)*0.381+0.2, 1)
		tone := hue(0.17, 0.148, 0.125).Mul(0.7 + 0.6*math.Mod(float64(i)*0.73, 1))
		b = append(b, slab(v(-17, 0, z), v(-8.4, high, z+deep), front(tone, 100+uint64(i), z)))
		b = append(b, slab(v(7.5, 0, z+6), v(17, high*0.92, z+6+deep*0.9), front(tone, 200+uint64(i), z+6)))
		z += deep + 0.4 + 3*math.Mod(float64(i)*0.47, 1)
	}
	return b
}

// front is a house front with windows 1 x 1.4 m, one in five of them lit.
func front(c rgb, n uint64, z0 float64) *material {
	return &material{Surface: surface{Albedo: c}, Vary: func(p v3, s *surface) {
		s.Albedo = c.Mul(1 + 0.12*studio.Fractal(p.Mul(1.5), n, 5, 0.8))
		col, row := floor((p.Z-z0)/2.3), floor((p.Y-0.9)/2.9)
		x, y := wrap(p.Z-z0, 2.3), wrap(p.Y-0.9, 2.9)
		if p.Y < 0.9 || x < 0.65 || x > 1.65 || y < 0.2 || y > 1.6 {
			return
		}
		s.Albedo = hue(0.03, 0.03, 0.035)
		if math.Abs(x-1.15) < 0.04 || math.Abs(y-1.1) < 0.04 {
			s.Albedo = hue(0.4, 0.4, 0.4)
			return
		}
		if studio.Noise(v(col*7.31+0.5, row*5.17+0.5, 0.5), n) > 0.33 {
			fold := 1 + 0.25*math.Sin(x*40)*math.Exp(-y)
			s.Glow = hue(1.5, 0.95, 0.42).ToY((2.2 + 1.6*studio.Noise(v(col*3.3, row*2.1, 9), n)) * fold)
		}
	}}
}

// posts carry the luminaires.
func posts() []body {
	steel := glazed(hue(0.12, 0.12, 0.12), 0.3)
	var b []body
	for _, z := range luminaires[1:] {
		top := v(rightKerb+0.5, luminaireY+0.1, z)
		b = append(b,
			body{Shape: studio.Rod{A: v(top.X, 0, z), B: top, Radius: 0.07}, Material: steel},
			body{Shape: studio.Rod{A: top, B: v(luminaireX-0.2, luminaireY+0.25, z), Radius: 0.05}, Material: steel},
			slab(v(luminaireX-0.4, luminaireY+0.12, z-0.15), v(luminaireX+0.3, luminaireY+0.24, z+0.15), steel))
	}
	return b
}

// car is a car around a place on the road, its ends along the road.
func car(at v3, c rgb) body {
	paint := glazed(c, 0.3)
	paint.Vary = func(p v3, s *surface) {
		q := p.Sub(at)
		side := math.Abs(q.X)
		switch {
		case q.Y > 0.98 && q.Y < 1.32 || q.Y < 0.28:
			s.Albedo = hue(0.012, 0.012, 0.014) // glass, tyres and what is between them
		case q.Z < -2 && side > 0.56 && q.Y > 0.68 && q.Y < 0.88 && at.X > midLine:
			s.Albedo = hue(0.22, 0.015, 0.01) // reflectors, on a car that shows its rear
		case math.Abs(q.Z) > 2 && side < 0.26 && q.Y > 0.5 && q.Y < 0.62:
			s.Albedo = hue(0.6, 0.6, 0.58) // plate
		case q.Y < 0.42:
			s.Albedo = hue(0.03, 0.03, 0.03)
		}
	}
	return field(at.Add(v(0, 0.75, 0)), v(0.95, 0.76, 2.2), 1.3, paint, func(p v3) float64 {
		hull := studio.RoundBlock(p.Add(v(0, 0.15, 0)), v(0.86, 0.36, 2.08), 0.17)
		cabin := studio.RoundBlock(p.Sub(v(0, 0.36, 0.1)), v(0.70-0.25*max(p.Y-0.2, 0), 0.34, 1.25-0.9*max(p.Y-0.2, 0)), 0.15)
		d := studio.Join(hull, cabin, 0.08)
		for _, z := range []float64{-1.3, 1.3} {
			wheel := max(math.Hypot(p.Y+0.43, p.Z-z)-0.31, math.Abs(p.X)-0.84)
			d = min(d, wheel)
		}
		return d
	})
}

// walker is someone in a dark coat, one foot in front of the other, facing left.
func walker(at v3) []body {
	coat, skin := matt(hue(0.018, 0.018, 0.022)), matt(hue(0.36, 0.23, 0.16))
	shape := func(p v3) float64 {
		d := studio.Capsule(p, v(0, 1.36, 0), v(0.02, 0.9, 0), 0.155, 0.17)
		d = studio.Join(d, studio.Capsule(p, v(0.02, 0.9, 0), v(0.03, 0.72, 0), 0.17, 0.205), 0.06) // the hem of the coat
		d = studio.Join(d, studio.Capsule(p, v(0.06, 0.75, 0.08), v(0.25, 0.08, 0.08), 0.08, 0.05), 0.03)
		d = studio.Join(d, studio.Capsule(p, v(-0.05, 0.75, -0.08), v(-0.24, 0.08, -0.08), 0.08, 0.05), 0.03)
		d = min(d, studio.Capsule(p, v(-0.24, 0.045, -0.08), v(-0.42, 0.035, -0.08), 0.05, 0.035))
		d = min(d, studio.Capsule(p, v(0.26, 0.06, 0.08), v(0.12, 0.035, 0.08), 0.05, 0.035))
		d = studio.Join(d, studio.Capsule(p, v(0.02, 1.38, -0.16), v(-0.14, 0.88, -0.22), 0.075, 0.05), 0.05)
		d = studio.Join(d, studio.Capsule(p, v(0.02, 1.38, 0.16), v(0.18, 0.92, 0.2), 0.075, 0.05), 0.05)
		return d
	}
	head := func(p v3) float64 {
		return studio.Join(studio.Ellipsoid(p.Sub(v(-0.015, 1.64, 0)), v(0.1, 0.125, 0.085)), studio.Capsule(p, v(0, 1.4, 0), v(0, 1.55, 0), 0.06, 0.06), 0.03)
	}
	hair := func(p v3) float64 {
		return max(studio.Ellipsoid(p.Sub(v(0.012, 1.665, 0)), v(0.112, 0.125, 0.098)), -(p.X + 0.055))
	}
	half := v(0.6, 1.0, 0.45)
	on := func(f func(v3) float64) func(v3) float64 {
		return func(p v3) float64 { return f(p.Add(v(0, 0.95, 0))) }
	}
	c := at.Add(v(0, 0.95, 0))
	return []body{
		field(c, half, 1.4, coat, on(shape)), field(c, half, 1.2, skin, on(head)), field(c, half, 1.2, matt(hue(0.03, 0.02, 0.015)), on(hair)),
	}
}

// lampRow is one lamp as its scene lists it.
type lampRow struct {
	name      string
	at        v3 // in the world
	candela   float64
	diameterM float64
	tint      string
}

// write prints the row, and behind it what the eye gets.
func (l lampRow) write(w io.Writer, c studio.Camera) {
	x, y, d := c.Place(l.at)
	p := l.at.Sub(c.Eye)
	fmt.Fprintf(w, "  - {name: %s, place_m: [%.2f, %.2f, %.2f], candela: %.4g, diameter_m: %.3g, tint: %q} # at %.2f, %.2f degrees, %.2g lux\n",
		l.name, p.X, p.Y, p.Z, l.candela, l.diameterM, l.tint, x, y, l.candela/(d*d))
}

// roadLamps prints the lamps that stand before the eye. Tail lamps have 4 to
// 17 cd (UN R7, from memory).
func roadLamps(w io.Writer, c studio.Camera, carZ float64) {
	eye := func(at v3) v3 { return c.Eye.Sub(at).Unit() }
	for i, side := range []float64{-1, 1} {
		at := v(carX+side*lampHalf, lampY, carZ)
		lampRow{"dipped beam " + []string{"left", "right"}[i], at, headlamp(at, -1).Candela(eye(at)).Y(), 0.12, "#f4f6ff"}.write(w, c)
	}
	for i, side := range []float64{-1, 1} {
		lampRow{"tail lamp " + []string{"left", "right"}[i], v(aheadX+side*0.68, 0.8, aheadZ), 8, 0.12, "#ff2a1c"}.write(w, c)
	}
	for _, z := range luminaires[2:] {
		at := v(luminaireX, luminaireY+0.1, z)
		lampRow{fmt.Sprintf("luminaire at %.0f m", z), at, luminaire(at, luminaireDown).Candela(eye(at)).Y(), 0.3, "#ffdcae"}.write(w, c)
	}
	for i, at := range []v3{v(38, 46, 2400), v(75, 72, 2450), v(108, 52, 2420), v(150, 88, 2500), v(171, 60, 2430)} {
		cd := []float64{640, 900, 330, 620, 1200}[i]
		lampRow{fmt.Sprintf("village lamp %d", i+1), at, cd, 0.3, []string{"#ffd9a0", "#fff0d8", "#ffc890", "#ffe0b0", "#f0f4ff"}[i]}.write(w, c)
	}
}
