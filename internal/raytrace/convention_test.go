package raytrace

import (
	"math"
	"testing"

	"simview/internal/unit"
)

// An eye that is too long is myopic, and a myopic eye has c(2,0) > 0 (ANSI
// Z80.28). Newton's relation x x' = -f f' gives the far point: for 0.37 mm it lies
// 980.5 mm in front of the first focus (f = 16.468, f' = 22.029 mm), that is
// 995 mm in front of the cornea and 998 mm of the entrance pupil. Spherical
// aberration adds 0.005 D at the 0.5 mm pupil.
func TestALongerEyeHasPositiveDefocus(t *testing.T) {
	s := EscuderoNavarro()
	s.RetinaZ = 23.9203 + .37
	w := must(s.Wavefront(s.OnAxis(), .5))(t)
	near(t, "M", -4*math.Sqrt(3)*w.At(2, 0)/.0625, -1000/998., .006)
	near(t, "paraxial refraction", must(s.Paraxial())(t).RefractionAtCornealVtxD, -1000/995., .001)
}

// Outer rays that focus in front: longitudinal aberration and c(4,0) above 0.
func TestOuterRaysInFrontMeanPositiveC40(t *testing.T) {
	s := GullstrandLeGrand()
	if lsa := must(s.LongitudinalSA(3))(t); !(lsa > 0) {
		t.Errorf("LSA %g", lsa)
	}
	if w := must(s.Wavefront(s.OnAxis(), 6))(t); !(w.At(4, 0) > 0) {
		t.Errorf("c40 %g", w.At(4, 0))
	}
}

// The outgoing wavefront sends the ray through (x, y) along (-dW/dx, -dW/dy). The
// ray is traced from outside: enter along the opposite direction at that pupil
// point and the light must arrive at the source. 2 µm at the retina is what
// terms beyond order 6 may turn.
func TestTheRayLeavesAgainstTheSlopeOfTheWavefront(t *testing.T) {
	s := must(bench(t, SAWholeEye, 0).At(DisplacedLens{Decentration: unit.PupilPoint{X: .7, Y: .3}, Tilt: 5}))(t)
	w := must(s.Wavefront(s.OnAxis(), 5))(t)
	z := must(s.Paraxial())(t).EntrancePupilZ
	for _, p := range [][2]float64{{0, 0}, {1.2, .5}, {-.8, 1.6}, {.3, -1.9}} {
		wx, wy := w.SlopeUMPerMM(p[0], p[1])
		l, m := -wx/1000, -wy/1000
		out := Ray{P: Vec{p[0], p[1], z}, D: Vec{l, m, -math.Sqrt(1 - l*l - m*m)}}
		start := out.ToPlane(-5, 1)
		in := must(s.TraceIn(Ray{P: start.P, D: out.D.Mul(-1)}))(t).ToPlane(s.RetinaZ, s.last().N)
		near(t, "place on the retina", math.Hypot(in.P.X, in.P.Y), 0, .002)
	}
}

// A positive tilt carries the posterior pole towards its direction, the front away.
func TestAPositiveTiltMovesThePosteriorPoleTowardsItsDirection(t *testing.T) {
	e := bench(t, SASpherical, 0)
	s := must(e.At(DisplacedLens{Tilt: 7, TiltToward: 135}))(t)
	front, back := s.Surfaces[1].At.O, s.Surfaces[2].At.O
	reach := 1.14 / 2 * math.Sin(7*math.Pi/180) / math.Sqrt2
	near(t, "back x", back.X, -reach, 1e-12)
	near(t, "back y", back.Y, reach, 1e-12)
	near(t, "front x", front.X, reach, 1e-12)
	near(t, "front y", front.Y, -reach, 1e-12)
	near(t, "centre z", (front.Z+back.Z)/2, 4.5+.57, 1e-12)
}

// Towards the retina is +z: a lens further back is weaker for the eye, which is
// then hypermetropic: c(2,0) < 0.
func TestALensMovedTowardsTheRetinaMakesTheEyeHypermetropic(t *testing.T) {
	e := bench(t, SAWholeEye, 0)
	if w := must(e.Wavefront(DisplacedLens{AxialMM: .5}, 4))(t); !(w.At(2, 0) < -.05) {
		t.Errorf("c20 %g", w.At(2, 0))
	}
}

// Mirroring the eye mirrors the terms (x -> -x: the sign of odd cosines and even
// sines flips). Exact but for the sampling: 1e-6 µm.
func TestAMirroredEyeGivesMirroredTerms(t *testing.T) {
	spec := BenchSpec(SphericalAberration{Kind: SAWholeEye})
	spec.Lens.CylinderD, spec.Lens.CylinderAxis = 2, 30
	other := spec
	other.Lens.CylinderAxis = 150
	a, b := must(NewImplantEye(spec))(t), must(NewImplantEye(other))(t)
	d := DisplacedLens{Decentration: unit.PupilPoint{X: .6, Y: .2}, Tilt: 6, TiltToward: 70, Rotation: 12, AxialMM: .2}
	want := must(a.Wavefront(d, 6))(t).Mirror()
	got := must(b.Wavefront(d.Mirrored(), 6))(t)
	for j := range want.C {
		near(t, "term", got.C[j], want.C[j], 1e-5)
	}
	if math.Abs(want.At(3, 1)) < .05 {
		t.Error("the check has no coma to flip")
	}
}

// Turning the displacement turns the terms: c(n,m) and c(n,-m) as cos and sin of
// m times the angle.
func TestATurnedDisplacementGivesTurnedTerms(t *testing.T) {
	e := bench(t, SAWholeEye, 0)
	a, b := shifted(.8, 10), shifted(.8, 50)
	a.Tilt, a.TiltToward, b.Tilt, b.TiltToward = 5, 100, 5, 140
	want := must(e.Wavefront(a, 6))(t)
	got := must(e.Wavefront(b, 6))(t)
	for m := 1; m <= 3; m++ {
		n := max(m, 2+m%2)
		sin, cos := math.Sincos(float64(m) * 40 * math.Pi / 180)
		c, s := want.At(n, m), want.At(n, -m)
		near(t, "cosine", got.At(n, m), cos*c-sin*s, 1e-4)
		near(t, "sine", got.At(n, -m), cos*s+sin*c, 1e-4)
	}
}

// Which tilt adds to a decentration: with a lens that nulls the cornea's
// spherical aberration the posterior pole goes the same way as the lens, with a
// spherical lens the other way (signs as in the displaced-lens table: coma of
// -.18 for +.5 mm and +.25 for +5° with a spherical lens; opposite sign of the
// first for an aspheric one).
func TestWhichTiltAddsDependsOnTheAsphericity(t *testing.T) {
	for _, row := range []struct {
		kind SAKind
		adds unit.Degrees
	}{{SAWholeEye, 135}, {SASpherical, -45}} {
		e := bench(t, row.kind, 0)
		d := shifted(1, 135)
		coma := func(toward unit.Degrees, tilt unit.Degrees) float64 {
			d.Tilt, d.TiltToward = tilt, toward
			w := must(e.Wavefront(d, 5.5))(t)
			return math.Hypot(w.At(3, 1), w.At(3, -1))
		}
		if !(coma(row.adds, 7) > 1.3*coma(0, 0) && coma(row.adds+180, 7) < .7*coma(0, 0)) {
			t.Errorf("kind %d: adding %.3f, none %.3f, opposite %.3f", row.kind, coma(row.adds, 7), coma(0, 0), coma(row.adds+180, 7))
		}
	}
}
