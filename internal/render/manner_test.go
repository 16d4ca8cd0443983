//go:build !race

package render

import (
	"math"
	"strings"
	"testing"

	"simview/internal/eye"
	"simview/internal/light"
)

func old() eye.State {
	s := state(5.5, nil)
	s.Glare, s.Colours.Natural = light.GlareForAge(68, 0.5), true
	return s
}

func TestASheetNamesColourFocusAndLayers(t *testing.T) {
	usual := Manner{}.Words()
	for _, w := range []string{"one spread of light for all", "555 nm in focus", "Thibos 1992"} {
		if !strings.Contains(usual, w) {
			t.Errorf("%q lacks %q", usual, w)
		}
	}
	all := Manner{Colour: Own, LCA: AtchisonSmith, Ring: true, Needles: true, TintFrom: 25}.Words()
	for _, w := range []string{"for teaching", "Atchison and Smith 2005", "ring and needles", "measured in nobody", "25 years"} {
		if !strings.Contains(all, w) {
			t.Errorf("%q lacks %q", all, w)
		}
	}
	brief := Manner{Colour: Beyond, Needles: true, TintFrom: 25}.Brief()
	if want := "colours parted by lens and pupil, needles added, natural lenses tinted"; brief != want || (Manner{}).Brief() != "" {
		t.Errorf("%q, want %q; the usual %q", brief, want, Manner{}.Brief())
	}
	if strings.Contains(usual, "ring") || strings.Contains(usual, "tint") {
		t.Errorf("says what is off: %q", usual)
	}
}

// The difference of focus between 605 and 497 nm is 0.619 D (Rynders et al. 1995,
// computed from Thibos 1992): 1 mm of pupil parts them by 2.1 minutes.
func TestAPanelSaysHowFarColoursArePartedAndWhichLayersItHas(t *testing.T) {
	s := old()
	s.Colours.PupilOff.X = 1
	notes, err := Manner{Colour: Beyond, Ring: true, Needles: true, TintFrom: 25}.Notes(s)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(notes, "\n")
	for _, w := range []string{"605 nm", "497 nm", "2.1 minutes of arc", "ring of a natural lens, 3.3 %", "needles of a natural lens", "the lens of 68 years"} {
		if !strings.Contains(text, w) {
			t.Errorf("lacks %q:\n%s", w, text)
		}
	}
	s.Colours.Natural = false
	notes, _ = Manner{Ring: true, TintFrom: 25}.Notes(s)
	if text = strings.Join(notes, "\n"); text != "no natural lens: no layer and no tint" {
		t.Errorf("an implant: %s", text)
	}
	if notes, _ = (Manner{}).Notes(s); len(notes) != 0 {
		t.Errorf("the usual manner says %q", notes)
	}
}

func TestAnImplantHasNeitherRingNorNeedlesNorTint(t *testing.T) {
	if testing.Short() {
		t.Skip("makes two pictures")
	}
	s := old()
	s.Colours.Natural = false
	usual := throughManner(t, Manner{}, s, whiteLamp)
	with := throughManner(t, Manner{Ring: true, Needles: true, TintFrom: 25}, s, whiteLamp)
	for k, v := range usual.B {
		if with.B[k] != v {
			t.Fatalf("sample %d differs", k)
		}
	}
}

// What the ring has is what the lamp lost: 3.3 % from a pupil of 4.9 mm on (Spencer et
// al. 1995). Both pictures are of the middle degree, where the ring is not.
func TestTheRingTakesItsLightFromTheLamp(t *testing.T) {
	s := old()
	sum := func(m Manner) (sum float64) {
		img := throughManner(t, m, s, whiteLamp)
		for _, v := range img.G {
			sum += float64(v)
		}
		return sum
	}
	dark := throughManner(t, Manner{}, s, noShapes)
	base := 0.0
	for _, v := range dark.G {
		base += float64(v)
	}
	usual, ring := sum(Manner{})-base, sum(Manner{Ring: true})-base
	core := usual * s.Glare.Keep() / (s.Glare.Keep() + s.Glare.Leaving()) // what of it is core, at least
	if lost := (usual - ring) / core; lost < 0.032 || lost > 0.034/s.Glare.Keep() {
		t.Errorf("the middle lost %.4f of the core", lost)
	}
}

func TestAnOldLensTakesBlueMostAndTheSameFromEverySample(t *testing.T) {
	s := old()
	f, err := light.LensTint(68, 25)
	if err != nil {
		t.Fatal(err)
	}
	if !(f[2] < f[1] && f[1] < f[0] && f[0] < 1) {
		t.Fatalf("tint %v", f)
	}
	usual, tinted := throughManner(t, Manner{}, s, whiteLamp), throughManner(t, Manner{TintFrom: 25}, s, whiteLamp)
	for c, plane := range tinted.Planes() {
		for k, v := range plane {
			if want := f[c] * float64(usual.Planes()[c][k]); math.Abs(float64(v)-want) > 1e-5*want {
				t.Fatalf("primary %d, sample %d: %g, want %g", c, k, v, want)
			}
		}
	}
	young := s
	young.AgeYears = 20
	if got, _ := (Manner{TintFrom: 25}).tint(young); got != noTint {
		t.Errorf("a younger lens is tinted: %v", got)
	}
}
