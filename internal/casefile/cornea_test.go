package casefile

import (
	"strings"
	"testing"
	"testing/fstest"
)

const withBack = `
title: T
complaint_eye: right
age_years: 60
eyes:
  right:
    lens: natural
    pupil_dim_mm: 5
    tears: {breakup_s: 6, rms_um: 0.4, grain_mm: 0.8, seed: 2}
    cornea:
      surface: {kind: ridges, made_of: epithelium, rms_um: 1, grain_mm: 0.4, zone_radius_mm: 1.5}
      back: {compensates_percent: 20}
`

func TestBackAndTearsAreReadAndSaidBack(t *testing.T) {
	c, notes, err := Parse("c.yaml", []byte(withBack), nil)
	if err != nil || len(notes) != 0 {
		t.Fatal(err, notes)
	}
	e := c.Eyes.Right
	if e.Cornea.Back.CompensatesPercent.V != 20 || e.Tears.Film().BreakupS != 6 || e.Tears.Film().Seed != 2 || e.Cornea.Surface.MadeOf != "epithelium" {
		t.Errorf("%+v %+v", e.Cornea.Back, e.Tears)
	}
	said := strings.Join(c.Understood(), "\n")
	for _, want := range []string{
		"Back of the cornea: takes back 20 % (measured) of the front's irregular wavefront.",
		"Tear film: breaks up 6 s (measured) after a blink, then uneven by 0.4 µm (measured) root mean square, grain 0.8 mm (measured); seeded map number 2. It is shown only when a time since the blink is asked for.",
		"pattern ridges, of epithelium), height 1 µm",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("does not say %q:\n%s", want, said)
		}
	}
}

func TestABackSurfaceMayBeMeasuredInThreeWays(t *testing.T) {
	files := fstest.MapFS{"m.csv": {Data: []byte(sphereMap())}}
	for with, want := range map[string]string{
		"map: {csv: m.csv, layout: grid, of: height}":                                                           "Back of the cornea: map of height (grid) over 5.2 mm: best-fit radius 7.80 mm",
		"surface: {kind: grain, rms_um: 2, grain_mm: 1, zone_radius_mm: 3, seed: 4}":                            "Back of the cornea: pattern grain, height 2 µm",
		"wavefront: {scheme: osa, of: cornea-back, pupil_mm: 5, wavelength_nm: 555, terms_um: {7: 0.1, 8: .2}}": "Back of the cornea: wavefront: 2 terms (osa) up to order 3, 0.224 µm RMS",
	} {
		c, _, err := Parse("c.yaml", []byte(strings.Replace(withBack, "compensates_percent: 20", with, 1)), files)
		if err != nil {
			t.Error(err)
		} else if said := strings.Join(c.Understood(), "\n"); !strings.Contains(said, want) {
			t.Errorf("does not say %q:\n%s", want, said)
		}
	}
}

func TestSlipsInBackAndTearsAreNamed(t *testing.T) {
	back, tears := "c.yaml:12: eyes.right.cornea.back", "c.yaml:9: eyes.right.tears"
	for _, k := range []struct{ old, wrong, want string }{
		{"compensates_percent: 20", "compensates_percent: 90", back + ".compensates_percent: must lie between 0 and 60 per cent (got 90); hint: write how much of the front's irregular wavefront the back takes back; 14 to 24 is usual in keratoconus"},
		{"compensates_percent: 20", "compensates_percent: 20, surface: {kind: grain, rms_um: 2, grain_mm: 1, zone_radius_mm: 3}", back + ": must have one of compensates_percent, wavefront, map and surface, not 2; hint: keep the one that was measured, or leave back out"},
		{"compensates_percent: 20", "surface: {kind: grain, made_of: tears, rms_um: 2, grain_mm: 1, zone_radius_mm: 3}", back + `.surface.made_of: must be cornea, or be left out, for the back surface (got "tears"); hint: epithelium and tears lie in front`},
		{"compensates_percent: 20", "map: {csv: m.csv, layout: grid, of: curvature}", back + `.map.of: must be height for the back surface (got "curvature"); hint: export heights; what keratometers call dioptres is the front's`},
		{"      surface: {kind: ridges, made_of: epithelium, rms_um: 1, grain_mm: 0.4, zone_radius_mm: 1.5}\n", "\n", back + ".compensates_percent: has no irregular front to compensate (got 20); hint: write the cornea's wavefront, map or surface too"},
		{"epithelium", "glass", `c.yaml:11: eyes.right.cornea.surface.made_of: must be cornea, epithelium or tears (got "glass"); hint: write the word as it stands here`},
		{"rms_um: 0.4", "rms_um: 4", tears + ".rms_um: must lie between 0 and 2 micrometres for a tear film (got 4); hint: the film itself is some 3 µm thick; an uneven cornea goes under cornea: surface"},
		{"grain_mm: 0.8", "grain_mm: 4.5", tears + ".grain_mm: must lie between 0.15 and 4 millimetres for a tear film (got 4.5); hint: write the distance from one thin place to the next"},
		{"breakup_s: 6", "breakup_s: 0.2", tears + ".breakup_s: must lie between 1 and 60 seconds (got 0.2); hint: write the seconds from a blink until the tear film breaks up"},
		{"breakup_s: 6, ", "", tears + ".breakup_s: is missing; hint: write the seconds from a blink until the film breaks up, often 10; below 5 is short"},
		{"rms_um: 0.4", "rms_um: .nan", tears + ".rms_um: must be a finite number (got \".nan\"); hint: leave the key out when the value is not known"},
	} {
		_, _, err := Parse("c.yaml", []byte(strings.Replace(withBack, k.old, k.wrong, 1)), fstest.MapFS{})
		if err == nil || err.Error() != k.want {
			t.Errorf("got %v\nwant %s", err, k.want)
		}
	}
}

func TestAZoneOutsideThePupilIsNoticed(t *testing.T) {
	away := strings.Replace(withBack, "zone_radius_mm: 1.5}", "zone_radius_mm: 1.5, zone_direction: in, zone_distance_mm: 4.2}", 1)
	_, notes, err := Parse("c.yaml", []byte(away), nil)
	const want = "c.yaml:11: eyes.right.cornea.surface: lies wholly outside the widest pupil of the case, 5 mm: it changes nothing; hint: correct where the zone lies, in mm from the centre of the pupil, or the pupil"
	if err != nil || len(notes) != 1 || notes[0].String() != want {
		t.Errorf("%v\ngot  %v\nwant %s", err, notes, want)
	}
}

func TestWhatStandsInForASphericalAberrationIsSaid(t *testing.T) {
	files := fstest.MapFS{"m.csv": {Data: []byte(sphereMap())}}
	for text, want := range map[string]string{
		withBack: "Cornea: spherical aberration not given; a usual value will be assumed.",
		mapped:   "Cornea: spherical aberration not given; that of the map's conic will be taken if it is a usual one.",
		strings.Replace(withBack, "    tears:", "    biometry: {corneal_radius_flat_mm: 7.8, corneal_radius_steep_mm: 7.8, corneal_asphericity_q: -0.2}\n    tears:", 1): "Cornea: spherical aberration not given; it will be worked out from the radii and the asphericity.",
	} {
		c, _, err := Parse("c.yaml", []byte(text), files)
		if err != nil {
			t.Fatal(err)
		}
		if said := strings.Join(c.Understood(), "\n"); !strings.Contains(said, want) {
			t.Errorf("does not say %q:\n%s", want, said)
		}
	}
}
