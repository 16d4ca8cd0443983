package casefile

import (
	"slices"
	"strings"
	"testing"
)

func TestWhatWasUnderstoodIsSaidInWords(t *testing.T) {
	c, _, err := Parse("c.yaml", []byte(base), nil)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSpace(`
A case
The complaint is about: the left eye.
Age: 60 years (measured).
Right eye: not described; there is no picture of it.
Left eye: lens implant, which does not accommodate.
Left eye: Pupil in bright light: 3 mm (measured). In dim light: 5 mm ± 0.2 (measured).
Left eye: Iris: not given; brown will be assumed for glare (pigment factor 0.5).
Left eye: Refraction (manifest): sphere -1.00 D, cylinder -0.75 D at 70 degrees, 12 mm before the cornea.
Left eye: Worn for far: nothing.
Left eye: Worn for near: an addition of +2.50 D over the far correction.
Left eye: Wavefront of the whole eye: 1 terms (noll) up to order 3, 0.100 µm RMS in the orders from 3 up, over a pupil of 6 mm at 555 nm.
Left eye: Implant: shifted by 0.5 mm (measured) towards up (90 degrees counter-clockwise from the clinician's right).
Left eye: Implant: tilted by 5 degrees (measured); its up-and-in edge is the one that comes forward.
Left eye: Implant: power not given; a usual 21 D will be assumed, and the length of the eye that goes with it. Optic not given; 6 mm will be assumed.
Left eye: Implant: spherical aberration not given; a usual value will be assumed.
Left eye: Biometry: not given; a usual eye will be assumed for tracing the lens.
Left eye: Cornea: spherical aberration not given; a usual value will be assumed.
Left eye: Cornea: irregular (not named, pattern grain), height 1 µm (measured) root mean square, grain 0.5 mm (measured), within 1.5 mm (measured) of the place -1.00 mm to the clinician's right and 0.00 mm above the centre of the pupil; seeded map number 3, not the measured one.
Left eye: Straylight: log s 1.3 (measured), scattered by the lens.
Left eye: Visual field free, sensitivity: 4 points, x written as-patient-sees. Lowest: 30 dB at 1 degree right (nasal) and 1 degree up as the patient sees it. Is that right?
Left eye: Acuity with glasses: 0.2 logMAR (measured).
Check, pinhole: done.
Check, other eye covered: NOT DONE.
Check, pupil reaction: NOT DONE.
Check, macula seen: NOT DONE.
Check, capsule seen: NOT DONE.
Check, age of the field: NOT DONE.`), "\n")
	got := c.Understood()
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("line %d:\n got %q\nwant %q", i+1, at(got, i), at(want, i))
		}
	}
}

// TestTheAssumedPowerOfALensIsTheOneTraced: where the length is known the power
// is solved for, and else it is a usual one.
func TestTheAssumedPowerOfALensIsTheOneTraced(t *testing.T) {
	c, _, err := Parse("c.yaml", []byte("title: T\ncomplaint_eye: right\nage_years: 70\neyes: {right: {lens: implant, pupil_bright_mm: 3, implant: {decentration_mm: 0.5, direction: up}, biometry: {axial_length_mm: 23.5}}}\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	const want = "Right eye: Implant: power not given; what length and refraction ask for will be assumed. Optic not given; 6 mm will be assumed."
	if !slices.Contains(c.Understood(), want) {
		t.Errorf("%q", c.Understood())
	}
}

func at(s []string, i int) string {
	if i < len(s) {
		return s[i]
	}
	return "nothing"
}

func TestWhatIsMissingIsSaidToBeAssumed(t *testing.T) {
	c, _, err := Parse("c.yaml", []byte("title: T\ncomplaint_eye: both\nage_years: 40\neyes: {right: {lens: natural, pupil_bright_mm: 3}}\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	got := c.Understood()
	for _, want := range []string{
		"The complaint is about: both eyes.",
		"Right eye: Pupil in bright light: 3 mm (measured). In dim light: not given; what is usual at this age will be assumed.",
		"Right eye: Accommodation left: not given; what is usual at this age will be assumed.",
		"Right eye: Refraction: not given; no error of sphere and cylinder will be assumed.",
		"Right eye: Worn for far: not given; the best correction will be assumed.",
		"Right eye: Worn for near: not given; the far correction will be assumed.",
		"Right eye: Wavefront of the whole eye: not given.",
		"Right eye: Cornea: not given; a regular cornea with the usual spherical aberration will be assumed.",
		"Right eye: Straylight: not measured; what is usual at this age will be assumed.",
		"Right eye: Visual field: not given; a full field will be assumed.",
		"Check, pinhole: NOT DONE.",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("not said: %s", want)
		}
	}
}

func TestAFieldWhoseBlindSpotIsOnTheWrongSideIsNoticed(t *testing.T) {
	points := base[strings.Index(base, "          - {x_deg: 1,"):strings.Index(base, "    acuity:")]
	row := func(x, y, db string) string {
		return "          - {x_deg: " + x + ", y_deg: " + y + ", value_db: " + db + "}\n"
	}
	odd := row("15", "3", "0") + row("15", "-3", "2") + row("-15", "3", "29") + row("-15", "-3", "30")
	_, notices, err := Parse("c.yaml", []byte(strings.Replace(base, points, odd, 1)), nil)
	if err != nil || len(notices) != 1 {
		t.Fatal(err, notices)
	}
	want := "c.yaml:28: eyes.left.fields[1]: points: the blind spot seems to lie towards the nose (1 dB there, 30 dB where it should be); is the eye or the way of writing x wrong? It is used as stated"
	if got := notices[0].String(); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

// TestALensBeforeItsPlaceIsNotSaidToLieBehindIt.
func TestALensBeforeItsPlaceIsNotSaidToLieBehindIt(t *testing.T) {
	c, _, err := Parse("c.yaml", []byte("title: T\ncomplaint_eye: right\nage_years: 70\neyes: {right: {lens: implant, pupil_bright_mm: 3, implant: {axial_shift_mm: -0.4}}}\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(c.Understood(), "Right eye: Implant: in front of its place by 0.4 mm (measured), towards the cornea.") {
		t.Errorf("%q", c.Understood())
	}
}
