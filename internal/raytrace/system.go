package raytrace

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// System is a row of surfaces from the cornea to the last surface before the
// vitreous, with the media in front of, between and behind them, and a stop.
type System struct {
	Name         string
	WavelengthNM float64
	Surfaces     []Surface
	// Media has one more entry than Surfaces: Media[i] lies in front of
	// Surfaces[i]; Media[0] is air and the last one is the vitreous.
	Media []Medium
	// StopZ is the plane of the stop (mm) and StopAfter the number of surfaces
	// in front of it.
	StopZ     float64
	StopAfter int
	// PupilCentre moves the centre of the entrance pupil off the axis.
	PupilCentre unit.PupilPoint
	// RetinaZ is where the retina meets the axis (mm); RetinaRadiusMM is its
	// radius (negative: concave towards the lens), 0 where the source gives none.
	RetinaZ, RetinaRadiusMM float64
	// Source is the publication the prescription is taken from.
	Source string
}

// Ray is a ray in the eye's frame: a point (mm), a unit direction, and the
// optical path (mm) since its start.
type Ray struct {
	P, D Vec
	OPL  float64
}

// AtWavelength returns the system at another wavelength (nm), or an error where
// the prescription gives no dispersion.
func (s System) AtWavelength(nm unit.NM) (System, error) {
	if !(nm >= 360 && nm <= 1100) {
		return s, fmt.Errorf("%s: wavelength must be 360 to 1100 nm (got %g)", s.Name, float64(nm))
	}
	media := make([]Medium, len(s.Media))
	for i, m := range s.Media {
		var err error
		if media[i], err = m.atWavelength(nm); err != nil {
			return s, fmt.Errorf("%s: %w", s.Name, err)
		}
	}
	s.Media, s.WavelengthNM = media, float64(nm)
	return s, nil
}

// TraceIn carries a ray from the air through every surface into the vitreous.
// The result starts at the last surface.
func (s *System) TraceIn(r Ray) (Ray, error) { return s.run(r, 0, len(s.Surfaces), 1, nil) }

// TraceOut carries a ray from the vitreous out through the cornea into air. The
// result starts at the cornea.
func (s *System) TraceOut(r Ray) (Ray, error) {
	return s.run(r, len(s.Surfaces)-1, -1, -1, nil)
}

// PathIn is [System.TraceIn] with every point on the way, for drawings.
func (s *System) PathIn(r Ray) ([]Vec, error) {
	path := []Vec{r.P}
	end, err := s.run(r, 0, len(s.Surfaces), 1, &path)
	if err != nil {
		return path, err
	}
	if end.D.Z > 0 {
		path = append(path, end.ToPlane(s.RetinaZ, s.last().N).P)
	}
	return path, nil
}

// ToPlane moves the ray straight to the plane z (mm), forwards or back, in a
// medium of index n.
func (r Ray) ToPlane(z, n float64) Ray {
	t := (z - r.P.Z) / r.D.Z
	return Ray{r.P.Add(r.D.Mul(t)), r.D, r.OPL + n*t}
}

// last returns the medium behind the last surface.
func (s *System) last() *Medium { return &s.Media[len(s.Media)-1] }

// run crosses surfaces from, from+step, ... before stop; step is +1 inwards and
// -1 outwards.
func (s *System) run(r Ray, from, stop, step int, path *[]Vec) (Ray, error) {
	for i := from; i != stop; i += step {
		before, after := &s.Media[i], &s.Media[i+1]
		if step < 0 {
			before, after = after, before
		}
		var err error
		if r, err = cross(&s.Surfaces[i], before, after, r); err != nil {
			return r, named(err, s.Name, "")
		}
		if path != nil {
			*path = append(*path, r.P)
		}
	}
	return r, nil
}

// cross carries the ray through the medium to the surface and bends it there.
func cross(f *Surface, before, after *Medium, r Ray) (Ray, error) {
	if before.Grad != nil {
		p, d, opl, err := before.Grad.cross(f, r.P, r.D)
		if err != nil {
			return r, err
		}
		r = Ray{p, d, r.OPL + opl}
	}
	t, nrm, err := f.meet(f.At.in(r.P), f.At.r.undo(r.D))
	if err != nil {
		return r, err
	}
	p := r.P.Add(r.D.Mul(t))
	n, m := before.indexAt(p), after.indexAt(p)
	d, ok := refract(r.D, f.At.r.apply(nrm), n, m)
	if !ok {
		return r, reflected(f, r.D.Dot(f.At.r.apply(nrm)), n, m)
	}
	return Ray{p, d, r.OPL + n*t}, nil
}

// reflected says at what angle the ray met the surface and what angle it could
// have passed at.
func reflected(f *Surface, cos, n, m float64) error {
	const deg = 180 / math.Pi
	what := fmt.Sprintf("total internal reflection: a ray meets it at %.1f°, and only up to %.1f° gets through",
		deg*math.Acos(math.Abs(cos)), deg*math.Asin(m/n))
	return RayError{Surface: f.Name, What: what, Kind: ErrReflected}
}
