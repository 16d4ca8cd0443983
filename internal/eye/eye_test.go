package eye_test

import (
	"math"
	"testing"

	"simview/internal/eye"
	"simview/internal/fieldmask"
	"simview/internal/unit"
)

func constant(by string, um float64) eye.Part {
	return eye.Part{By: by, PathUM: func(_, _ float64) float64 { return um }}
}

func TestPathsOfPartsAddUp(t *testing.T) {
	slope := eye.Part{By: "b", PathUM: func(x, y float64) float64 { return 2*x - y }}
	s := eye.State{}.With(constant("a", 0.25)).With(slope).With(constant("c", -1))
	if got, want := s.PathUM(1.5, 0.5), 0.25+2.5-1; got != want {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := (eye.State{}).PathUM(1, 1); got != 0 {
		t.Errorf("an eye without parts has the path %v", got)
	}
}

func TestAChangedCopyLeavesTheOriginalAlone(t *testing.T) {
	base := eye.State{Parts: make([]eye.Part, 0, 8), Notes: make([]string, 0, 8)}.With(constant("a", 1)).With(constant("b", 2))
	one, two := base.With(constant("c", 10)), base.With(constant("d", 20))
	if one.PathUM(0, 0) != 13 || two.PathUM(0, 0) != 23 || base.PathUM(0, 0) != 3 {
		t.Errorf("With: %v, %v from %v; want 13, 23 from 3", one.PathUM(0, 0), two.PathUM(0, 0), base.PathUM(0, 0))
	}
	less := one.Without(func(p eye.Part) bool { return p.By == "a" })
	if less.PathUM(0, 0) != 12 || one.PathUM(0, 0) != 13 {
		t.Errorf("Without: %v from %v; want 12 from 13", less.PathUM(0, 0), one.PathUM(0, 0))
	}
	n1, n2 := base.Note("x"), base.Note("y")
	if n1.Notes[0] != "x" || n2.Notes[0] != "y" || len(base.Notes) != 0 {
		t.Errorf("Note: %q, %q from %q", n1.Notes, n2.Notes, base.Notes)
	}
}

func TestAPinholeOffCentreSamplesTheWavefrontWhereItStands(t *testing.T) {
	s := eye.State{PupilMM: 1, PupilAt: unit.PupilPoint{X: 1.5, Y: -0.5}}
	s = s.With(eye.Part{PathUM: func(x, y float64) float64 { return 100*x + y }})
	a := s.Aperture()
	if got, want := a.PathUM(0.25, 0.125), 100*1.75-0.375; got != want {
		t.Errorf("path %v, want %v", got, want)
	}
	if a.DiameterMM != 1 || a.CentreMM != s.PupilAt {
		t.Errorf("aperture %v mm at %v", a.DiameterMM, a.CentreMM)
	}
}

func TestAPinholeOffCentreMeetsTheEdgeOfTheLensWhereItStands(t *testing.T) {
	s := eye.State{PupilMM: 1, PupilAt: unit.PupilPoint{X: 1.5, Y: -0.5}}
	s = s.With(eye.Part{PathUM: func(x, y float64) float64 { return x }})
	if a := s.Aperture(); a.InsideMM != nil || a.BesideUM != nil {
		t.Error("an edge without a displaced lens")
	}
	s.Past = &eye.Past{
		InsideMM: func(x, y float64) float64 { return 10*x + y },
		MoreUM:   func(x, y float64) float64 { return 100 * y },
	}
	a := s.Aperture()
	if got, want := a.InsideMM(0.25, 0.125), 17.5-0.375; got != want {
		t.Errorf("%v mm inside, want %v", got, want)
	}
	if got, want := a.BesideUM(0.25, 0.125), 1.75-37.5; got != want {
		t.Errorf("path beside the lens %v, want %v", got, want)
	}
}

func TestLossGrowsWithItsStrength(t *testing.T) {
	field := fieldmask.Field{Side: unit.Right, Pattern: "free", Kind: fieldmask.TotalDeviation}
	for _, at := range [][2]unit.Degrees{{-6, -6}, {6, -6}, {-6, 6}, {6, 6}, {0, 0}} {
		field.Points = append(field.Points, fieldmask.Point{At: unit.SightPoint{X: at[0], Y: at[1]}, DB: -8})
	}
	surface, err := fieldmask.NewSurface(60, 0, field)
	if err != nil {
		t.Fatal(err)
	}
	const interpolation = 1e-6 // dB: equal values in all corners
	for _, k := range []float64{0.5, 1, 3} {
		loss := eye.State{Field: surface, FieldK: k}.Loss()
		if got := loss(6, -6); math.Abs(got-8*k) > interpolation {
			t.Errorf("strength %g: %v dB at a point of -8 dB, want %g", k, got, 8*k)
		}
	}
	if (eye.State{Field: surface}).Loss() != nil {
		t.Error("strength 0 has a loss")
	}
	if (eye.State{FieldK: 1}).Loss() != nil {
		t.Error("a full field has a loss")
	}
}

func TestEveryPlaneHasItsName(t *testing.T) {
	seen := map[string]bool{}
	for p := eye.Glasses; p <= eye.Unexplained; p++ {
		if seen[p.String()] || p.String() == "unknown plane" {
			t.Errorf("plane %d: %q", p, p)
		}
		seen[p.String()] = true
	}
	for _, p := range []eye.Plane{-1, eye.Unexplained + 1} {
		if p.String() != "unknown plane" {
			t.Errorf("plane %d: %q", p, p)
		}
	}
}
