package inspect_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/csf"
)

// TestTheEyeWithoutItsCausesReadsAsHealthyEyesDo: an implant eye of the demo's age
// through 3 mm; 0.0 at its age, -0.1 at its best (common practice), with 0.1 for the
// test-retest of a line.
func TestTheEyeWithoutItsCausesReadsAsHealthyEyesDo(t *testing.T) {
	g := report(t, demo(t), cause.Strengths{}, far).Sight
	t.Logf("%+.3f logMAR, faint %+.3f, fast %+.3f", g.AcuityLogMAR, g.FaintLogMAR, *g.FastLogMAR)
	if !(g.AcuityLogMAR > -0.2 && g.AcuityLogMAR < 0.1) || g.AcuityBeyond || !(g.FaintLogMAR > g.AcuityLogMAR) {
		t.Errorf("%+.3f logMAR, faint %+.3f", g.AcuityLogMAR, g.FaintLogMAR)
	}
	if g.FixationLossDB != 0 {
		t.Errorf("%.1f dB lost without causes", g.FixationLossDB)
	}
}

// TestEveryCauseTogetherIsWorseInEveryNumber of sight.
func TestEveryCauseTogetherIsWorseInEveryNumber(t *testing.T) {
	if testing.Short() {
		t.Skip("computes four spreads")
	}
	e := demo(t)
	none, all := report(t, e, cause.Strengths{}, far).Sight, report(t, e, e.All(), far).Sight
	for name, v := range map[string][2]float64{
		"visual Strehl":      {all.VisualStrehl, none.VisualStrehl},
		"at 555 nm":          {all.OneWavelength, none.OneWavelength},
		"area of MTF":        {all.AreaMTF, none.AreaMTF},
		"area of log CSF":    {all.AreaLogCSF, none.AreaLogCSF},
		"finest grating":     {all.CutOff, none.CutOff},
		"acuity, turned":     {-all.AcuityLogMAR, -none.AcuityLogMAR},
		"faint, turned":      {-all.FaintLogMAR, -none.FaintLogMAR},
		"fast, turned":       {-*all.FastLogMAR, -*none.FastLogMAR},
		"half light, turned": {-*all.HalfLight, -*none.HalfLight},
	} {
		if !(v[0] < v[1]) {
			t.Errorf("%s: with all causes %.3f, with none %.3f", name, v[0], v[1])
		}
	}
	const parseval = 1e-9 // finite sums over one lattice in float64
	if math.Abs(all.VisualStrehl-all.InFrequency) > parseval {
		t.Errorf("in space %.12f, in frequency %.12f", all.VisualStrehl, all.InFrequency)
	}
}

// TestContrastSensitivityIsTransferTimesNerve: with the row's own MTF and the loss
// at fixation, by the definition of a perimetric decibel.
func TestContrastSensitivityIsTransferTimesNerve(t *testing.T) {
	r := report(t, demo(t), demo(t).All(), far)
	left := math.Pow(10, -r.Sight.FixationLossDB/10)
	for _, m := range r.MTF {
		want := m.Mean * left / csf.WatsonAhumada{}.Threshold(m.CyclesPerDegree, 0, r.Sight.TrolandsOfTheChart)
		if math.Abs(m.Sensitivity-want) > 1e-9*want {
			t.Errorf("%g c/deg: %.6f, want %.6f", m.CyclesPerDegree, m.Sensitivity, want)
		}
	}
	orders := r.Sight.RMSByOrderUM
	sum := 0.0
	for _, v := range orders[3:] {
		sum += v * v
	}
	const fits = 1e-9 // rounding of sums over one fit
	if math.Abs(math.Sqrt(sum)-r.Total.HighUM) > fits {
		t.Errorf("orders 3 up %.9f µm, in the row of the total %.9f", math.Sqrt(sum), r.Total.HighUM)
	}
}

// TestSightIsInTheText: acuity by both ways and the loss that stands behind it.
func TestSightIsInTheText(t *testing.T) {
	var b strings.Builder
	if err := report(t, demo(t), demo(t).All(), far).Write(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"letter acuity expected on 100 cd/m² with ", "letter acuity from the visual Strehl ratio", "circle of half the light", "contrast sensitivity ", "RMS µm of order 2: "} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}
