package plot

import (
	"math"

	"simview/internal/raytrace"
	"simview/internal/unit"
)

// bundle traces the rays of one far point through pupil points along the
// meridian.
func (d *drafting) bundle() error {
	for i := range d.Rays {
		t, err := d.ray(d.PupilMM / 2 * (2*float64(i)/float64(d.Rays-1) - 1))
		if err != nil {
			return err
		}
		d.out.Rays = append(d.out.Rays, t)
	}
	chief, err := d.ray(0)
	if err != nil {
		return err
	}
	d.out.Chief = chief.Points[len(chief.Points)-1]
	return nil
}

// ray traces one ray through the place h mm along the meridian in the entrance
// pupil.
func (d *drafting) ray(h float64) (Trace, error) {
	at := unit.PupilPoint{X: unit.MM(h * d.cos), Y: unit.MM(h * d.sin)}
	sys, past := d.Eye, d.Covered != nil && !d.Covered(at)
	if past {
		sys = withoutLens(sys)
	}
	in := d.entering(at)
	path, err := sys.PathIn(in)
	if err != nil {
		return Trace{}, err
	}
	end, err := sys.TraceIn(in)
	if err != nil {
		return Trace{}, err
	}
	t := Trace{Past: past}
	for _, v := range path[:1+len(sys.Surfaces)] { // the start and every surface
		t.Points = append(t.Points, d.onto(v))
	}
	t.Points = append(t.Points, d.out.wall.meets(d.onto(end.P), d.onto(end.D)))
	return t, nil
}

// entering is the ray from far away, bent by the glasses, that passes the
// entrance pupil at a point. Light that left the eye there would go along
// (-dW/dx, -dW/dy, -1); it comes in along the reverse.
func (d *drafting) entering(at unit.PupilPoint) raytrace.Ray {
	const umPerMM = 1000
	x, y := float64(at.X), float64(at.Y)
	w := d.out.Glasses.PathUM
	sx := (w(x+.5, y) - w(x-.5, y)) / umPerMM // exact: w is of second order
	sy := (w(x, y+.5) - w(x, y-.5)) / umPerMM
	back := startMM - d.pupilZ
	x, y = x+float64(d.Eye.PupilCentre.X), y+float64(d.Eye.PupilCentre.Y)
	return raytrace.Ray{P: raytrace.Vec{X: x + sx*back, Y: y + sy*back, Z: startMM}, D: raytrace.Vec{X: sx, Y: sy, Z: 1}.Unit()}
}

// withoutLens leaves the last two surfaces out.
func withoutLens(s raytrace.System) raytrace.System {
	n := len(s.Surfaces) - 2
	s.Surfaces, s.Media = s.Surfaces[:n], s.Media[:n+1]
	return s
}

// sphere is the inner wall of the eye: centre on the axis, radius, and where the
// cornea sits in it.
type sphere struct{ z, r, limbus float64 }

// wallThrough returns the sphere through the fovea and the rim of the cornea at
// distance d before it and h from the axis.
//
//	r = (d² + h²) / (2 d)
func wallThrough(cornea []Point, retinaZ float64) sphere {
	rim := cornea[len(cornea)-1]
	d := retinaZ - rim.Z
	r := (d*d + rim.H*rim.H) / (2 * d)
	return sphere{z: retinaZ - r, r: r, limbus: rim.H}
}

// height is how far the wall is from the axis at a depth.
func (s sphere) height(z float64) float64 { return math.Sqrt(math.Max(0, s.r*s.r-(z-s.z)*(z-s.z))) }

// arc runs from one rim of the cornea round the back to the other.
func (s sphere) arc() []Point {
	open := math.Asin(math.Min(1, math.Abs(s.limbus)/s.r))
	out := make([]Point, 2*outlineSteps)
	for i := range out {
		a := (math.Pi - open) * (2*float64(i)/float64(len(out)-1) - 1)
		out[i] = Point{s.z + s.r*math.Cos(a), s.r * math.Sin(a)}
	}
	return out
}

// meets continues a line from p along d to the wall.
func (s sphere) meets(p, d Point) Point {
	pz := p.Z - s.z
	a, b, c := d.Z*d.Z+d.H*d.H, pz*d.Z+p.H*d.H, pz*pz+p.H*p.H-s.r*s.r
	t := (-b + math.Sqrt(math.Max(0, b*b-a*c))) / a
	return Point{p.Z + t*d.Z, p.H + t*d.H}
}
