package casefile

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"
)

// withField puts lines into the field of the base case.
func withField(lines string) string {
	return strings.Replace(base, "        x_is: as-patient-sees\n", "        x_is: as-patient-sees\n"+lines, 1)
}

func TestAFieldOfAnotherInstrumentComesToTheCommonScale(t *testing.T) {
	plain, _, err := Parse("c.yaml", []byte(base), nil)
	if err != nil {
		t.Fatal(err)
	}
	c, _, err := Parse("c.yaml", []byte(withField("        max_luminance_cdm2: 318.31\n        averaged_tests: 3\n")), nil)
	if err != nil {
		t.Fatal(err)
	}
	was, f := plain.Eyes.Left.Fields[0].Field, c.Eyes.Left.Fields[0].Field
	if got := f.Points[0].DB - was.Points[0].DB; math.Abs(got-10) > 1e-3 || f.Tests != 3 { // 1000 asb are 10 dB below 10000
		t.Errorf("shifted by %v dB, %d tests", got, f.Tests)
	}
}

func TestAFieldMayBringItsOwnNorm(t *testing.T) {
	files := fstest.MapFS{"ours.csv": {Data: []byte("x_deg_right_eye_format,y_deg,normal_at_age_0_db,change_db_per_year\n1,1,35,0\n-1,1,35,0\n1,-1,35,0\n-1,-1,35,0\n")}, "bad.csv": {Data: []byte("x\n")}}
	c, _, err := Parse("c.yaml", []byte(withField("        normal_csv: ours.csv\n")), files)
	if err != nil {
		t.Fatal(err)
	}
	if f := c.Eyes.Left.Fields[0].Field; f.Norm.Name() != "ours.csv" {
		t.Errorf("the norm is %s", f.Norm.Name())
	}
	for lines, says := range map[string]string{
		"        normal_csv: gone.csv\n":     "normal_csv: is not there",
		"        normal_csv: bad.csv\n":      "normal_csv: cannot be used: bad.csv:1: the header of a table of normal values must be",
		"        averaged_tests: 2000\n":     "averaged_tests: must be 1 to 100",
		"        max_luminance_cdm2: 2\n":    "max_luminance_cdm2",
		"        background_cdm2: 31500.0\n": "background_cdm2",
	} {
		if _, _, err := Parse("c.yaml", []byte(withField(lines)), files); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, must say %q", lines, err, says)
		}
	}
	td := strings.Replace(withField("        normal_csv: ours.csv\n"), "kind: sensitivity", "kind: total-deviation", 1)
	if _, _, err := Parse("c.yaml", []byte(td), files); err == nil || !strings.Contains(err.Error(), "normal_csv: has no meaning beside deviations") {
		t.Errorf("a norm beside deviations: %v", err)
	}
}

func TestAFieldOfAnotherDayIsWarnedOf(t *testing.T) {
	points := base[strings.Index(base, "        points:\n"):strings.Index(base, "    acuity:")]
	text := strings.Replace(withField("        date: 2024-05-03\n"), points, "        csv: f.csv\n", 1)
	files := fstest.MapFS{"f.csv": {Data: []byte("# date 2021-11-30\nx_deg,y_deg,sensitivity_db\n1,1,30\n-1,1,30\n1,-1,30\n-1,-1,30\n")}}
	_, notices, err := Parse("c.yaml", []byte(text), files)
	if err != nil || len(notices) != 1 || !strings.HasSuffix(notices[0].String(), "f.csv: a comment in the file gives the day of the test as 2021-11-30, but 2024-05-03 is stated; 2024-05-03 is used") {
		t.Errorf("notices %v, error %v", notices, err)
	}
}
