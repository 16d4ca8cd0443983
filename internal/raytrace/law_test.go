package raytrace

import (
	"math"
	"testing"

	"simview/internal/unit"
)

// Fermat's principle, which uses neither normals nor Snell's law: the optical path
// from source to plane does not change, to first order, when one of the points
// where the ray crosses a surface slides along that surface. With slides of
// h = 1e-4 mm the first-order part of a ray bent wrongly by 1e-4 would be 1e-8 mm;
// the second-order part cancels in the difference of the two sides.
func TestTracedRaysTakeTheStationaryPath(t *testing.T) {
	s := must(bench(t, SAWholeEye, 0).At(DisplacedLens{Decentration: unit.PupilPoint{X: .7, Y: .3}, Tilt: 7, TiltToward: 50}))(t)
	for _, start := range []Vec{{0, 0, -5}, {1.8, 1, -5}, {-2, .9, -5}} {
		path := must(s.PathIn(Ray{P: start, D: Vec{.01, -.02, 1}.Unit()}))(t)
		for i := range s.Surfaces {
			f := &s.Surfaces[i]
			q := f.At.in(path[i+1])
			z, _, _, _ := f.sag(q.X, q.Y)
			near(t, f.Name+" point lies on it", q.Z, z, 1e-12)
			n, m := s.Media[i].N, s.Media[i+1].N
			opl := func(dx, dy float64) float64 {
				z, _, _, _ := f.sag(q.X+dx, q.Y+dy)
				p := f.At.out(Vec{q.X + dx, q.Y + dy, z})
				return n*p.Sub(path[i]).Norm() + m*path[i+2].Sub(p).Norm()
			}
			const h = 1e-4
			near(t, f.Name+" along x", opl(h, 0)-opl(-h, 0), 0, 1e-12)
			near(t, f.Name+" along y", opl(0, h)-opl(0, -h), 0, 1e-12)
		}
	}
}

// What an aspheric front adds acts like a plate K ρ⁴ that is shifted with the lens.
// From the shift of ρ⁴ (third-order theory), with δ the decentration widened by
// the cornea as seen from outside and r the pupil's radius:
//
//	Δc31 = -4 Δc40 6√5 / (3√8) δ/r
//
// The cone of light leaving the retina narrows between lens and cornea by the same
// ratio as parallel light entering. 5 % is left for the sixth order.
func TestAsphericPartActsLikeAShiftedPlate(t *testing.T) {
	round, null := bench(t, SASpherical, 0), bench(t, SAWholeEye, 0)
	const shift = .3
	a, b := must(round.Wavefront(shifted(shift, 0), 6))(t), must(null.Wavefront(shifted(shift, 0), 6))(t)
	focus := 1.3375 * 7.575 / .3375
	seen := shift / (1 - 4.5/focus)
	want := 4 * round.WholeC40UM * 6 * math.Sqrt(5) / (3 * math.Sqrt(8)) * seen / 3
	near(t, "coma of the aspheric part", (b.At(3, 1)-a.At(3, 1))/want, 1, .05)
}

// The closed form of a conic and the iteration for other surfaces agree, and the
// slopes are those of the sag (central differences of 1e-5 mm are good to 1e-9).
func TestSurfacesAreConsistent(t *testing.T) {
	conic := Surface{Name: "c", At: frameAt(0), RadiusMM: 7, Conic: -.4}
	same := conic
	same.Even = []float64{0}
	p, d := Vec{1.2, -.7, -3}, Vec{.1, .05, 1}.Unit()
	t1, n1, _ := conic.meet(p, d)
	t2, n2, _ := same.meet(p, d)
	near(t, "distance", t2, t1, 1e-12)
	near(t, "normal", n1.Sub(n2).Norm(), 0, 1e-12)
	free := Surface{RadiusMM: 9, Conic: -2, Even: []float64{-1e-3, 2e-5}, CrossCurvature: .01}
	const h = 1e-5
	z := func(x, y float64) float64 { v, _, _, _ := free.sag(x, y); return v }
	_, zx, zy, _ := free.sag(1.3, -2)
	near(t, "dz/dx", zx, (z(1.3+h, -2)-z(1.3-h, -2))/(2*h), 1e-9)
	near(t, "dz/dy", zy, (z(1.3, -2+h)-z(1.3, -2-h))/(2*h), 1e-9)
	near(t, "sphere", sphereSag(5, 3), 5-4, 1e-12) // 3-4-5 triangle
}

func sphereSag(r, h float64) float64 {
	s := Surface{RadiusMM: r}
	z, _, _, _ := s.sag(h, 0)
	return z
}

// Printed indices of the four-term formulae at 458, 543, 589.3 and 632.8 nm
// (computed from the constants by a separate program).
func TestMediaDisperseByTheirFormula(t *testing.T) {
	nm := [4]float64{458, 543, 589.3, 632.8}
	for i, n := range [4]float64{1.38128, 1.37650, 1.37470, 1.37331} {
		near(t, "cornea", corneaCauchy.at(nm[i]), n, 5e-6)
	}
	for i, n := range [4]float64{1.34118, 1.33650, 1.33472, 1.33334} {
		near(t, "aqueous", aqueousCauchy.at(nm[i]), n, 5e-6)
	}
	c := abbeCauchy(1.49, 57)
	near(t, "Abbe number", .49/(c.at(486.1)-c.at(656.3)), 57, 1e-9)
}

// A lens of power F decentred by d deviates light by δ = d F (Prentice; in a
// medium of index n by d F / n), and its colour is that share of F which
// disperses. The ray from the retina (a = 17.83 mm from the lens's centre) to the
// middle of the stop (b = 1.07 mm) takes δ a/(a+b) of it on its side of the stop,
// and leaves the eye at n/1.1537 times that (1.1537: entrance pupil over stop). The
// cornea and the medium disperse the deviated ray by another 5 %: tolerance 6 %.
func TestADecentredLensSpreadsColourSideways(t *testing.T) {
	spec := BenchSpec(SphericalAberration{})
	spec.Lens.AbbeNumber = 40
	e := must(NewImplantEye(spec))(t)
	tilt := func(nm, mm float64) float64 {
		s := must(must(e.At(shifted(mm, 0)))(t).AtWavelength(unit.NM(nm)))(t)
		b, err := s.newBeam(s.OnAxis())
		if err != nil {
			t.Fatal(err)
		}
		return b.mid.l
	}
	near(t, "centred", tilt(486.1, 0)-tilt(656.3, 0), 0, 1e-12)
	got := tilt(486.1, .5) - tilt(656.3, .5)
	dn := .4577/40 - (aqueousCauchy.at(486.1) - aqueousCauchy.at(656.3))
	prism := .5e-3 * 21.677 * dn / (1.4577 - 1.3375) / 1.3375
	want := prism * 17.83 / (17.83 + 1.07) * 1.3375 / 1.1537
	near(t, "colour spread over Prentice's", math.Abs(got)/want, 1, .06)
}

func TestSectionLiesOnTheSurface(t *testing.T) {
	s := must(LiouBrennan().Moved(2, 4, DisplacedLens{Decentration: unit.PupilPoint{X: .4}, Tilt: 6}))(t)
	for i := range s.Surfaces {
		for _, p := range must(s.Section(i, 0, 3, 11))(t) {
			q := s.Surfaces[i].At.in(p)
			z, _, _, _ := s.Surfaces[i].sag(q.X, q.Y)
			near(t, "z", q.Z, z, 1e-12)
		}
	}
	if _, err := s.Section(9, 0, 3, 11); err == nil {
		t.Error("no error for a surface that is not there")
	}
}
