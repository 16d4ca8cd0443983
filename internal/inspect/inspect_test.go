package inspect_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/csf"
	"simview/internal/inspect"
	"simview/internal/light"
	"simview/internal/render"
	"simview/internal/unit"
)

var far = cause.Viewing{DistanceM: math.Inf(1)}

// built resolves the demo's right eye once; it keeps what it refracted.
var built = sync.OnceValues(func() (*cause.Eye, error) {
	c, err := casefile.Demo()
	if err != nil {
		return nil, err
	}
	return cause.Resolve(c, unit.Right)
})

func demo(t *testing.T) *cause.Eye {
	t.Helper()
	e, err := built()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func one(t *testing.T, lines ...string) *cause.Eye {
	t.Helper()
	text := "title: t\ninvented: true\ncomplaint_eye: right\nage_years: 60\neyes:\n  right:\n    " + strings.Join(lines, "\n    ") + "\n"
	c, _, err := casefile.Parse("test.yaml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := cause.Resolve(c, unit.Right)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// reports keeps what was worked out of an eye, with its strengths and view. It keeps
// the eye too, so that no other one comes to lie at its address.
var reports = map[asked]inspect.Report{}

type asked struct {
	eye *cause.Eye
	how string
}

func report(t *testing.T, e *cause.Eye, set cause.Strengths, v cause.Viewing) inspect.Report {
	t.Helper()
	key := asked{e, fmt.Sprintf("%v %v", set, v)}
	if r, ok := reports[key]; ok {
		return r
	}
	r, err := inspect.Eye(e, set, v, nil)
	if err != nil {
		t.Fatal(err)
	}
	reports[key] = r
	return r
}

// TestTheTotalIsTheSumOfTheParts, term by term and in dioptres.
func TestTheTotalIsTheSumOfTheParts(t *testing.T) {
	r := report(t, demo(t), demo(t).All(), far)
	sum, m, j0, j45 := map[string]float64{}, 0.0, 0.0, 0.0
	for _, p := range r.Parts {
		for k, v := range p.TermsUM {
			sum[k] += v
		}
		m, j0, j45 = m+p.M, j0+p.J0, j45+p.J45
	}
	const unlisted = 6 * 5e-4 // µm: terms under 0.0005 are not listed, in six parts
	for k, v := range r.Total.TermsUM {
		if math.Abs(v-sum[k]) > unlisted {
			t.Errorf("c(%s) = %.4f µm, parts add to %.4f", k, v, sum[k])
		}
	}
	const rounding = 1e-9
	if math.Abs(m-r.Total.M)+math.Abs(j0-r.Total.J0)+math.Abs(j45-r.Total.J45) > rounding {
		t.Errorf("M %.3f J0 %.3f J45 %.3f, parts add to %.3f %.3f %.3f", r.Total.M, r.Total.J0, r.Total.J45, m, j0, j45)
	}
	if len(r.Parts) != 6 { // typical, lens, cornea, cylinder, focus, fixation
		t.Errorf("%d parts", len(r.Parts))
	}
}

// TestRMSIsTheRootOfTheSumOfSquares: orthonormal terms, ANSI Z80.28.
func TestRMSIsTheRootOfTheSumOfSquares(t *testing.T) {
	r := report(t, demo(t), demo(t).All(), far)
	for _, row := range append(r.Parts, r.Total) {
		all, high := 0.0, 0.0
		for k, v := range row.TermsUM {
			all += v * v
			if k[0] > '2' {
				high += v * v
			}
		}
		const unlisted = 28 * 5e-4 * 5e-4 / 0.01 // µm: 28 terms under 0.0005 beside 0.01
		if math.Abs(math.Sqrt(all)-row.RMSUM) > 1e-3+unlisted || math.Abs(math.Sqrt(high)-row.HighUM) > 1e-3+unlisted {
			t.Errorf("%s: RMS %.4f and %.4f, terms give %.4f and %.4f", row.By, row.RMSUM, row.HighUM, math.Sqrt(all), math.Sqrt(high))
		}
	}
}

// TestTheMTFIsThatOfThePicturesLessWhatIsScattered.
func TestTheMTFIsThatOfThePicturesLessWhatIsScattered(t *testing.T) {
	e := demo(t)
	r := report(t, e, e.All(), far)
	s, err := e.State(e.All(), far, cause.Same)
	if err != nil {
		t.Fatal(err)
	}
	p, err := render.PSF(s)
	if err != nil {
		t.Fatal(err)
	}
	// single scattering up to one half, and ever more slowly beyond
	keep := 1 - s.Glare.Share()
	if share := s.Glare.Share(); share > 0.5 {
		keep = 0.5 * math.Exp(1-2*share)
	}
	for _, m := range r.MTF {
		if want := keep * p.OTF().MTF(m.CyclesPerDegree, 0); math.Abs(m.Upright-want) > 1e-12 {
			t.Errorf("%g c/deg upright: %.4f, want %.4f", m.CyclesPerDegree, m.Upright, want)
		}
		if want := keep * p.OTF().MTF(m.CyclesPerDegree, 90); math.Abs(m.Level-want) > 1e-12 {
			t.Errorf("%g c/deg level: %.4f, want %.4f", m.CyclesPerDegree, m.Level, want)
		}
	}
	if math.Abs(r.Scattered-(1-keep)) > 1e-12 || r.Scattered < 0.05 {
		t.Errorf("scattered %.3f, want %.3f", r.Scattered, 1-keep)
	}
}

const clear = `lens: implant
    pupil_bright_mm: 2
    implant: {spherical_aberration_at_6mm_um: 0}
    cornea: {spherical_aberration_at_6mm_um: 0}`

// TestACleanEyeIsNearTheLimitOfItsPupil: only its colour error keeps a clear
// 2 mm pupil from a Strehl ratio of 1 in white light (Thibos, Bradley and Zhang
// 1991 find 0.5 to 0.8 for 2.5 mm; from memory), and from the closed form of the
// diffraction MTF at 555 nm.
func TestACleanEyeIsNearTheLimitOfItsPupil(t *testing.T) {
	r := report(t, one(t, clear), nil, far)
	if r.Strehl < 0.75 || r.Strehl > 1 {
		t.Errorf("Strehl ratio %.3f", r.Strehl)
	}
	u0 := math.Pi * 2 * 1e6 / (555 * 180)
	for _, m := range r.MTF {
		limit := csf.DiffractionMTF(m.CyclesPerDegree / u0)
		if got := m.Mean / (1 - r.Scattered); got > limit+0.02 || got < 0.75*limit {
			t.Errorf("%g c/deg: %.3f, a perfect pupil gives %.3f", m.CyclesPerDegree, got, limit)
		}
	}
}

// TestDioptresInTheReportAreThoseOfTheCase: -1.00 x 180 left over at the cornea
// is M -0.5, J0 +0.5 (Thibos, Wheeler and Horner 1997).
func TestDioptresInTheReportAreThoseOfTheCase(t *testing.T) {
	r := report(t, one(t, clear, "refraction: {kind: manifest, sphere_d: 0, cylinder_d: -1, axis_deg: 180, vertex_mm: 0}", "worn_far: {none: true}"), cause.Only(cause.Cylinder, 1), far)
	const fits = 1e-6
	if math.Abs(r.Total.M+0.5) > fits || math.Abs(r.Total.J0-0.5) > fits || math.Abs(r.Total.J45) > fits {
		t.Errorf("M %.4f J0 %.4f J45 %.4f, want -0.5 +0.5 0", r.Total.M, r.Total.J0, r.Total.J45)
	}
	// too strong along the vertical: level bars blur, upright ones less
	for _, m := range r.MTF {
		if f := m.CyclesPerDegree; f >= 5 && f <= 10 && m.Upright <= m.Level {
			t.Errorf("%g c/deg: upright %.3f, level %.3f", f, m.Upright, m.Level)
		}
	}
}

// TestNumbersComeFromTheStateThePicturesAreMadeOf: one cause alone is refracted
// for that cause, all together keep their glasses.
func TestNumbersComeFromTheStateThePicturesAreMadeOf(t *testing.T) {
	e := demo(t)
	for name, set := range map[string]cause.Strengths{"reference": {}, "lens": cause.Only(cause.Lens, 1), "all": e.All()} {
		g := cause.Refracted
		if name == "all" {
			g = cause.Same
		}
		s, err := e.State(set, far, g)
		if err != nil {
			t.Fatal(err)
		}
		p, err := render.PSF(s)
		if err != nil {
			t.Fatal(err)
		}
		r := report(t, e, set, far)
		for _, m := range r.MTF {
			if want := s.Glare.Keep() * p.OTF().RadialMTF(m.CyclesPerDegree); math.Abs(m.Mean-want) > 1e-12 {
				t.Errorf("%s, %g c/deg: number %.4f, picture %.4f", name, m.CyclesPerDegree, m.Mean, want)
			}
		}
	}
}

func TestTheReportSaysWhatTheEyeIsAndWhatWasAssumed(t *testing.T) {
	e := demo(t)
	r := report(t, e, e.All(), cause.Viewing{DistanceM: math.Inf(1), Night: true})
	if r.Eye != "right" || r.PupilMM != float64(e.Data.PupilDimMM.V) || !strings.Contains(r.Condition, "dim") || r.Focus == "" {
		t.Errorf("%s eye, %g mm, %q, %q", r.Eye, r.PupilMM, r.Condition, r.Focus)
	}
	if len(r.Causes) != len(e.Causes) || r.Causes[0].From != "measured" {
		t.Errorf("causes %+v", r.Causes)
	}
	if len(r.Notes) < len(e.Notes) {
		t.Errorf("notes %q", r.Notes)
	}
	if r.Scattered != 1-mustGlare(t, e).Keep() {
		t.Errorf("scattered %v", r.Scattered)
	}
	if _, err := json.Marshal(r); err != nil {
		t.Errorf("cannot be written: %v", err)
	}
}

func mustGlare(t *testing.T, e *cause.Eye) light.Glare {
	t.Helper()
	g, err := light.GlareFromLogS(e.Data.Straylight.LogS.V, light.NormAtDeg, e.Data.PigmentFactor())
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestFrequenciesThatAreNoneAreRefused(t *testing.T) {
	for _, f := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err := inspect.Eye(demo(t), nil, far, []float64{2, f})
		if err == nil || !strings.Contains(err.Error(), "spatial frequency: must be 0 or more cycles per degree") {
			t.Errorf("%g: %v", f, err)
		}
	}
}

func TestAnUnknownCauseIsRefused(t *testing.T) {
	if _, err := inspect.Eye(demo(t), cause.Only("ghost", 1), far, nil); err == nil {
		t.Error("reports on a ghost")
	}
}
