//go:build !race

package fieldmask

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"simview/internal/unit"
)

// spotted is 30 dB everywhere and 1 dB in the blind spot of a right eye.
func spotted(x, y float64) float64 {
	if x == 15 && math.Abs(y) == 3 {
		return 1
	}
	return 30
}

// readBack reads a field written with x multiplied by sign, head lines first.
func readBack(t *testing.T, f Field, sign float64, head string, meta Meta) []Warning {
	t.Helper()
	got, warn, err := ReadCSV(strings.NewReader(head+asCSV(f, sign)), "f.csv", meta)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range got.Points { // nothing is mended
		if want := f.Points[i]; p.DB != want.DB || float64(p.At.X) != sign*float64(want.At.X) {
			t.Fatalf("place %d is read as %v, was %v", i, p, want)
		}
	}
	return warn
}

func TestContradictionsAreWarnedOfAndNeverMended(t *testing.T) {
	right := Meta{Side: unit.Right, XIs: "as-patient-sees", Pattern: "24-2", Kind: Sensitivity}
	wide := right
	wide.Pattern = "30-2"
	dated := right
	dated.Date = "2024-05-03"
	td := right
	td.Kind = TotalDeviation
	good := patternField(t, "24-2", unit.Right, Sensitivity, spotted)
	for name, c := range map[string]struct {
		f    Field
		sign float64
		head string
		meta Meta
		want []string
	}{
		"in order":    {good, 1, "# right eye, 24-2, x as-patient-sees\n# date 2024-05-03\n", dated, nil},
		"wide, right": {patternField(t, "30-2", unit.Right, Sensitivity, spotted), 1, "", wide, nil},
		"nasal points on the temple's side": {good, -1, "", right, []string{
			"f.csv: the file contradicts its own nasal points: 24-2 reaches 27 degrees only towards the nose, but here towards the temple of a right eye; is the eye or the way of writing x wrong? It is used as stated",
			"f.csv: the blind spot seems to lie towards the nose (1 dB there, 30 dB where it should be); is the eye or the way of writing x wrong? It is used as stated",
		}},
		"blind spot on the nose's side": {patternField(t, "30-2", unit.Right, Sensitivity, spotted), -1, "", wide, []string{
			"f.csv: the blind spot seems to lie towards the nose (1 dB there, 30 dB where it should be); is the eye or the way of writing x wrong? It is used as stated",
		}},
		"no blind spot": {patternField(t, "24-2", unit.Right, Sensitivity, func(x, y float64) float64 { return 28 }), 1, "", right, []string{
			"f.csv: no blind spot where it should be (28 dB at the worse of its two places); did the eye wander, or is the eye or the way of writing x wrong? It is used as stated",
		}},
		"another day": {good, 1, "# date 2021-11-30\n", dated, []string{
			"f.csv: a comment in the file gives the day of the test as 2021-11-30, but 2024-05-03 is stated; 2024-05-03 is used",
		}},
		"another eye and rule": {good, 1, "# left eye, 24-2, x nasal-positive\n", right, []string{
			"f.csv: a comment in the file gives the eye as left, but right is stated; right is used",
			"f.csv: a comment in the file gives the way of writing x as nasal-positive, but as-patient-sees is stated; as-patient-sees is used",
		}},
		"losses written positive": {patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return 6 }), 1, "", td, []string{
			"f.csv: the mean deviation is +6.0 dB, better than any eye; a loss is negative: is it written with the other sign?",
		}},
	} {
		var got []string
		for _, w := range readBack(t, c.f, c.sign, c.head, c.meta) {
			got = append(got, string(w))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: warnings\n%s\nwant\n%s", name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

func TestUnusableFieldsAreRefusedInOneSentence(t *testing.T) {
	whole := patternField(t, "24-2", unit.Right, Sensitivity, spotted)
	less, other, low := whole, whole, whole
	less.Points = whole.Points[1:]
	other.Points = append(slices.Clone(whole.Points[1:]), Point{At: pt(1, 1), DB: 30})
	low.Points = slices.Clone(whole.Points)
	for i := range low.Points {
		low.Points[i].DB = -float64(i % 7)
	}
	high := whole
	high.Points = slices.Clone(whole.Points)
	high.Points[4].DB = 50.5
	meta := Meta{Side: unit.Right, XIs: "as-patient-sees", Pattern: "24-2", Kind: Sensitivity}
	td := meta
	td.Kind = TotalDeviation
	scaled := meta
	scaled.Scale.MaxCdM2 = 3
	for name, c := range map[string]struct {
		f    Field
		meta Meta
		want string
	}{
		"a place missing":              {less, meta, "f.csv: the place (-9, 21) of 24-2 is missing; give every place or call the pattern free"},
		"another place":                {other, meta, "f.csv: the place (-9, 21) of 24-2 is missing; give every place or call the pattern free"},
		"deviations as sensitivities":  {low, meta, "f.csv: 46 of 54 sensitivities are below 0 dB; are these deviations from normal? A place not seen is written <0"},
		"more than 50 dB":              {high, meta, "f.csv:6: 50.5 dB is beyond 50; expected perimetric dB, 10 log10"},
		"luminance that no test has":   {whole, scaled, "f.csv: the brightest spot must be 10 to 100000 cd/m² (got 3); 1 asb is 0.318 cd/m²"},
		"a header of the other kind":   {whole, td, "f.csv:1: the header must be \"x_deg,y_deg,total_deviation_db\" for a field given as total deviation (got \"x_deg,y_deg,sensitivity_db\")"},
		"another pattern with 24-2 in": {patternField(t, "30-2", unit.Right, Sensitivity, spotted), meta, "f.csv: line 2: the place (-9, 27) is not one of 24-2; name the right pattern or free"},
	} {
		_, _, err := ReadCSV(strings.NewReader(asCSV(c.f, 1)), "f.csv", c.meta)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s:\n%v\nwant\n%s", name, err, c.want)
		}
	}
}

func TestSensitivitiesAsDeviationsAreRefused(t *testing.T) {
	f := patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return 29 })
	want := "made: the mean deviation is +29.0 dB; are these sensitivities?"
	if err := f.Check(); err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// The 64 places of 24-2 with added central points are read, not assumed.
func TestAddedCentralPlacesAreReadFromTheFile(t *testing.T) {
	f := patternField(t, "24-2", unit.Left, TotalDeviation, func(x, y float64) float64 { return -3 })
	for i := range 10 {
		f.Points = append(f.Points, Point{At: pt(float64(i%5)*2-5, float64(i/5)*2-1), DB: -12, Line: 60 + i})
	}
	f.Pattern = "24-2c"
	meta := Meta{Side: unit.Left, XIs: "nasal-positive", Pattern: "24-2c", Kind: TotalDeviation}
	got, warn, err := ReadCSV(strings.NewReader(asCSV(f, 1)), "c.csv", meta)
	if err != nil || len(warn) != 0 || len(got.Points) != 64 {
		t.Fatalf("%d places, warnings %v, error %v", len(got.Points), warn, err)
	}
	s := mustSurface(t, got)
	if centre, out := s.LossDB(1, 0), s.LossDB(-15, 15); !(centre > 8 && out < 5) {
		t.Errorf("%.1f dB at the added places, %.1f far out; measured 12 and 3", centre, out)
	}
	got.Points = got.Points[:63]
	if d := got.Doubts(); len(d) != 1 || string(d[0]) != "c.csv: 24-2c with 9 places beside those of 24-2, where 10 are usual; the places in the file are used" {
		t.Errorf("warnings %v", d)
	}
	got.Points[62].At = pt(13, 11)
	if err := got.Check(); err == nil || !strings.Contains(err.Error(), "the place (13, 11) is not one of 24-2c") {
		t.Errorf("error %v", err)
	}
}

// DICOM: dB = 10 log10(ΔLmax/ΔL). The offsets of instruments whose brightest
// spot is 1000 or 4000 asb are common knowledge (-10 and -3.98 dB).
func TestDecibelsOfOtherInstrumentsComeToTheCommonScale(t *testing.T) {
	for _, c := range []struct{ asb, offset float64 }{{10000, 0}, {4000, 3.979}, {1000, 10}} {
		s := Scale{MaxCdM2: c.asb / math.Pi}
		if got := s.ToCommon(20) - 20; math.Abs(got-c.offset) > 1e-3 { // the offset has three decimals
			t.Errorf("%v asb: shift %.4f dB, want %.3f", c.asb, got, c.offset)
		}
		a, b := float64(s.Luminance(20)), float64(Scale{}.Luminance(s.ToCommon(20)))
		if math.Abs(a/b-1) > 1e-12 { // one spot, two scales
			t.Errorf("%v asb: 20 dB is %v cd/m², on the common scale %v", c.asb, a, b)
		}
	}
	// a background of 4 asb: 10 log10(4/31.5) = -8.96 dB
	if got := (Scale{BackgroundCdM2: 4 / math.Pi}).ToCommon(0); math.Abs(got+8.963) > 1e-3 {
		t.Errorf("dim background: shift %.4f dB, want -8.963", got)
	}
	if (Scale{}).ToCommon(17.3) != 17.3 {
		t.Error("the common scale must be left as it is")
	}
	text := "x_deg,y_deg,sensitivity_db\n3,3,20\n-3,3,19\n3,-3,2\n-3,-3,<0\n"
	meta := Meta{Side: unit.Right, XIs: "as-patient-sees", Pattern: "free", Kind: Sensitivity, Scale: Scale{MaxCdM2: 1000 / math.Pi}}
	f, _, err := ReadCSV(strings.NewReader(text), "a", meta)
	if err != nil || math.Abs(f.Points[0].DB-30) > 1e-9 || math.Abs(f.Points[3].DB-10) > 1e-9 {
		t.Errorf("20 dB and unseen of a 1000 asb instrument are read as %v, error %v; want 30 and 10", f.Points, err)
	}
}

func TestAFieldComesBackFromItsFile(t *testing.T) {
	for _, pattern := range []string{"24-2", "30-2", "10-2"} {
		for _, side := range []unit.Side{unit.Right, unit.Left} {
			f := patternField(t, pattern, side, TotalDeviation, func(x, y float64) float64 { return -x*x/97 + y/7 })
			f.Date = "2024-05-03"
			var b strings.Builder
			if err := WriteCSV(&b, f); err != nil {
				t.Fatal(err)
			}
			meta := Meta{Side: side, XIs: "as-patient-sees", Pattern: pattern, Kind: TotalDeviation}
			g, warn, err := ReadCSV(strings.NewReader(b.String()), "b.csv", meta)
			if err != nil || len(warn) != 0 || g.Date != f.Date || g.Side != side || len(g.Points) != len(f.Points) {
				t.Fatalf("%s, %v eye: %d places, date %q, warnings %v, error %v", pattern, side, len(g.Points), g.Date, warn, err)
			}
			for i, p := range f.Points {
				if g.Points[i].At != p.At || g.Points[i].DB != p.DB {
					t.Fatalf("%s: place %d came back as %v, was %v", pattern, i, g.Points[i], p)
				}
			}
		}
	}
}

func TestASiteMayBringItsOwnNorm(t *testing.T) {
	var b strings.Builder
	b.WriteString("# our own\nx_deg_right_eye_format,y_deg,normal_at_age_0_db,change_db_per_year\n")
	for _, at := range [][2]int{{3, 3}, {-3, 3}, {3, -3}, {-3, -3}} {
		fmt.Fprintf(&b, "%d,%d,35,-0.05\n", at[0], at[1])
	}
	n, err := ReadNorm(strings.NewReader(b.String()), "ours.csv")
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(n.At(unit.Left, pt(-3, 3), 60)); math.Abs(got-32) > 1e-9 || n.Name() != "ours.csv" {
		t.Errorf("norm %v dB of %s, want 35 - 0.05 x 60", got, n.Name())
	}
	f := patternField(t, "24-2", unit.Left, Sensitivity, func(x, y float64) float64 { return 30 })
	f.Norm = n
	for _, p := range f.ToTotalDeviation(60).Points {
		if p.At == pt(-3, 3) && math.Abs(p.DB+2) > 1e-9 {
			t.Errorf("deviation %v dB from a norm of 32", p.DB)
		}
	}
	head := normHeader + "\n"
	for text, says := range map[string]string{
		"":                                      "n.csv: 0 places; a table of normal values needs the header",
		"a,b\n":                                 "n.csv:1: the header of a table of normal values must be",
		head + "1,2,3\n":                        "n.csv:2: expected 4 values",
		head + "1,2,NaN,0\n":                    "n.csv:2: normal_at_age_0_db must be a finite number (got \"NaN\")",
		head + "1,200,33,0\n":                   "n.csv:2: place (1, 200) degrees lies beyond 90",
		head + "1,2,33,1\n":                     "n.csv:2: the norm at 20 years is 53.0 dB; expected 0 to 50 dB",
		head + "1,2,33,0\n1,2,33,0\n":           "n.csv:3: the place (1, 2) stands twice; keep one",
		head + "1,2,33,0\n1,3,33,0\n2,3,33,0\n": "n.csv: 3 places;",
		head + "1,2,33,0,0.01\n1,3,33,0\nx,y,1,2": "n.csv:4: x_deg_right_eye_format must be a finite number",
	} {
		if _, err := ReadNorm(strings.NewReader(text), "n.csv"); err == nil || !strings.HasPrefix(err.Error(), says) {
			t.Errorf("%q: error %v, must start with %q", text, err, says)
		}
	}
}

func TestOpticsAndFieldAreNotCountedTwiceInSilence(t *testing.T) {
	deep := patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -7 })
	clear := patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return 0 })
	want := Warning("optics and field explain the same thing twice: the optics should cost 5.0 dB in the field test and the whole field is lower by at least 5.0 dB, but at most 3.0 dB are put down to them; the other 2.0 dB are shown as blur or haze and as lost field")
	if got, twice := TwiceExplained(5, deep); !twice || got != want {
		t.Errorf("%v %q, want %q", twice, got, want)
	}
	for name, c := range map[string]struct {
		optics float64
		f      []Field
	}{"within the share": {2.5, []Field{deep}}, "no depression": {5, []Field{clear}}, "one field clear": {5, []Field{deep, clear}}, "no field": {5, nil}} {
		if got, twice := TwiceExplained(c.optics, c.f...); twice {
			t.Errorf("%s: %q", name, got)
		}
	}
}
