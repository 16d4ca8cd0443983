package light

import (
	"math"
	"testing"
)

// tableTolerance: the table's values carry three to four digits, and 1 % is
// what the eye's veil is ever known to.
const tableTolerance = 0.01

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g", what, got, want, tolerance)
	}
}

func nearShare(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	near(t, what, got, want, share*math.Abs(want))
}

// Values of the formulas of CIE 146:2002 and CIE 135/1-1999 for pigment 0.5,
// computed outside this project in another language.
func TestGlareFunctionsGiveThePublishedValues(t *testing.T) {
	for _, c := range []struct{ deg, total35, general35, general70, general80 float64 }{
		{0.1, 1.168e4, 1.055e4, 1.129e4, 1.184e4},
		{0.5, 137, 102.1, 131.7, 154.1},
		{1, 19.56, 15.55, 23.0, 28.61},
		{2, 3.02, 2.652, 4.532, 5.949},
		{5, .3076, .3119, .6217, .855},
		{7, .1416, .1503, .3114, .4327},
		{10, .06485, .07166, .1528, .2139},
		{30, 8.20e-3, 9.55e-3, 2.02e-2, 2.82e-2},
	} {
		nearShare(t, "total, 35 years", CIETotal(c.deg, 35, 0.5), c.total35, tableTolerance)
		nearShare(t, "general, 35 years", CIEGeneral(c.deg, 35, 0.5), c.general35, tableTolerance)
		nearShare(t, "general, 70 years", CIEGeneral(c.deg, 70, 0.5), c.general70, tableTolerance)
		nearShare(t, "general, 80 years", CIEGeneral(c.deg, 80, 0.5), c.general80, tableTolerance)
	}
}

// Hemisphere integrals of the un-normalised total function, as for the table.
func TestTotalFunctionHoldsAllTheLight(t *testing.T) {
	for _, c := range []struct{ age, p, want float64 }{
		{20, 0, 1.005}, {35, .5, 1.033}, {70, 1, 1.122}, {80, 1.2, 1.199},
	} {
		got := hemisphere(func(deg float64) float64 { return CIETotal(deg, c.age, c.p) })
		near(t, "integral", got, c.want, 0.0015) // the table has three decimals
	}
}

// Clinical norms at 7 degrees: van den Berg et al. 2007 (natural lenses) and
// Labuz, Reus, van den Berg 2015 (implants), two decimals.
func TestNormsOfStraylightByAge(t *testing.T) {
	const twoDecimals = 0.01
	for _, c := range []struct{ age, natural, implant float64 }{
		{20, .87, .98},
		{30, .89, 1.02},
		{40, .93, 1.07},
		{50, 1.00, 1.11},
		{60, 1.11, 1.15},
		{65, 1.17, 1.18},
		{70, 1.24, 1.20},
		{77, 1.34, 1.23},
		{80, 1.39, 1.24},
		{90, 1.54, 1.29},
	} {
		natural, sd, source := NormLogS(c.age, false)
		near(t, "natural lens", natural, c.natural, twoDecimals)
		near(t, "spread of natural lenses", sd, 0.10, twoDecimals)
		implant, sdImplant, sourceImplant := NormLogS(c.age, true)
		near(t, "implant", implant, c.implant, twoDecimals)
		near(t, "spread of implants", sdImplant, 0.21, twoDecimals)
		if source == "" || sourceImplant == "" || source == sourceImplant {
			t.Errorf("sources: %q and %q", source, sourceImplant)
		}
	}
}

// The general function and the norm come from different studies; they agree to
// 0.07 log units from 20 to 80 years, less than the spread between eyes (0.10).
func TestNormalEyeOfAnAgeHasTheNormalStraylight(t *testing.T) {
	for age := 20.0; age <= 80; age += 5 {
		norm, sd, _ := NormLogS(age, false)
		near(t, "log s", GlareForAge(age, 0.5).LogS(NormAtDeg), norm, sd)
	}
}
