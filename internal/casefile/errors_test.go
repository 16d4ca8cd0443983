package casefile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// base is a case with every kind of part, from which the tests below take one
// thing away or write one thing wrong. Line numbers in the tables count in it.
const base = `title: A case
complaint_eye: left
age_years: 60
eyes:
  left:
    lens: implant
    pupil_bright_mm: 3
    pupil_dim_mm: {value: 5, sd: 0.2}
    refraction: {kind: manifest, sphere_d: -1, cylinder_d: -0.75, axis_deg: 70, vertex_mm: 12}
    worn_far: {none: true}
    worn_near: {add_d: 2.5}
    wavefront:
      scheme: noll
      of: whole-eye
      pupil_mm: 6
      wavelength_nm: 555
      terms_um:
        7: 0.1
    implant:
      decentration_mm: 0.5
      direction: up
      tilt_deg: 5
      tilt_axis_deg: 45
    cornea:
      surface: {kind: grain, rms_um: 1, grain_mm: 0.5, zone_radius_mm: 1.5, zone_direction: in, zone_distance_mm: 1, seed: 3}
    straylight: {log_s: 1.3, scattered_by: lens}
    fields:
      - pattern: free
        eye: left
        x_is: as-patient-sees
        kind: sensitivity
        points:
          - {x_deg: 1, y_deg: 1, value_db: 30}
          - {x_deg: 3, y_deg: 1, value_db: 30}
          - {x_deg: 5, y_deg: 1, value_db: 30}
          - {x_deg: 7, y_deg: 1, value_db: 30}
    acuity:
      - {logmar: 0.2, with: glasses}
checks:
  pinhole: done
`

// slip is one wrong thing and the whole text that its writer sees.
type slip struct {
	old, wrong string
	want       string // without the file name and its colon
	schemaToo  bool   // whether the JSON Schema can refuse it as well
}

var slips = []slip{
	{"title: A case\n", "", `1: title: is missing; hint: write one line that tells this case from others, without the person's name`, true},
	{"title: A case", "title:", `1: title: has no value; hint: write a value after the colon or leave the key out`, true},
	{"title: A case", "title: 5", `1: title: must be text (got "5"); hint: put it in quotes if it is meant as text`, true},
	{"complaint_eye: left", "complaint_eye: Left", `2: complaint_eye: must be right, left or both (got "Left"); hint: did you mean left?`, true},
	{"complaint_eye: left", "complaint_eye: right", `2: complaint_eye: names an eye that the case does not describe (got "right"); hint: add eyes: right:`, false},
	{"age_years: 60", "age_years: sixty", `3: age_years: must be a number in years (got "sixty"); hint: write it in decimals with a point and without its unit, as in 5.5; the unit is in the key`, true},
	{"age_years: 60", "age_years: 600", `3: age_years: must lie between 1 and 120 years (got 600); hint: write whole or decimal years`, true},
	{"age_years: 60", "age_years: 0x3c", `3: age_years: must be a number in years (got "0x3c"); hint: write it in decimals with a point and without its unit, as in 5.5; the unit is in the key`, false},
	{"age_years: 60", "age_years: .inf", `3: age_years: must be a finite number (got ".inf"); hint: leave the key out when the value is not known`, true},
	{"title: A case", "invented: yes\ntitle: A case", `1: invented: must be true or false (got "yes"); hint: write true or false without quotes`, true},
	{"lens: implant", "lens: implamt", `6: eyes.left.lens: must be natural, implant or none (got "implamt"); hint: did you mean implant?`, true},
	{"lens: implant", "lens: natural", `19: eyes.left.implant: needs lens: implant (got lens: natural); hint: correct lens, or leave implant out`, false},
	{"pupil_bright_mm: 3", "pupil_bright_mm: 3 mm", `7: eyes.left.pupil_bright_mm: must be a number in millimetres (got "3 mm"); hint: write it in decimals with a point and without its unit, as in 5.5; the unit is in the key`, true},
	{"pupil_bright_mm: 3", "pupil_bright_mm: 3,5", `7: eyes.left.pupil_bright_mm: must be a number in millimetres (got "3,5"); hint: write it in decimals with a point and without its unit, as in 5.5; the unit is in the key`, true},
	{"pupil_bright_mm: 3", "pupil_bright: 3", `7: eyes.left.pupil_bright: is not a key of a case; hint: did you mean pupil_bright_mm? Every key carries its unit`, true},
	{"pupil_bright_mm: 3", "pupil_bright_mm: 6", `8: eyes.left.pupil_dim_mm: must not be below pupil_bright_mm, which is 6 (got 5); hint: were the two exchanged?`, false},
	{"pupil_bright_mm: 3", "pupil_bright_mm: 0.3", `7: eyes.left.pupil_bright_mm: must lie between 1 and 9 millimetres (got 0.3); hint: write the diameter of the pupil, not its radius, in mm`, true},
	{"pupil_bright_mm: 3", "accommodation_d: 2", `7: eyes.left.accommodation_d: must be 0 or left out, since only a natural lens accommodates (got 2); hint: write reading help as worn_near`, false},
	{"pupil_bright_mm: 3", "shoe_size: 43", `7: eyes.left.shoe_size: is not a key of a case; hint: the keys here are lens, pupil_bright_mm, pupil_dim_mm, accommodation_d, pupil_decentration_mm, pupil_direction_deg, pupil_direction, iris_pigment, refraction, worn_far, worn_near, wavefront, implant, cornea, tears, biometry, straylight, fields, acuity`, true},
	{"{value: 5, sd: 0.2}", "{value: 5, sd: -0.2}", `8: eyes.left.pupil_dim_mm.sd: must lie between 0 and 1000 (got -0.2); hint: it is one standard deviation in the unit of the value; leave it out when unknown`, true},
	{"{value: 5, sd: 0.2}", "{sd: 0.2}", `8: eyes.left.pupil_dim_mm: has no value; hint: write it as value: beside sd, from and source`, true},
	{"{value: 5, sd: 0.2}", "{value: 5, from: guessed}", `8: eyes.left.pupil_dim_mm.from: must be measured, typical or assumed (got "guessed"); hint: leave it out for a measured value`, true},
	{"{value: 5, sd: 0.2}", "{value: 5, from: typical}", `8: eyes.left.pupil_dim_mm: needs a source, since it is not measured (got from: typical); hint: add source: with the norm or the reason in words`, true},
	{"{value: 5, sd: 0.2}", "{value: 5, source: a, b c}", `8: eyes.left.pupil_dim_mm.b c: is not a key of a case; hint: put text that holds a comma in quotes`, true},
	{"{value: 5, sd: 0.2}", "[5]", `8: eyes.left.pupil_dim_mm: must be a number in millimetres (got a list); hint: write it in decimals with a point and without its unit, as in 5.5; the unit is in the key`, true},
	{"kind: manifest", "kind: subjective", `9: eyes.left.refraction.kind: must be manifest, automatic or wavefront (got "subjective"); hint: write the word as it stands here`, true},
	{"axis_deg: 70", "axis_deg: 190", `9: eyes.left.refraction.axis_deg: must lie between 0 and 180 degrees (got 190); hint: an axis runs from 0 to 180`, true},
	{", axis_deg: 70", "", `9: eyes.left.refraction.axis_deg: is missing; hint: a cylinder needs the axis it was found at, 0 to 180`, false},
	{"cylinder_d: -0.75, ", "", `9: eyes.left.refraction.cylinder_d: is missing beside axis_deg; hint: write cylinder_d, or leave the axis out`, false},
	{", vertex_mm: 12", "", `9: eyes.left.refraction.vertex_mm: is missing; hint: write the distance from the cornea at which it was found, often 12; 0 at the cornea`, true},
	{"{none: true}", "{none: true, sphere_d: 1, vertex_mm: 12}", `10: eyes.left.worn_far: says none and gives a lens; hint: keep one of the two`, true},
	{"{none: true}", "{sphere_d: 1}", `10: eyes.left.worn_far.vertex_mm: is missing; hint: write the distance from the cornea, about 12 to 14; 0 for a contact lens`, true},
	{"{none: true}", "{add_d: 1}", `10: eyes.left.worn_far.add_d: belongs to worn_near only (got 1); hint: move it under worn_near`, false},
	{"    worn_far: {none: true}\n", "", `10: eyes.left.worn_near.add_d: needs worn_far, to which it is added; hint: write worn_far, with none: true when there are no far glasses`, false},
	{"{add_d: 2.5}", "{add_d: 2.5, sphere_d: 1, vertex_mm: 12}", `11: eyes.left.worn_near: gives an addition and a lens of its own; hint: keep add_d, or sphere_d and the rest`, true},
	{"scheme: noll", "scheme: standard", `13: eyes.left.wavefront.scheme: must be osa, osa-nm, noll or fringe (got "standard"); hint: write the word as it stands here`, true},
	{"      pupil_mm: 6\n", "", `12: eyes.left.wavefront.pupil_mm: is missing; hint: write the diameter that the terms belong to; without it they mean nothing`, true},
	{"of: whole-eye", "of: cornea", `14: eyes.left.wavefront.of: must be whole-eye here (got "cornea"); hint: the whole eye's goes under wavefront of the eye, the cornea's under cornea: wavefront`, false},
	{"7: 0.1", "0: 0.1", `18: eyes.left.wavefront.terms_um.0: is not a term of the scheme noll (got "0"); hint: Noll indices run from 1 (piston) to 5151`, false},
	{"7: 0.1", "3,1: 0.1", `18: eyes.left.wavefront.terms_um.3,1: is not a term of the scheme noll (got "3,1"); hint: write a whole number, or name the scheme osa-nm for terms such as "3,-1"`, false},
	{"7: 0.1", "7: 1000", `18: eyes.left.wavefront.terms_um.7: must lie between -200 and 200 micrometres (got 1000); hint: write micrometres of path, not waves`, true},
	{"7: 0.1", "7: 0.1\n        \"07\": 0.2", `19: eyes.left.wavefront.terms_um.07: is the same term as "7"; hint: keep one of them`, false},
	{"direction: up", "direction: north", `21: eyes.left.implant.direction: must be up, down, in, out, up-and-in, up-and-out, down-and-in or down-and-out (got "north"); hint: out is towards the temple, in towards the nose; or write direction_deg`, false},
	{"      direction: up\n", "", `19: eyes.left.implant.direction_deg: is missing; hint: write it, or direction in words, as in up-and-out`, false},
	{"direction: up", "direction: up\n      direction_deg: 90", `21: eyes.left.implant.direction: stands beside direction_deg (got "up"); hint: keep one of the two`, false},
	{"      tilt_axis_deg: 45\n", "", `19: eyes.left.implant.tilt_axis_deg: is missing; hint: write the line it is turned about: 0 brings the upper edge forward, 90 the edge on the clinician's left`, false},
	{"tilt_deg: 5", "tilt_deg: 5\n      toric_cylinder_d: 2", `19: eyes.left.implant.toric_axis_deg: is missing; hint: write the plus axis that the lens was meant to lie at, 0 to 180`, false},
	{"tilt_deg: 5", "tilt_deg: 5\n      toric_axis_deg: 20", `19: eyes.left.implant.toric_cylinder_d: is missing beside toric_axis_deg; hint: write toric_cylinder_d, or leave the axis out`, false},
	{"tilt_deg: 5", "tilt_deg: 5\n      toric_cylinder_d: -2", `23: eyes.left.implant.toric_cylinder_d: must lie between 0 and 20 dioptres (got -2); hint: write the lens's own cylinder in plus form; the plus axis goes into toric_axis_deg`, true},
	{"tilt_deg: 5", "tilt_deg: 5\n      axial_shift_mm: 20", `23: eyes.left.implant.axial_shift_mm: must lie between -3 and 3 millimetres (got 20); hint: write mm towards the retina; below 0 towards the cornea`, true},
	{"tilt_deg: 5", "tilt_deg: 5\n      optic_mm: 13", `23: eyes.left.implant.optic_mm: must lie between 3 and 9 millimetres (got 13); hint: write the diameter of the part that bends light, often 6, without its loops`, true},
	{"tilt_deg: 5", "tilt_deg: 5\n      power_d: 211", `23: eyes.left.implant.power_d: must lie between -15 and 50 dioptres (got 211); hint: write the power of the lens, as on its card`, true},
	{"    cornea:", "    pupil_decentration_mm: 0.3\n    cornea:", `5: eyes.left.pupil_direction_deg: is missing; hint: write it, or pupil_direction in words, as in up-and-out`, false},
	{"    cornea:", "    pupil_decentration_mm: 0.3\n    pupil_direction: nasal\n    cornea:", `25: eyes.left.pupil_direction: must be up, down, in, out, up-and-in, up-and-out, down-and-in or down-and-out (got "nasal"); hint: out is towards the temple, in towards the nose; or write pupil_direction_deg`, false},
	{"    cornea:", "    pupil_decentration_mm: 3\n    pupil_direction: in\n    cornea:", `24: eyes.left.pupil_decentration_mm: must lie between 0 and 2 millimetres (got 3); hint: write how far the middle of the pupil is from the axis of the cornea; the way goes into pupil_direction`, true},
	{"    cornea:", "    biometry: {corneal_radius_flat_mm: 43.5, corneal_radius_steep_mm: 44, steep_axis_deg: 90}\n    cornea:", `24: eyes.left.biometry.corneal_radius_flat_mm: must lie between 5 and 12 millimetres (got 43.5); hint: write the radius in mm; from dioptres of keratometry (index 1.3375) it is 337.5 / dioptres
c.yaml:24: eyes.left.biometry.corneal_radius_steep_mm: must lie between 5 and 12 millimetres (got 44); hint: write the radius in mm; from dioptres of keratometry (index 1.3375) it is 337.5 / dioptres`, true},
	{"    cornea:", "    biometry: {corneal_radius_flat_mm: 7.6, corneal_radius_steep_mm: 7.8, steep_axis_deg: 90}\n    cornea:", `24: eyes.left.biometry.corneal_radius_flat_mm: must not be below corneal_radius_steep_mm, which is 7.8 (got 7.6); hint: the flatter meridian has the larger radius; were the two exchanged?`, false},
	{"    cornea:", "    biometry: {corneal_radius_flat_mm: 7.8, corneal_radius_steep_mm: 7.6}\n    cornea:", `24: eyes.left.biometry.steep_axis_deg: is missing; hint: write the meridian of the smaller radius, 0 to 180`, false},
	{"    cornea:", "    biometry: {corneal_radius_flat_mm: 7.8}\n    cornea:", `24: eyes.left.biometry.corneal_radius_steep_mm: is missing; hint: write both; of a cornea that is round they are the same`, true},
	{"    cornea:", "    biometry: {}\n    cornea:", `24: eyes.left.biometry: is missing; hint: write at least one dimension, or leave biometry out`, true},
	{"    cornea:", "    biometry: {axial_length_mm: 2.4}\n    cornea:", `24: eyes.left.biometry.axial_length_mm: must lie between 15 and 40 millimetres (got 2.4); hint: write the length of the eye in mm, often 22 to 26`, true},
	{"kind: grain", "kind: scar", `25: eyes.left.cornea.surface.kind: must be grain, ridges, dots or fingerprint (got "scar"); hint: write the word as it stands here`, true},
	{", zone_distance_mm: 1", "", `25: eyes.left.cornea.surface.zone_distance_mm: is missing; hint: write how far the middle of the zone is from the centre of the pupil`, false},
	{"zone_direction: in", "zone_direction: inward", `25: eyes.left.cornea.surface.zone_direction: must be up, down, in, out, up-and-in, up-and-out, down-and-in or down-and-out (got "inward"); hint: out is towards the temple, in towards the nose; or write zone_x_mm and zone_y_mm`, false},
	{"zone_direction: in", "zone_x_mm: 1, zone_direction: in", `25: eyes.left.cornea.surface.zone_direction: stands beside zone_x_mm or zone_y_mm (got "in"); hint: keep one of the two`, false},
	{"zone_direction: in, zone_distance_mm: 1", "zone_x_mm: 1", `25: eyes.left.cornea.surface.zone_y_mm: is missing; hint: write it beside zone_x_mm`, false},
	{"zone_direction: in, ", "", `25: eyes.left.cornea.surface.zone_direction: is missing; hint: write in words which way the zone lies, as in in`, false},
	{"grain_mm: 0.5", "grain_mm: 2", `25: eyes.left.cornea.surface.grain_mm: must lie between 0.0375 and 1.5 for this zone (got 2); hint: at most the radius of the zone and at least a fortieth of it`, false},
	{"seed: 3", "seed: -3", `25: eyes.left.cornea.surface.seed: must be a whole number from 0 to 9007199254740991 (got "-3"); hint: any such number will do; the same number gives the same map`, true},
	{"log_s: 1.3", "log_s: 20", `26: eyes.left.straylight.log_s: must lie between 0 and 3 (got 20); hint: write the decimal logarithm, as in 1.5, not the parameter itself`, true},
	{"eye: left\n        x_is", "eye: right\n        x_is", `29: eyes.left.fields[1].eye: names the other eye than the one it stands under (got "right"); hint: move the field, or correct the eye`, false},
	{"        eye: left\n", "", `28: eyes.left.fields[1].eye: is missing; hint: write right or left; a field is of no use without its eye`, true},
	{"        x_is: as-patient-sees\n", "", `28: eyes.left.fields[1].x_is: is missing; hint: write as-patient-sees, nasal-positive or right-eye-format, as the printout or export writes x`, true},
	{"kind: sensitivity", "kind: sensitivity\n        date: 3.5.2024", `32: eyes.left.fields[1].date: must be a day written as 2024-05-03 (got "3.5.2024"); hint: write year, month and day, or leave it out`, false},
	{"kind: sensitivity", "kind: sensitivity\n        csv: a.csv", `32: eyes.left.fields[1].csv: stands beside points (got "a.csv"); hint: keep one of the two`, true},
	{"          - {x_deg: 7, y_deg: 1, value_db: 30}\n", "", `28: eyes.left.fields[1]: cannot be used: points: 3 places; a field needs at least 4; hint: the form of a field is described in docs/case.md`, false},
	{"x_deg: 7", "x_deg: 3", `28: eyes.left.fields[1]: cannot be used: points: the place (3, 1) stands twice, in lines 34 and 36; keep one; hint: the form of a field is described in docs/case.md`, false},
	{"x_deg: 7", "x_deg: .nan", `36: eyes.left.fields[1].points[4].x_deg: must be a finite number (got ".nan"); hint: leave the key out when the value is not known`, true},
	{"{logmar: 0.2, with: glasses}", "{with: glasses}", `38: eyes.left.acuity[1]: has no acuity; hint: write one of logmar, decimal or snellen`, true},
	{"logmar: 0.2", "logmar: 0.2, decimal: 0.6", `38: eyes.left.acuity[1]: gives one acuity in more than one notation; hint: keep one of logmar, decimal and snellen`, true},
	{"logmar: 0.2", "snellen: HM", `38: eyes.left.acuity[1].snellen: must be a fraction such as 20/40 or 6/12 (got "HM"); hint: hand movements and counting fingers have no logMAR: leave them to the complaint`, false},
	{"  pinhole: done", "  pinhole: maybe", `40: checks.pinhole: must be done or not-done (got "maybe"); hint: write the word as it stands here`, true},
	{"  pinhole: done", "  pinhole: {words: clear}", `40: checks.pinhole.state: is missing; hint: write done or not-done`, true},
	{"age_years: 60", "age_years: 60\nage_years: 61", `4: age_years: is given twice in one group, first in line 3; hint: keep one of them`, false},
	{"age_years: 60", "age_years: &a 60", `3: anchors, aliases, tags, merges and directives are not used in a case (got "&"); hint: write the values out where they belong; put text that starts with & * ! ? or % in quotes`, false},
	{base, "", ` is empty; hint: start from the example in docs/case.md`, true},
	{base, "just words\n", `1: must be a group of keys (got "just words"); hint: indent its keys under it: title, invented, complaint, complaint_eye, age_years, eyes, checks`, true},
	{base, "title: \xff\n", ` is not text in UTF-8; hint: a case is a short text file in UTF-8`, true},
}

func TestEverySlipIsNamedWithPlaceAndHint(t *testing.T) {
	for _, s := range slips {
		if !strings.Contains(base, s.old) {
			t.Fatalf("the base case does not contain %q", s.old)
		}
		_, _, err := Parse("c.yaml", []byte(strings.Replace(base, s.old, s.wrong, 1)), fstest.MapFS{})
		if err == nil {
			t.Errorf("%q: no error, want %s", s.wrong, s.want)
			continue
		}
		if got := strings.TrimPrefix(err.Error(), "c.yaml:"); got != s.want {
			t.Errorf("%q:\n got %s\nwant %s", s.wrong, got, s.want)
		}
	}
}

func TestTheBaseOfTheTableIsACase(t *testing.T) {
	if _, notices, err := Parse("c.yaml", []byte(base), nil); err != nil || len(notices) > 0 {
		t.Fatal(err, notices)
	}
}

func TestFilesThatCannotBeReadAreNamed(t *testing.T) {
	dir := t.TempDir()
	long := filepath.Join(dir, "long.yaml")
	if err := os.WriteFile(long, make([]byte, maxBytes+1), 0o600); err != nil {
		t.Fatal(err)
	}
	hint := "; hint: name a case file, as in simview check case.yaml; docs/case.md says how to write one"
	for path, want := range map[string]string{
		"":                             "case: no file is named",
		dir:                            dir + ": is a folder, not a file",
		dir + "/":                      dir + "/: is a folder, not a file",
		filepath.Join(dir, "no.yaml"):  filepath.Join(dir, "no.yaml") + ": is not there",
		filepath.Join(dir, "no/c.yml"): filepath.Join(dir, "no/c.yml") + ": is not there",
		long:                           long + ": has 1048577 bytes; at most 1048576 are read",
	} {
		if _, _, err := Load(path); err == nil || err.Error() != want+hint {
			t.Errorf("Load(%q) = %v, want %s", path, err, want+hint)
		}
	}
}

func TestFieldFilesThatCannotBeReadAreNamed(t *testing.T) {
	points := base[strings.Index(base, "        points:"):strings.Index(base, "    acuity:")]
	files := fstest.MapFS{"d/f.csv": {Data: []byte("x")}, "long.csv": {Data: make([]byte, maxBytes+1)}}
	hint := "; hint: put the field file beside the case file and name it with / between folders"
	for name, want := range map[string]string{
		"no.csv":   `is not there (got "no.csv")` + hint,
		"d":        `is a folder, not a file (got "d")` + hint,
		"../a.csv": `must be a file beside the case or below it (got "../a.csv")` + hint,
		"/a.csv":   `must be a file beside the case or below it (got "/a.csv")` + hint,
		"long.csv": `has 1048577 bytes; at most 1048576 are read (got "long.csv")` + hint,
	} {
		_, _, err := Parse("c.yaml", []byte(strings.Replace(base, points, "        csv: "+name+"\n", 1)), files)
		if full := "c.yaml:32: eyes.left.fields[1].csv: " + want; err == nil || err.Error() != full {
			t.Errorf("csv %s: %v, want %s", name, err, full)
		}
	}
}

func TestAllProblemsAreShownInTheOrderOfLines(t *testing.T) {
	text := strings.NewReplacer("axis_deg: 70", "axis_deg: 200", "age_years: 60", "age_years: 0", "log_s: 1.3", "log_s: x").Replace(base)
	_, _, err := Parse("c.yaml", []byte(text), nil)
	var lines []int
	for _, p := range err.(Problems) {
		lines = append(lines, p.Line)
	}
	if len(lines) != 3 || lines[0] != 3 || lines[1] != 9 || lines[2] != 26 {
		t.Errorf("lines %v, want 3, 9, 26", lines)
	}
}

func TestAFileWrongEverywhereDoesNotFillTheScreen(t *testing.T) {
	_, _, err := Parse("c.yaml", []byte(strings.Repeat("x", 5)+": 1\n"+manyKeys(2000)), nil)
	if n := strings.Count(err.Error(), "\n") + 1; n != maxShown+1 {
		t.Errorf("%d lines, want %d", n, maxShown+1)
	}
}
