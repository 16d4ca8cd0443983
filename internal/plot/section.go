package plot

import (
	"fmt"
	"math"

	"simview/internal/raytrace"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// Point is a place in a section, mm: Z into the eye from the vertex of the cornea,
// H along the meridian.
type Point struct{ Z, H float64 }

// Trace is one ray from before the cornea to the retina.
type Trace struct {
	Points []Point
	Past   bool // it passes beside the lens
}

// Lens is the outline of a lens in a section, closed, and its centre (midway
// between its vertices).
type Lens struct {
	Outline []Point
	Centre  Point
}

// Subject is what a section is drawn of. The last two surfaces of both systems
// are the lens.
type Subject struct {
	Eye     raytrace.System // as it is
	Centred raytrace.System // with the lens in its place
	// Covered tells whether light that enters the pupil at a point meets the
	// lens; nil means that all of it does.
	Covered func(unit.PupilPoint) bool
	Side    unit.Side
	// Meridian is the plane of the section, degrees counter-clockwise from the
	// clinician's right; 0 and 180 are the same.
	Meridian unit.Degrees
	PupilMM  float64 // entrance pupil, mm, above 0
	OpticMM  float64 // diameter of the lens, mm, above 0
	Rays     int     // of the bundle, 2 or more
}

// Section is the eye cut along a meridian, ready to be drawn.
type Section struct {
	Meridian  unit.Degrees // in (0, 180]
	PupilMM   float64
	Corneas   [][]Point // its surfaces
	Lens      Lens      // as it is
	Straight  Lens      // in its place
	Displaced bool
	Iris      [2][]Point // outlines of the part above and below the pupil
	Retina    []Point    // the inner wall of the eye, from rim to rim
	Rays      []Trace    // spread evenly over the pupil along the meridian
	// Glasses is the sphere and cylinder (D, at the pupil, RMS fit) through which
	// the light comes; none when light meets the eye as from far away.
	Glasses refraction.PowerVector
	// Chief is where the ray through the middle of the pupil meets the retina.
	Chief Point
	wall  sphere
}

// Drawn sizes that no prescription gives, mm.
const (
	corneaHalfMM = 5.85 // half the usual width of a cornea, common textbook value
	// corneaBackHalfMM makes the back end where the coat begins.
	corneaBackHalfMM = 5.6
	outlineSteps     = 121
	startMM          = -6 // where rays start
)

// NewSection traces a bundle of rays from one far point, seen through the
// sphere and cylinder that suit the eye best, and works out every outline. Numbers
// out of range and rays that miss are errors.
func NewSection(s Subject) (*Section, error) {
	if !(s.PupilMM > 0 && s.OpticMM > 0) || s.Rays < 2 || len(s.Eye.Surfaces) < 3 || len(s.Eye.Surfaces) != len(s.Centred.Surfaces) {
		return nil, fmt.Errorf("section: needs a pupil and a lens wider than 0 mm, 2 rays or more and a lens behind the cornea (got pupil %g mm, lens %g mm, %d rays, %d surfaces)",
			s.PupilMM, s.OpticMM, s.Rays, len(s.Eye.Surfaces))
	}
	d := &drafting{Subject: s, out: &Section{Meridian: turned(s.Meridian), PupilMM: s.PupilMM}}
	d.sin, d.cos = math.Sincos(d.out.Meridian.Radians())
	for _, step := range []func() error{d.outlines, d.iris, d.glasses, d.bundle} {
		if err := step(); err != nil {
			return nil, fmt.Errorf("section: %w", err)
		}
	}
	return d.out, nil
}

// turned brings a meridian into (0, 180], so that its end is up, or at the
// patient's right.
func turned(a unit.Degrees) unit.Degrees {
	r := math.Mod(float64(a), 180)
	if r <= 0 {
		r += 180
	}
	return unit.Degrees(r)
}

// drafting is a section in the making.
type drafting struct {
	Subject
	out      *Section
	sin, cos float64
	pupilZ   float64 // plane of the entrance pupil
}

// onto lays a place of the eye onto the plane of the section.
//
//	h = x cos a + y sin a
func (d *drafting) onto(v raytrace.Vec) Point { return Point{v.Z, v.X*d.cos + v.Y*d.sin} }

func (d *drafting) outlines() error {
	last := len(d.Eye.Surfaces) - 1
	for i := range last - 1 {
		half := corneaHalfMM
		if i > 0 {
			half = corneaBackHalfMM
		}
		c, err := d.curve(&d.Eye, i, half)
		if err != nil {
			return err
		}
		d.out.Corneas = append(d.out.Corneas, c)
	}
	var err error
	if d.out.Lens, err = d.lens(&d.Eye); err != nil {
		return err
	}
	if d.out.Straight, err = d.lens(&d.Centred); err != nil {
		return err
	}
	d.out.Displaced = moved(d.Eye.Surfaces[last], d.Centred.Surfaces[last]) || moved(d.Eye.Surfaces[last-1], d.Centred.Surfaces[last-1])
	d.out.wall = wallThrough(d.out.Corneas[0], d.Eye.RetinaZ)
	d.out.Retina = d.out.wall.arc()
	return nil
}

func moved(a, b raytrace.Surface) bool { return a.At.O.Sub(b.At.O).Norm() > 1e-9 }

func (d *drafting) lens(s *raytrace.System) (Lens, error) {
	last := len(s.Surfaces) - 1
	front, err := d.curve(s, last-1, d.OpticMM/2)
	if err != nil {
		return Lens{}, err
	}
	back, err := d.curve(s, last, d.OpticMM/2)
	if err != nil {
		return Lens{}, err
	}
	l := Lens{Outline: front, Centre: d.onto(s.Surfaces[last-1].At.O.Add(s.Surfaces[last].At.O).Mul(.5))}
	for i := len(back) - 1; i >= 0; i-- {
		l.Outline = append(l.Outline, back[i])
	}
	return l, nil
}

// curve returns a surface along the section's meridian. A surface counts
// meridians from an x axis of its own, which its own section shows.
func (d *drafting) curve(s *raytrace.System, i int, halfMM float64) ([]Point, error) {
	own := [2]float64{}
	for k, a := range [...]unit.Degrees{0, 90} {
		ends, err := s.Section(i, a, 1, 2)
		if err != nil {
			return nil, err
		}
		if len(ends) != 2 {
			return nil, fmt.Errorf("%s does not reach 1 mm from its middle", s.Surfaces[i].Name)
		}
		axis := ends[1].Sub(ends[0]).Unit()
		own[k] = axis.X*d.cos + axis.Y*d.sin
	}
	angle := math.Atan2(own[1], own[0]) * 180 / math.Pi
	vs, err := s.Section(i, unit.Degrees(angle), halfMM, outlineSteps)
	out := make([]Point, len(vs))
	for k, v := range vs {
		out[k] = d.onto(v)
	}
	return out, err
}

// iris draws the stop as wide as the entrance pupil makes it, and finds the
// plane of the entrance pupil.
func (d *drafting) iris() error {
	p, err := d.Centred.Paraxial()
	if err != nil {
		return err
	}
	d.pupilZ = p.EntrancePupilZ
	mid := (float64(d.Eye.PupilCentre.X)*d.cos + float64(d.Eye.PupilCentre.Y)*d.sin) / p.EntrancePupilPerStop
	half := d.PupilMM / 2 / p.EntrancePupilPerStop
	z := d.Eye.StopZ
	root := d.out.wall.height(z)
	for k, up := range [...]float64{1, -1} {
		d.out.Iris[k] = leaf(z, mid+up*half, up*root, up)
	}
	return nil
}

// leaf is one half of the iris: its edge at the pupil lies in the plane of the
// stop, its root at the wall; the rest is for orientation.
func leaf(z, edge, root, up float64) []Point {
	const thick = .5 // mm
	out := []Point{{z, edge}}
	for i := range 13 {
		t := float64(i) / 12
		bulge := math.Sqrt(math.Min(1, t*5)) * (1 - .45*t*t)
		out = append(out, Point{z - thick*bulge, edge + (root-edge)*t + up*.04})
	}
	return append(out, Point{z + .06, root}, Point{z + .06, edge + up*.3})
}

// glasses works out the correction that the light comes through.
func (d *drafting) glasses() error {
	w, err := d.Eye.Wavefront(d.Eye.OnAxis(), d.PupilMM)
	if err != nil {
		return err
	}
	d.out.Glasses, err = refraction.FromTermsRMS(w)
	return err
}
