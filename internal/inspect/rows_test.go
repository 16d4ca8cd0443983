package inspect_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"simview/internal/inspect"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// row returns the row of that name.
func row(t *testing.T, rows []inspect.Row, by string) inspect.Row {
	t.Helper()
	i := slices.IndexFunc(rows, func(r inspect.Row) bool { return r.By == by })
	if i < 0 {
		t.Fatalf("no row %q", by)
	}
	return rows[i]
}

// TestSurfacesAndCausesAreTheSameWavefrontSortedTwice: both lists add to the
// total, which is fitted by itself; the fit is linear, so only rounding is left.
func TestSurfacesAndCausesAreTheSameWavefrontSortedTwice(t *testing.T) {
	r := report(t, demo(t), demo(t).All(), far)
	for _, rows := range [][]inspect.Row{r.Surfaces, r.Parts} {
		m, j0, j45 := 0.0, 0.0, 0.0
		for _, p := range rows {
			m, j0, j45 = m+p.M, j0+p.J0, j45+p.J45
		}
		const rounding = 1e-9
		if math.Abs(m-r.Total.M)+math.Abs(j0-r.Total.J0)+math.Abs(j45-r.Total.J45) > rounding {
			t.Errorf("rows add to M %.6f J0 %.6f J45 %.6f, the total is %.6f %.6f %.6f", m, j0, j45, r.Total.M, r.Total.J0, r.Total.J45)
		}
	}
	if got := names(r.Surfaces); got != "glasses, front cornea, lens" {
		t.Errorf("surfaces %s", got)
	}
}

func names(rows []inspect.Row) string {
	var n []string
	for _, r := range rows {
		n = append(n, r.By)
	}
	return strings.Join(n, ", ")
}

// TestEveryRowSaysHowItIsKnown: by surface, the front cornea is the usual one
// under a generated scar, the lens the usual one plus what was traced.
func TestEveryRowSaysHowItIsKnown(t *testing.T) {
	r := report(t, demo(t), demo(t).All(), far)
	for by, want := range map[string]string{"glasses": "measured, computed", "front cornea": "typical, generated", "lens": "typical, traced"} {
		if got := strings.Join(row(t, r.Surfaces, by).From, ", "); got != want {
			t.Errorf("surface %s is known as %s, want %s", by, got, want)
		}
	}
	for _, rows := range [][]inspect.Row{r.Surfaces, r.Parts, {r.Total}} {
		for _, p := range rows {
			if len(p.From) == 0 || slices.Contains(p.From, "not stated") {
				t.Errorf("%s is known as %q", p.By, p.From)
			}
		}
	}
}

// TestWhatWasMeasuredAndNothingExplainsIsARowOfItsOwn: a cornea of c(3,3) = 0.2
// µm under a whole eye of c(3,-1) = 0.1 leaves c(3,3) = -0.2 and c(3,-1) = 0.1
// unexplained. Both lie in the fitted orders, so only listing to 0.0005 rounds.
func TestWhatWasMeasuredAndNothingExplainsIsARowOfItsOwn(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 4",
		"implant: {spherical_aberration_at_6mm_um: 0}",
		`cornea: {spherical_aberration_at_6mm_um: 0, wavefront: {pupil_mm: 4, wavelength_nm: 555, scheme: osa-nm, of: cornea, terms_um: {"3,3": 0.2}}}`,
		`wavefront: {pupil_mm: 4, wavelength_nm: 555, scheme: osa-nm, of: whole-eye, terms_um: {"3,-1": 0.1}}`)
	r := report(t, e, e.All(), far)
	front, rest := row(t, r.Surfaces, "front cornea"), row(t, r.Surfaces, "unexplained")
	const tol = 1e-6
	if math.Abs(front.TermsUM["3,3"]-.2) > tol || !slices.Contains(front.From, "measured") {
		t.Errorf("front cornea %v %v", front.TermsUM, front.From)
	}
	if math.Abs(rest.TermsUM["3,3"]+.2) > tol || math.Abs(rest.TermsUM["3,-1"]-.1) > tol || !slices.Equal(rest.From, []string{"unexplained"}) {
		t.Errorf("unexplained %v %v", rest.TermsUM, rest.From)
	}
	if math.Abs(r.Total.TermsUM["3,-1"]-.1) > tol || math.Abs(r.Total.TermsUM["3,3"]) > tol {
		t.Errorf("total %v", r.Total.TermsUM)
	}
}

// TestTheRowOfTheLeftoverCylinderIsNeedMinusWorn, as power vectors at the cornea
// (Thibos, Wheeler and Horner 1997), where no lens is displaced.
func TestTheRowOfTheLeftoverCylinderIsNeedMinusWorn(t *testing.T) {
	e := one(t, clear, "refraction: {kind: manifest, sphere_d: 1, cylinder_d: -2, axis_deg: 30, vertex_mm: 0}", "worn_far: {sphere_d: 0.5, vertex_mm: 0}")
	got := row(t, report(t, e, e.All(), far).Parts, "cylinder")
	want := refraction.SphereCylinder{Sphere: .5, Cylinder: -2, AxisDeg: 30}.PowerVector()
	const tol = 1e-9
	if math.Abs(got.M-float64(want.M))+math.Abs(got.J0-float64(want.J0))+math.Abs(got.J45-float64(want.J45)) > tol {
		t.Errorf("M %.4f J0 %.4f J45 %.4f, want %v", got.M, got.J0, got.J45, want)
	}
}

// TestTheTextHoldsTheNumbersOfTheReport: every row once by its name, with its
// numbers and its origin.
func TestTheTextHoldsTheNumbersOfTheReport(t *testing.T) {
	r := report(t, demo(t), demo(t).All(), far)
	var b strings.Builder
	if err := r.Write(&b); err != nil {
		t.Fatal(err)
	}
	text := regexp.MustCompile(` +`).ReplaceAllString(b.String(), " ")
	for _, p := range slices.Concat(r.Surfaces, r.Parts, []inspect.Row{r.Total}) {
		line := fmt.Sprintf(" %s %.3f %.3f %.3f %+.2f %+.2f %+.2f %s\n", p.By, p.RMSUM, p.HighUM, p.FineUM, p.M, p.J0, p.J45, strings.Join(p.From, ", "))
		if !strings.Contains(text, line) {
			t.Errorf("no line %q in\n%s", line, b.String())
		}
	}
	if want := fmt.Sprintf(" %+.3f\n c(4,2)", r.Total.TermsUM["4,0"]); !strings.Contains(text, want) {
		t.Errorf("no %q in\n%s", want, b.String())
	}
	if unit.Right.String() != r.Eye || !strings.HasPrefix(text, "right eye, ") {
		t.Errorf("begins %q", text[:40])
	}
}
