package refraction_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"simview/internal/refraction"
	"simview/internal/unit"
)

// tolTable is half of the table's last digit.
const tolTable = 0.00005

// tolDigits is a unit of the last of eight digits, as the rows ask for.
const tolDigits = 1e-8

// Uncorrected share of the cylinder at so many degrees, 2 sin θ: thin crossed
// cylinders, worked out outside this project.
func TestAToricLensThatIsTurnedLeavesTwiceTheSine(t *testing.T) {
	for deg, want := range map[unit.Degrees]unit.Dioptres{
		1: .0349, 2: .0698, 3: .1047, 5: .1743, 8: .2783, 10: .3473, 15: .5176, 20: .6840, 30: 1, 45: 1.4142, 90: 2,
	} {
		eye := refraction.SphereCylinder{Sphere: 0.5, Cylinder: -1, AxisDeg: 70}
		left := eye.PowerVector().Misaligned(deg)
		near(t, "residual", -left.SphereCylinder().Cylinder, want, tolTable)
		near(t, "formula", refraction.ResidualCylinder(1, -1, deg), want, tolTable)
		sin := unit.Dioptres(2 * math.Sin(deg.Radians()))
		near(t, "closed form", -left.SphereCylinder().Cylinder, sin, tolDigits)
		near(t, "closed form of the formula", refraction.ResidualCylinder(1, -1, deg), sin, tolDigits)
		near(t, "mean sphere", left.M, 0, tolAlgebra)
	}
}

// The eye needs +2.00 x 90, the lens gives it at 100: worked out outside this
// project from crossed cylinders.
func TestTheVectorsOfALensTenDegreesOff(t *testing.T) {
	left := refraction.SphereCylinder{Sphere: -1, Cylinder: 2, AxisDeg: 90}.PowerVector().Misaligned(10)
	near(t, "J0", left.J0, .060307379, tolDigits)
	near(t, "J45", left.J45, -.342020143, tolDigits)
	s := left.SphereCylinder()
	near(t, "cylinder", s.Cylinder, -.694592711, tolDigits)
	near(t, "axis", s.AxisDeg, 140, tolDigits)
}

// Felipe et al., J Cataract Refract Surg 2011: a third is left at 10 degrees,
// and nothing is gained at 30 degrees, or 33.2 and 37.8 for a weaker lens.
func TestTheAngleAtWhichNothingIsGained(t *testing.T) {
	const tolPaper = 0.05 // half of its last printed digit
	for ratio, want := range map[float64]unit.Degrees{1: 30, .8: 33.2, .5: 37.8} {
		got := must[unit.Degrees](t)(refraction.NothingGainedAt(ratio))
		near(t, "angle", got, want, tolPaper)
		near(t, "cylinder there", refraction.ResidualCylinder(1, unit.Dioptres(-ratio), got), 1, tolAlgebra)
	}
	near(t, "a third", refraction.ResidualCylinder(1, -1, 10), 1.0/3, 0.02)
	for _, bad := range []float64{0, -1, 2.1, math.NaN()} {
		if _, err := refraction.NothingGainedAt(bad); err == nil {
			t.Errorf("ratio %v passed", bad)
		}
	}
}

func TestPropertyTheResidualDoesNotDependOnWhereTheAxisLies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyLens(t).PowerVector()
		turn := unit.Degrees(rapid.Float64Range(-180, 180).Draw(t, "turn"))
		off := unit.Degrees(rapid.Float64Range(-90, 90).Draw(t, "off"))
		a, b := p.Misaligned(off).Astigmatism(), p.Turn(turn).Misaligned(off).Astigmatism()
		formula := refraction.ResidualCylinder(2*p.Astigmatism(), -2*p.Astigmatism(), off)
		if math.Abs(float64(a-b)) > tolAlgebra || math.Abs(float64(2*a-formula)) > 1e-6 { // a root of a difference
			t.Fatalf("%v, turned %v, formula %v", a, b, formula)
		}
	})
}
