package plot

import (
	"math"
	"strings"
	"testing"

	"simview/internal/raytrace"
	"simview/internal/unit"
)

// exact allows for float64 sums over lengths of some 10 mm.
const exactMM = 1e-9

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g ± %g", what, got, want, tolerance)
	}
}

// The bench lens stands 4.5 mm behind the cornea and is 1.14 mm thick.
const lensMiddleMM = 4.5 + 1.14/2

func TestTheDisplacedLensIsDrawnWhereItLies(t *testing.T) {
	e, half := implant(t), math.Sqrt(.5)
	at := towardsDeg(.8, -half, half) // 0.8 mm along 135 degrees
	for meridian, want := range map[unit.Degrees]float64{135: .8, 90: .8 * half, 180: .8 * half, 45: 0, -45: .8, 315: .8} {
		s := section(t, subject(t, e, at, meridian))
		near(t, "middle along the meridian", s.Lens.Centre.H, want, exactMM)
		near(t, "depth of the middle", s.Lens.Centre.Z, lensMiddleMM, exactMM)
		near(t, "middle in its place", s.Straight.Centre.H, 0, exactMM)
		if !s.Displaced {
			t.Error("a lens 0.8 mm off counts as in its place")
		}
	}
}

func TestTheOutlineTurnsWithTheTilt(t *testing.T) {
	e := implant(t)
	s := section(t, subject(t, e, raytrace.DisplacedLens{Tilt: 10, TiltToward: 90}, 90))
	front, back := s.Lens.Outline[outlineSteps/2], s.Lens.Outline[outlineSteps+outlineSteps/2]
	sin, cos := math.Sincos(10 * math.Pi / 180)
	near(t, "from front to back, depth", back.Z-front.Z, 1.14*cos, exactMM)
	near(t, "from front to back, up", back.H-front.H, 1.14*sin, exactMM)
	// The rim of an upright lens: 3 mm from its axis.
	top := section(t, subject(t, e, raytrace.DisplacedLens{}, 90))
	near(t, "upper rim", highest(top.Lens.Outline).H, 3, exactMM)
}

func TestASurfaceIsCutAlongTheEyesMeridianNotItsOwn(t *testing.T) {
	spec := raytrace.BenchSpec(raytrace.SphericalAberration{Kind: raytrace.SAWholeEye})
	spec.Lens.CylinderD, spec.Lens.CylinderAxis = 6, 90 // power across, none along 90
	e, err := raytrace.NewImplantEye(spec)
	if err != nil {
		t.Fatal(err)
	}
	sag := func(meridian unit.Degrees) float64 {
		s := section(t, subject(t, e, raytrace.DisplacedLens{}, meridian))
		return s.Lens.Outline[0].Z - s.Lens.Outline[outlineSteps/2].Z
	}
	// 6 D more are 6/1000/(1.4577-1.3375) 1/mm more curvature; at 3 mm that is
	// h²/2 of it deeper, and a little more for the sphere's own higher terms.
	want := 9.0 / 2 * .006 / (1.4577 - 1.3375)
	near(t, "deeper along 180 than along 90", sag(180)-sag(90), want, .1*want)
}

func TestRaysMeetAtTheRetina(t *testing.T) {
	e := implant(t)
	p, err := e.Centred.Paraxial()
	if err != nil {
		t.Fatal(err)
	}
	const mediumN = 1.3375
	const blurMM = .002 // well under the 0.005 mm that is half a minute of arc
	for name, longer := range map[string]float64{"in focus": 0, "short-sighted": .5, "long-sighted": -.5} {
		sub := subject(t, e, raytrace.DisplacedLens{}, 30)
		sub.Eye.RetinaZ += longer
		s := section(t, sub)
		near(t, name+": half the width of the bundle", s.landing().half, 0, blurMM)
		first := s.Rays[0].Points
		near(t, name+": depth where rays end", first[len(first)-1].Z, e.Centred.RetinaZ+longer, blurMM)
		// Vergence: what reaches the retina is n'/(f' + longer) at the principal
		// plane; the entrance pupil lies within 2 mm of it, 0.2 % of 1.5 D.
		f := 1000 * mediumN / p.PowerD
		near(t, name+": sphere", float64(s.Glasses.M), 1000*mediumN/(f+longer)-p.PowerD, .02)
	}
}

// The drawn rays and the wavefront are two routes to the same place: a ray through
// a place of the pupil is off the chief ray by the slope of the path left over
// there, times the distance behind the eye (in air) of the retina.
func TestRaysLandWhereTheWavefrontSays(t *testing.T) {
	e, half := implant(t), math.Sqrt(.5)
	at := towardsDeg(.6, -half, half)
	sub := subject(t, e, at, 135)
	s := section(t, sub)
	w, err := sub.Eye.Wavefront(sub.Eye.OnAxis(), sub.PupilMM)
	if err != nil {
		t.Fatal(err)
	}
	slope := func(h float64) float64 {
		x, y := -h*half, h*half
		dx, dy := w.SlopeUMPerMM(x, y)
		const d = 1e-4
		gx := (s.Glasses.PathUM(x+d, y) - s.Glasses.PathUM(x-d, y)) / (2 * d)
		gy := (s.Glasses.PathUM(x, y+d) - s.Glasses.PathUM(x, y-d)) / (2 * d)
		return (-(dx-gx)*half + (dy-gy)*half) / 1000
	}
	p, err := e.Centred.Paraxial()
	if err != nil {
		t.Fatal(err)
	}
	away := 1000 / p.PowerD // mm per radian: the front focal length
	const drawn, model = .003, .05
	widest := 0.0
	for i, r := range s.Rays {
		h := 2.5 * (2*float64(i)/10 - 1)
		want := -(slope(h) - slope(0)) * away
		got := r.Points[len(r.Points)-1].H - s.Chief.H
		near(t, "landing", got, want, drawn+model*math.Abs(want))
		widest = math.Max(widest, math.Abs(want))
	}
	if widest < 5*drawn {
		t.Errorf("the displacement throws no ray further than %.4f mm: the test tells nothing", widest)
	}
}

func TestRaysBesideTheLensAreMarked(t *testing.T) {
	sub := subject(t, implant(t), towardsDeg(1, 0, 1), 90)
	sub.Covered = func(p unit.PupilPoint) bool { return p.Y > -2 }
	for i, r := range section(t, sub).Rays {
		h := 2.5 * (2*float64(i)/10 - 1)
		if r.Past != (h <= -2) {
			t.Errorf("ray at %.1f mm: beside the lens is %v", h, r.Past)
		}
		if want := 5 - 2*b2i(r.Past); len(r.Points) != want {
			t.Errorf("ray at %.1f mm has %d points, want %d", h, len(r.Points), want)
		}
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func TestTheStopIsAsWideAsTheEntrancePupilSays(t *testing.T) {
	s := section(t, subject(t, implant(t), raytrace.DisplacedLens{}, 90))
	// Seen through a cornea of 7.575 mm before 1.3375, a stop at 4 mm is
	// magnified 1/(1 - 4 (n-1)/(n r)) times (thin refracting surface).
	m := 1 / (1 - 4*.3375/(1.3375*7.575))
	near(t, "half the stop", s.Iris[0][0].H, 2.5/m, exactMM)
	near(t, "the other half", s.Iris[1][0].H, -2.5/m, exactMM)
	near(t, "its plane", s.Iris[0][0].Z, 4, exactMM)
}

// A pupil off the axis takes its rays and its stop with it.
func TestTheBundleGoesThroughThePupilWhereItIs(t *testing.T) {
	sub := subject(t, implant(t), raytrace.DisplacedLens{}, 90)
	sub.Eye.PupilCentre.Y, sub.Centred.PupilCentre.Y = .4, .4
	s := section(t, sub)
	first, last := s.Rays[0], s.Rays[len(s.Rays)-1]
	// The eye is in focus and its lens straight: light comes in level but for what
	// is left of the fit, under 1 mrad over 9 mm.
	near(t, "middle of the bundle", (first.Points[0].H+last.Points[0].H)/2, .4, .01)
	m := 1 / (1 - 4*.3375/(1.3375*7.575))
	near(t, "middle of the stop", (s.Iris[0][0].H+s.Iris[1][0].H)/2, .4/m, exactMM)
}

func TestAnUndrawableSubjectIsRefused(t *testing.T) {
	good := subject(t, implant(t), raytrace.DisplacedLens{}, 90)
	for name, spoil := range map[string]func(*Subject){
		"no pupil":   func(s *Subject) { s.PupilMM = 0 },
		"NaN pupil":  func(s *Subject) { s.PupilMM = math.NaN() },
		"no lens":    func(s *Subject) { s.OpticMM = 0 },
		"one ray":    func(s *Subject) { s.Rays = 1 },
		"other eyes": func(s *Subject) { s.Centred.Surfaces = s.Centred.Surfaces[1:] },
		"too wide":   func(s *Subject) { s.PupilMM = 11 },
	} {
		bad := good
		spoil(&bad)
		if _, err := NewSection(bad); err == nil || !strings.HasPrefix(err.Error(), "section: ") {
			t.Errorf("%s: error %v, want one that starts with section:", name, err)
		}
	}
}
