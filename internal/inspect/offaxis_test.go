package inspect_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/unit"
)

// TestOffAxisARoundCentredEyeIsAlikeOnBothSides: and its tangential focus lies
// in front, as in the wide-angle eye of Escudero-Sanz and Navarro 1999, which has
// t - s of -.20 and -2.01 D at 10 and 30 degrees (worked out by a separate
// program). An implant with equal faces has more; the bounds hold sign and size.
func TestOffAxisARoundCentredEyeIsAlikeOnBothSides(t *testing.T) {
	r := report(t, one(t, clear), nil, far)
	if len(r.OffAxis) != 6 {
		t.Fatalf("%d directions", len(r.OffAxis))
	}
	const rounding = 1e-6
	for i := range 3 {
		a, b := r.OffAxis[i], r.OffAxis[5-i]
		if a.FieldDeg != -b.FieldDeg || math.Abs(a.M-b.M)+math.Abs(a.J0-b.J0)+math.Abs(a.J45)+math.Abs(b.J45) > rounding {
			t.Errorf("left %+v, right %+v", a, b)
		}
	}
	ten, thirty := 2*r.OffAxis[3].J0, 2*r.OffAxis[5].J0
	if ten > -.2 || thirty > -2 || ten < -1 || thirty < -8 {
		t.Errorf("t - s of %.2f and %.2f D", ten, thirty)
	}
}

// TestTheSidesOfOffAxisAreThePatients: a right eye's lens, shifted towards the
// temple and so to the clinician's left, is for the patient on the right. What
// comes from the patient's right enters at the clinician's left, field -20.
func TestTheSidesOfOffAxisAreThePatients(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 3", "implant: {decentration_mm: 1, direction: out}")
	r := report(t, e, cause.Only(cause.Lens, 1), far)
	traced, at, _ := e.Traced(1)
	ahead, err := traced.OffAxis(at, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range r.OffAxis {
		want, err := traced.OffAxis(at, unit.Degrees(-o.FieldDeg))
		if err != nil {
			t.Fatal(err)
		}
		m := (want.TangentialD + want.SagittalD - ahead.TangentialD - ahead.SagittalD) / 2
		if math.Abs(o.M-m) > 1e-9 {
			t.Errorf("%g degrees: %.3f D, want %.3f", o.FieldDeg, o.M, m)
		}
	}
	if math.Abs(r.OffAxis[0].M-r.OffAxis[5].M) < .1 {
		t.Error("both sides are alike: the check cannot fail")
	}
}

func TestANaturalLensHasNoNumbersOffAxis(t *testing.T) {
	r := report(t, one(t, "lens: natural", "pupil_bright_mm: 3"), nil, far)
	var b strings.Builder
	if err := r.Write(&b); err != nil {
		t.Fatal(err)
	}
	if len(r.OffAxis) != 0 || strings.Contains(b.String(), "to the side") {
		t.Errorf("%v\n%s", r.OffAxis, b.String())
	}
}
