package light

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestKernelIsTheGeneralFunctionFromTwoDegreesOn(t *testing.T) {
	for _, age := range []float64{20, 35, 70, 90} {
		for _, p := range []float64{0, 0.5, 1.2} {
			for deg := 2.0; deg <= 90; deg += 0.5 {
				nearShare(t, "kernel", GlareForAge(age, p).Kernel(deg), CIEGeneral(deg, age, p), 0.01)
			}
		}
	}
}

func TestMeasuredStraylightComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		logS := rapid.Float64Range(0.9, 2.2).Draw(t, "log s")
		at := rapid.Float64Range(3, 20).Draw(t, "at")
		g, err := GlareFromLogS(logS, at, rapid.Float64Range(0, 1.2).Draw(t, "p"))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(g.LogS(at)-logS) > 1e-12 {
			t.Fatalf("log s %v came back as %v", logS, g.LogS(at))
		}
	})
}

func TestStraylightLessThanAnyEyeHasIsRefused(t *testing.T) {
	// θ² 10/θ³ at 7 degrees is 10/7, log 0.155: the part no eye is without.
	if _, err := GlareFromLogS(0.15, 7, 0); err == nil {
		t.Error("log s of 0.15 was taken")
	}
	if _, err := GlareFromLogS(0.16, 7, 0); err != nil {
		t.Error(err)
	}
	for _, bad := range [][3]float64{
		{math.NaN(), 7, 0.5},
		{math.Inf(1), 7, 0.5},
		{1.2, 0, 0.5},
		{1.2, math.NaN(), 0.5},
		{1.2, 95, 0.5},
		{1.2, 7, -1},
		{1.2, 7, math.NaN()},
	} {
		if g, err := GlareFromLogS(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v was taken as %+v", bad, g)
		}
	}
}

// Integrals of the written-out kernel by scipy 1.10.1 (integrate.quad, absolute
// error asked 1e-13); quadTolerance is ten times what our rule misses.
const quadTolerance = 1e-5

func TestShareIsTheHemisphereIntegral(t *testing.T) {
	for _, c := range []struct{ p, fixed, aged float64 }{
		{0, 0.10599775, 0.06324688},
		{0.5, 0.11385173, 0.07075337},
		{1, 0.12170571, 0.07825985},
		{1.2, 0.12484731, 0.08126244},
	} {
		near(t, "fixed", Glare{0, c.p}.Share(), c.fixed, quadTolerance)
		near(t, "both", Glare{1, c.p}.Share(), c.fixed+c.aged, quadTolerance)
		near(t, "scaled", Glare{9, c.p}.Share(), c.fixed+9*c.aged, 10*quadTolerance)
	}
}

// Small-angle closed forms, a second route: ∫ 2πθ 10θ/(θ⁴+a⁴) dθ over the plane
// is (π/180)² 2π 10 π/(2√2 a), and ∫ 2πθ 5/(θ²+b²) dθ to R is
// (π/180)² π 5 ln(1+R²/b²). The plane's sine makes the second 5 % smaller.
func TestShareAgreesWithClosedForms(t *testing.T) {
	rad2 := math.Pow(math.Pi/180, 2)
	fixed := rad2 * 2 * math.Pi * 10 * math.Pi / (2 * math.Sqrt2 * 0.2)
	near(t, "fixed", Glare{0, 0}.Share(), fixed, 0.005*fixed)
	aged := rad2 * math.Pi * 5 * math.Log(1+math.Pow(90/0.1, 2))
	near(t, "aged", Glare{1, 0}.Share()-Glare{0, 0}.Share(), aged, 0.05*aged)
}

func TestLightIsKeptHoweverStrongTheScatter(t *testing.T) {
	last := 1.0
	for scale := 0.0; scale < 40; scale += 0.25 {
		g := Glare{scale, 0.5}
		near(t, "core and veil", g.Keep()+g.VeilFactor()*g.Share(), 1, 1e-12)
		if g.Keep() >= last || g.Keep() <= 0 {
			t.Fatalf("scale %v: core keeps %v after %v", scale, g.Keep(), last)
		}
		if share := g.Share(); share <= 0.5 && (g.Saturated() || math.Abs(g.Keep()-(1-share)) > 1e-12) {
			t.Errorf("share %v: core keeps %v", share, g.Keep())
		}
		last = g.Keep()
	}
	// At T = 1 the rule reads 1 - 0.5/e = 0.8161.
	g := Glare{(1 - 0.11385173) / 0.07075337, 0.5}
	near(t, "leaving at a share of one", g.Leaving(), 0.8161, 1e-4)
	if !g.Saturated() {
		t.Error("a share of one is not called saturated")
	}
}

// Beyond its start the kernel only falls. Inside 10 minutes of arc, where the
// measured wavefront is a hundred times stronger, a young eye's kernel dips by
// less than half; it never has a second ring.
func TestKernelFallsWithoutAStepOrARing(t *testing.T) {
	for _, scale := range []float64{0, 1, 1.1, 2.4, 9, 30} {
		g := Glare{scale, 0.5}
		last := g.Kernel(0.16)
		for deg := 0.17; deg <= 90; deg += 0.01 {
			k := g.Kernel(deg)
			if k > last {
				t.Fatalf("scale %v: rises at %v degrees", scale, deg)
			}
			if step := last / k; step > 1.25 && deg < 89.99 {
				t.Fatalf("scale %v: falls by %v within 0.01 degree at %v", scale, step, deg)
			}
			last = k
		}
		if scale >= 1 && g.Kernel(0.153) > 1.8*g.Kernel(0) {
			t.Errorf("scale %v: %v at the start and %v at its top", scale, g.Kernel(0), g.Kernel(0.153))
		}
	}
}

// Straylight alone (the wavefront adds almost nothing beyond 0.2 degrees) stays
// within a factor 1.5 of a whole normal eye from 0.35 degrees on and 2.5 from
// 0.2, from 35 to 80 years; 1 % of room for what the wavefront does add.
func TestKernelStaysNearTheWholeNormalEye(t *testing.T) {
	for age := 35.0; age <= 80; age += 5 {
		for deg := 0.2; deg <= 30; deg += 0.05 {
			ratio := CIETotal(deg, age, 0.5) / GlareForAge(age, 0.5).Kernel(deg)
			limit := 2.5
			if deg >= 0.35 {
				limit = 1.5
			}
			if limit *= 1.01; ratio > limit || ratio < 1/limit {
				t.Errorf("%v years, %v degrees: off by %v", age, deg, ratio)
			}
		}
	}
}
