package casefile

import (
	"math"
	"strings"
	"testing"

	"simview/internal/unit"
	"simview/internal/zernike"
)

// exact is the rounding of a few float64 operations on numbers near 1.
const exact = 1e-12

// twin returns the base case with another eye and one replacement.
func twin(t *testing.T, side string, oldnew ...string) *Eye {
	t.Helper()
	text := strings.NewReplacer(oldnew...).Replace(base)
	text = strings.NewReplacer("complaint_eye: left", "complaint_eye: "+side, "  left:\n", "  "+side+":\n", "eye: left\n        x_is", "eye: "+side+"\n        x_is").Replace(text)
	c, _, err := Parse("c.yaml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	return c.Eye(c.ComplaintSide())
}

// The temple of a right eye is on the left of the clinician who looks at the
// person: -x; of a left eye on the right.
func TestOutIsTowardsTheTempleOfEitherEye(t *testing.T) {
	for _, k := range []struct {
		side, words string
		deg         unit.Degrees
	}{
		{"right", "out", 180},
		{"left", "out", 0},
		{"right", "in", 0},
		{"left", "in", 180},
		{"right", "up", 90},
		{"left", "up", 90},
		{"right", "down", 270},
		{"left", "down", 270},
		{"right", "up-and-out", 135},
		{"left", "up-and-out", 45},
		{"right", "down-and-out", 225},
		{"left", "down-and-in", 225},
		{"right", "up-and-in", 45},
		{"left", "up-and-in", 135},
		{"right", "down-and-in", 315},
		{"left", "down-and-out", 315},
	} {
		m := twin(t, k.side, "direction: up", "direction: "+k.words).Implant
		if m.DirectionDeg.V != k.deg {
			t.Errorf("%s of a %s eye: %v degrees, want %v", k.words, k.side, m.DirectionDeg.V, k.deg)
		}
		if name := directionName(m2side(k.side), k.deg); name != k.words {
			t.Errorf("%v degrees of a %s eye is called %s, want %s", k.deg, k.side, name, k.words)
		}
	}
}

func m2side(s string) unit.Side { side, _ := unit.ParseSide(s); return side }

func TestALensShiftedToTheTempleMovesToMinusXInARightEye(t *testing.T) {
	for side, sign := range map[string]float64{"right": -1, "left": 1} {
		at := twin(t, side, "direction: up", "direction: out").Implant.Shift()
		if math.Abs(float64(at.X)-sign*0.5) > exact || math.Abs(float64(at.Y)) > exact {
			t.Errorf("%s eye: %v, want (%v, 0)", side, at, sign*0.5)
		}
	}
}

func TestDegreesAreReadTheSameInBothEyes(t *testing.T) {
	for _, side := range []string{"right", "left"} {
		at := twin(t, side, "direction: up", "direction_deg: 30").Implant.Shift()
		if math.Abs(float64(at.X)-0.5*math.Sqrt(3)/2) > exact || math.Abs(float64(at.Y)-0.25) > exact {
			t.Errorf("%s eye: %v, want 0.5 mm at 30 degrees", side, at)
		}
	}
}

// rotate turns p about the unit vector a by angle t, the right-hand rule
// (Rodrigues' formula), x right, y up, z towards the clinician.
func rotate(p, a [3]float64, t float64) (out [3]float64) {
	cross := [3]float64{a[1]*p[2] - a[2]*p[1], a[2]*p[0] - a[0]*p[2], a[0]*p[1] - a[1]*p[0]}
	dot := a[0]*p[0] + a[1]*p[1] + a[2]*p[2]
	for i := range out {
		out[i] = p[i]*math.Cos(t) + cross[i]*math.Sin(t) + a[i]*dot*(1-math.Cos(t))
	}
	return out
}

func TestTheTiltBringsTheForwardEdgeTowardsTheClinician(t *testing.T) {
	for _, axis := range []float64{0, 45, 90, 200} {
		m := Implant{TiltDeg: unit.Value[unit.Degrees]{V: 5}, TiltAxisDeg: unit.Value[unit.Degrees]{V: unit.Degrees(axis)}}
		s, c := math.Sincos(axis * math.Pi / 180)
		edge := polar(1, m.ForwardEdgeDeg())
		z := rotate([3]float64{float64(edge.X), float64(edge.Y), 0}, [3]float64{c, s, 0}, m.TiltDeg.V.Radians())[2]
		if math.Abs(z-math.Sin(5*math.Pi/180)) > exact {
			t.Errorf("axis %v: the edge at %v comes forward by %v, want sin 5 degrees", axis, m.ForwardEdgeDeg(), z)
		}
	}
}

func TestInIsTowardsTheNoseForTheZoneOfASurface(t *testing.T) {
	for side, x := range map[string]unit.MM{"right": 1, "left": -1} {
		if got := twin(t, side).Cornea.Surface.ZoneCentre; math.Abs(float64(got.X-x)) > exact {
			t.Errorf("%s eye: zone at x = %v mm, want %v", side, got.X, x)
		}
	}
}

// Noll's 7 and 8 are (3,-1) and (3,1) (Noll 1976, table I: odd indices are
// sines); OSA j = 7 and 8 likewise (ANSI Z80.28); Fringe 7 and 8 are the coma
// in x and in y with peak 1, so divided by sqrt 8, and they stand in the other
// order.
func TestEverySchemeNamesTheSameTerms(t *testing.T) {
	for _, k := range []struct {
		scheme, key string
		n, m        int
		scale       float64
	}{
		{"osa", "7", 3, -1, 1},
		{"osa", "8", 3, 1, 1},
		{"osa", "12", 4, 0, 1},
		{"osa-nm", `"3, -1"`, 3, -1, 1},
		{"osa-nm", `"2,2"`, 2, 2, 1},
		{"noll", "7", 3, -1, 1},
		{"noll", "8", 3, 1, 1},
		{"noll", "11", 4, 0, 1},
		{"noll", "9", 3, -3, 1},
		{"fringe", "7", 3, 1, 1 / math.Sqrt(8)},
		{"fringe", "8", 3, -1, 1 / math.Sqrt(8)},
		{"fringe", "9", 4, 0, 1 / math.Sqrt(5)},
	} {
		w := twin(t, "left", "scheme: noll", "scheme: "+k.scheme, "7: 0.1", k.key+": {value: 0.1, sd: 0.02}").Wavefront
		if got := w.Terms.At(k.n, k.m); math.Abs(got-0.1*k.scale) > exact {
			t.Errorf("%s %s: c(%d,%d) = %v, want %v", k.scheme, k.key, k.n, k.m, got, 0.1*k.scale)
		}
		if got := w.SDUM[zernike.Index(k.n, k.m)]; math.Abs(got-0.02*k.scale) > exact {
			t.Errorf("%s %s: sd %v, want %v", k.scheme, k.key, got, 0.02*k.scale)
		}
		if w.Terms.RadiusMM != 3 || w.Terms.WavelengthNM != 555 {
			t.Errorf("%s: radius %v, wavelength %v", k.scheme, w.Terms.RadiusMM, w.Terms.WavelengthNM)
		}
	}
}

func TestAFieldTurnsIntoWhatThePatientSees(t *testing.T) {
	for _, k := range []struct {
		side, rule string
		sign       unit.Degrees
	}{
		{"right", "as-patient-sees", 1},
		{"left", "as-patient-sees", 1},
		{"right", "nasal-positive", -1},
		{"left", "nasal-positive", 1},
		{"right", "right-eye-format", 1},
		{"left", "right-eye-format", -1},
	} {
		e := twin(t, k.side, "as-patient-sees", k.rule)
		if got := e.Fields[0].Field.Points[3].At.X; got != 7*k.sign || e.Fields[0].Field.Side != e.Side {
			t.Errorf("%s eye, %s: x = %v, want %v", k.side, k.rule, got, 7*k.sign)
		}
	}
}

func TestAcuitiesComeOutInLogMAR(t *testing.T) {
	const rounding = 5e-5 // the figures below are rounded to four decimals
	for text, want := range map[string]float64{
		// logMAR = -log10 of the decimal acuity, worked out by hand (ISO 8596 names the steps, from memory)
		"logmar: 0.3": 0.3, "decimal: 1": 0, "decimal: 0.5": 0.3010, "decimal: 0.1": 1, "decimal: 1.25": -0.0969,
		"snellen: 20/20": 0, "snellen: 20/40": 0.3010, "snellen: 6/12": 0.3010, "snellen: 6/7.5": 0.0969, "snellen: 20/200": 1,
	} {
		a := twin(t, "left", "logmar: 0.2", text).Acuity[0]
		if math.Abs(a.LogMAR.V-want) > rounding || math.Signbit(a.LogMAR.V) != (want < 0) || !a.LogMAR.Given() {
			t.Errorf("%s: %v logMAR, want %v", text, a.LogMAR.V, want)
		}
	}
}

// The factors are those of CIE 146:2002, from memory: 0 very dark, 0.5 brown, 1.0 blue-green
// in its text, up to 1.2 for very light eyes.
func TestIrisPigmentFollowsTheGlareStandard(t *testing.T) {
	for iris, want := range map[string]float64{"dark": 0, "brown": 0.5, "green": 1, "blue": 1.2} {
		if got := twin(t, "left", "lens: implant", "lens: implant\n    iris_pigment: "+iris).PigmentFactor(); got != want {
			t.Errorf("%s: %v, want %v", iris, got, want)
		}
	}
	if got := (&Eye{}).PigmentFactor(); got != 0.5 {
		t.Errorf("not stated: %v, want 0.5", got)
	}
}

func TestEveryValueKnowsWhereItCameFrom(t *testing.T) {
	e := twin(t, "left", "pupil_bright_mm: 3", "pupil_bright_mm: {value: 3, from: typical, source: a norm}")
	if v := e.PupilDimMM; v.V != 5 || v.SD != 0.2 || v.From != unit.Measured || v.File != "c.yaml" || v.Line != 8 {
		t.Errorf("%+v", v)
	}
	if v := e.PupilBrightMM; v.From != unit.Typical || v.Source != "a norm" || v.Line != 7 {
		t.Errorf("%+v", v)
	}
	if e.AccommodationD.Given() || e.Implant.RotationDeg.Given() {
		t.Error("a value that the file does not hold is given")
	}
}
