package plot

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"simview/internal/raytrace"
	"simview/internal/unit"
)

// usualEye is the eye of which nothing is known, as the page for clinicians
// describes it.
func usualEye(t *testing.T) (raytrace.ImplantEye, []raytrace.Taken) {
	t.Helper()
	e, taken, err := raytrace.NewPersonalEye(raytrace.PersonalEye{
		FocusPupilMM: 3,
		CorneaSAUM:   unit.Value[unit.UM]{V: .28, From: unit.Typical},
		LensSAUM:     unit.Value[unit.UM]{V: -.15, From: unit.Typical},
	})
	if err != nil {
		t.Fatal(err)
	}
	return e, taken
}

func modelPage(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../docs/eye-model.md")
	if err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(string(text), "−", "-")
}

func TestThePageOnTheModelHasTheNumbersThatAreTraced(t *testing.T) {
	e, _ := usualEye(t)
	page := modelPage(t)
	added := func(d raytrace.DisplacedLens, pupilMM float64) float64 {
		w, err := e.Wavefront(d, pupilMM)
		if err != nil {
			t.Fatal(err)
		}
		centred, err := e.Wavefront(raytrace.DisplacedLens{}, pupilMM)
		if err != nil {
			t.Fatal(err)
		}
		if w, err = w.Sub(centred); err != nil {
			t.Fatal(err)
		}
		return w.RMSOrders(3, 6)
	}
	for name, d := range map[string]raytrace.DisplacedLens{
		"0.3 mm": towardsDeg(.3, 1, 0), "5 degrees": {Tilt: 5}, "1 mm": towardsDeg(1, 1, 0),
	} {
		row := fmt.Sprintf("| %s | %.3f µm | %.2f µm |", name, added(d, 3), added(d, 6))
		if !strings.Contains(page, row) {
			t.Errorf("docs/eye-model.md lacks the row %q", row)
		}
	}
	past, err := e.WavefrontPastLens(5)
	if err != nil {
		t.Fatal(err)
	}
	// M = -4√3 c(2,0)/r² (Thibos 1997)
	m := -4 * 1.7320508 * past.At(2, 0) / (2.5 * 2.5)
	if words := fmt.Sprintf("about %.0f D out of focus", m); !strings.Contains(page, words) {
		t.Errorf("docs/eye-model.md does not say %q", words)
	}
}

func TestThePageOnTheModelHasTheUsualValues(t *testing.T) {
	_, taken := usualEye(t)
	page := modelPage(t)
	found := 0
	for _, v := range taken {
		words, ok := map[string]string{
			"corneal radius": "| %.2f mm, round |", "lens": "| %.0f D |", "lens depth": "| %.1f mm behind the front of the cornea |",
			"optic": "| %.0f mm |", "lens c(4,0) at 6 mm": "| %+.2f µm at 6 mm |", "corneal c(4,0) at 6 mm": "| %+.2f µm at 6 mm |",
		}[v.Name]
		if !ok {
			continue
		}
		found++
		if cell := fmt.Sprintf(words, v.Value); !strings.Contains(page, cell) {
			t.Errorf("docs/eye-model.md lacks the cell %q (%s)", cell, v.Name)
		}
	}
	if found != 6 {
		t.Errorf("%d of 6 usual values found; their names have changed", found)
	}
}
