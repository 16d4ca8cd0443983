package inspect_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/inspect"
)

// exactD is what the residual of crossed cylinders is held to; the numbers beside
// it are printed to nine places.
const exactD = 1e-8

func line(t *testing.T, r inspect.Report, what string) inspect.Lens {
	t.Helper()
	for _, l := range r.Refraction {
		if strings.HasPrefix(l.What, what) {
			return l
		}
	}
	t.Fatalf("no line %q among %+v", what, r.Refraction)
	return inspect.Lens{}
}

// TestALensTenDegreesOffLeavesTheCrossedCylindersOfTheFormula: an eye that needs
// +2.00 x 90 and wears it at 100 is left with |C| = 2 C sin 10°, M 0, by two other
// ways of writing the same sum (from memory; worked out by numpy).
func TestALensTenDegreesOffLeavesTheCrossedCylindersOfTheFormula(t *testing.T) {
	e := one(
		t, "lens: implant", "pupil_bright_mm: 3",
		"refraction: {kind: manifest, sphere_d: 0, cylinder_d: 2, axis_deg: 90, vertex_mm: 0}",
		"worn_far: {sphere_d: 0, cylinder_d: 2, axis_deg: 100, vertex_mm: 0}",
	)
	got := line(t, report(t, e, nil, far), "left over")
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"J0", got.J0, .060307379},
		{"J45", got.J45, -.342020143},
		{"cylinder", got.CylinderD, -.694592711},
		{"axis", got.AxisDeg, 140},
		{"spherical equivalent", got.M, 0},
		{"sphere", got.SphereD, .694592711 / 2},
	} {
		if math.Abs(c.got-c.want) > exactD {
			t.Errorf("%s %.9f, want %.9f", c.name, c.got, c.want)
		}
	}
}

// TestGlassesAreComparedAtTheCornea: F / (1 - d F), so that -8.00 D at 12 mm are
// -8/1.096 D there, and the same lens worn closer is too strong.
func TestGlassesAreComparedAtTheCornea(t *testing.T) {
	e := one(
		t, "lens: implant", "pupil_bright_mm: 3",
		"refraction: {kind: manifest, sphere_d: -8, cylinder_d: 0, axis_deg: 0, vertex_mm: 12}",
		"worn_far: {sphere_d: -8, vertex_mm: 10}",
	)
	r := report(t, e, nil, far)
	need, worn, left := line(t, r, "needed"), line(t, r, "worn"), line(t, r, "left over")
	if math.Abs(need.M+8/1.096) > exactD || math.Abs(worn.M+8/1.08) > exactD || math.Abs(left.M-(8/1.08-8/1.096)) > exactD {
		t.Errorf("need %.9f, worn %.9f, left %.9f", need.M, worn.M, left.M)
	}
}

// TestTheLensesShareAndTheRemainderAddToWhatIsLeftOver, in the text too.
func TestTheLensesShareAndTheRemainderAddToWhatIsLeftOver(t *testing.T) {
	r := report(t, demo(t), nil, far)
	left, share, rest := line(t, r, "left over"), line(t, r, "of that the displaced lens's"), line(t, r, "remainder")
	if d := math.Abs(left.M-share.M-rest.M) + math.Abs(left.J0-share.J0-rest.J0) + math.Abs(left.J45-share.J45-rest.J45); d > exactD {
		t.Errorf("%+v is not %+v and %+v", left, share, rest)
	}
	var text strings.Builder
	if err := r.Write(&text); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"refraction at the cornea", "needed (manifest)", "worn for far", "remainder"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the text lacks %q", want)
		}
	}
}

func TestAnEyeWithoutRefractionHasNoLines(t *testing.T) {
	if r := report(t, one(t, "lens: implant", "pupil_bright_mm: 3"), nil, far); len(r.Refraction) != 0 {
		t.Errorf("%+v", r.Refraction)
	}
}
