//go:build !race

package cause_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/light"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// Measured coefficients of the tests: order 3 up they are what the eye must
// show in the end.
var measured = map[string]float64{"2,0": 0.9, "3,1": 0.21, "3,-1": -0.14, "3,3": 0.08, "4,0": 0.11, "4,2": -0.05}

func wavefront(of string, pupilMM float64) string {
	lines := fmt.Sprintf("{scheme: osa-nm, of: %s, pupil_mm: %g, wavelength_nm: 555, terms_um: {", of, pupilMM)
	for _, k := range []string{"2,0", "3,1", "3,-1", "3,3", "4,0", "4,2"} {
		lines += fmt.Sprintf("'%s': %g, ", k, measured[k])
	}
	return strings.TrimSuffix(lines, ", ") + "}}"
}

var displaced = []string{
	"lens: implant", "pupil_bright_mm: 3", "pupil_dim_mm: 6",
	"implant: {decentration_mm: 0.8, direction: up-and-out, tilt_deg: 5, tilt_axis_deg: 45, spherical_aberration_at_6mm_um: -0.2}",
	"cornea: {surface: {kind: grain, rms_um: 0.6, grain_mm: 0.6, zone_direction: in, zone_distance_mm: 1.5, zone_radius_mm: 1.5, seed: 5}}",
}

// highOrders returns the terms of order 3 up of a state, over its pupil.
func highOrders(t *testing.T, e *cause.Eye, set cause.Strengths, pupilMM float64) zernike.Terms {
	t.Helper()
	s := state(t, e, set, cause.Viewing{DistanceM: math.Inf(1), PupilMM: pupilMM}, cause.Refracted)
	w := fit(t, s, everything)
	return w.Keep(3, w.Order())
}

// TestAMeasuredWholeEyeIsNeverCountedTwice: with every cause at strength 1 the
// eye has the orders 3 to 4 that were measured, no more: lens, cornea and what
// is usual are taken out of it before the rest is called unexplained.
func TestAMeasuredWholeEyeIsNeverCountedTwice(t *testing.T) {
	e := one(t, append(displaced, "wavefront: "+wavefront("whole-eye", 6))...)
	got := highOrders(t, e, e.All(), 6)
	const fits = 0.004 // µm: two lattices, and orders 5 and 6 that one of them fits as well
	for key, want := range measured {
		var n, m int
		fmt.Sscanf(key, "%d,%d", &n, &m)
		if n > 2 && math.Abs(got.At(n, m)-want) > fits {
			t.Errorf("c(%s) = %.4f µm, measured %.4f", key, got.At(n, m), want)
		}
	}
	if rms, want := got.RMSOrders(3, 4), math.Sqrt(0.21*0.21+0.14*0.14+0.08*0.08+0.11*0.11+0.05*0.05); math.Abs(rms-want) > fits {
		t.Errorf("RMS of orders 3 and 4 is %.4f µm, measured %.4f", rms, want)
	}
}

// TestWhatNothingExplainsIsWholeMinusTheRest, taken over a smaller pupil too.
func TestWhatNothingExplainsIsWholeMinusTheRest(t *testing.T) {
	e := one(t, append(displaced, "wavefront: "+wavefront("whole-eye", 6))...)
	for _, mm := range []float64{6, 4} {
		rest := highOrders(t, e, cause.Only(cause.Rest, 1), mm)
		usual := highOrders(t, e, nil, mm)
		others := highOrders(t, e, e.AllBut(cause.Rest), mm)
		all := highOrders(t, e, e.All(), mm)
		for j := range all.C {
			sum := others.C[j] + rest.C[j] - usual.C[j]
			if math.Abs(sum-all.C[j]) > 1e-6 {
				t.Errorf("%g mm, j = %d: parts add to %.5f, whole %.5f", mm, j, sum, all.C[j])
			}
		}
		if difference(rest, usual) < 0.02 {
			t.Errorf("%g mm: nothing is left unexplained, the test sees nothing", mm)
		}
	}
}

// TestAMeasuredCorneaHoldsItsOwnSphericalAberration: the usual value is not
// added to it, whether the case states it or not.
func TestAMeasuredCorneaHoldsItsOwnSphericalAberration(t *testing.T) {
	for _, stated := range []string{"", "  spherical_aberration_at_6mm_um: 0.2"} {
		e := one(t, "lens: none", "pupil_bright_mm: 5", "cornea:", stated, "  wavefront: "+wavefront("cornea", 5))
		got := highOrders(t, e, e.All(), 5)
		for key, want := range map[[2]int]float64{{4, 0}: 0.11, {3, 1}: 0.21, {3, -1}: -0.14, {3, 3}: 0.08, {4, 2}: -0.05} {
			if c := got.At(key[0], key[1]); math.Abs(c-want) > 1e-3 {
				t.Errorf("%q: c(%d,%d) = %.4f µm, measured %.4f", stated, key[0], key[1], c, want)
			}
		}
	}
}

// TestThePupilEndsWhereTheMeasurementEnds, and the panel says so; asked to, it
// goes on and says that.
func TestThePupilEndsWhereTheMeasurementEnds(t *testing.T) {
	e := one(t, "lens: natural", "pupil_bright_mm: 3", "pupil_dim_mm: 6.5", "wavefront: "+wavefront("whole-eye", 5))
	night := cause.Viewing{DistanceM: math.Inf(1), Night: true}
	s := state(t, e, e.All(), night, cause.Same)
	if s.PupilMM != 5 || !has(s.Notes, "pupil limited to the 5.0 mm that were measured") {
		t.Errorf("%g mm, says %q", s.PupilMM, s.Notes)
	}
	e.Extrapolate = true
	s = state(t, e, e.All(), night, cause.Same)
	if s.PupilMM != 6.5 || !has(s.Notes, "extrapolated beyond the 5.0 mm") {
		t.Errorf("%g mm, says %q", s.PupilMM, s.Notes)
	}
	if s = state(t, e, e.All(), far, cause.Same); s.PupilMM != 3 || len(s.Notes) != 0 {
		t.Errorf("bright: %g mm, says %q", s.PupilMM, s.Notes)
	}
}

// TestALensContinuedBeyondItsTraceSaysSo: nothing is extended in silence.
func TestALensContinuedBeyondItsTraceSaysSo(t *testing.T) {
	e := one(t, displaced...)
	s := state(t, e, cause.Only(cause.Lens, 1), cause.Viewing{DistanceM: math.Inf(1), PupilMM: 8}, cause.Refracted)
	if !has(s.Notes, "continued beyond the 6.0 mm") {
		t.Errorf("a pupil of 8 mm says %q", s.Notes)
	}
	s = state(t, e, cause.Only(cause.Lens, 1), cause.Viewing{DistanceM: math.Inf(1), PupilMM: 6}, cause.Refracted)
	if has(s.Notes, "continued") {
		t.Errorf("a pupil of 6 mm says %q", s.Notes)
	}
}

// TestTheReferenceEyeScattersAsUsualForItsAge: norms of van den Berg et al. 2007
// (natural lens) and Labuz, Reus and van den Berg 2015 (implant), at 7 degrees.
func TestTheReferenceEyeScattersAsUsualForItsAge(t *testing.T) {
	norms := [2]float64{unit.Right: 0.0044*68 + 0.89, unit.Left: 0.87 + math.Log10(1+math.Pow(68.0/65, 4))}
	for side, want := range norms {
		s := state(t, demo(t, unit.Side(side)), nil, far, cause.Refracted)
		if got := s.Glare.LogS(light.NormAtDeg); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s eye: log s %.4f, usual %.4f", unit.Side(side), got, want)
		}
	}
}

// TestScatterGrowsInSNotInItsLogarithm from the usual at 0 through the measured
// at 1 to as much again at 2.
func TestScatterGrowsInSNotInItsLogarithm(t *testing.T) {
	e := demo(t, unit.Right)
	s := func(k float64) float64 {
		return math.Pow(10, state(t, e, cause.Only(cause.Scatter, k), far, cause.Refracted).Glare.LogS(light.NormAtDeg))
	}
	if got, want := math.Log10(s(1)), e.Data.Straylight.LogS.V; math.Abs(got-want) > 1e-9 {
		t.Errorf("log s at strength 1 is %.4f, measured %.4f", got, want)
	}
	if got, want := s(2)-s(1), s(1)-s(0); math.Abs(got/want-1) > 1e-6 {
		t.Errorf("the second step adds %.3f to s, the first %.3f", got, want)
	}
}

// TestScatterBelowTheUsualIsNoCause, but the eye keeps what was measured.
func TestScatterBelowTheUsualIsNoCause(t *testing.T) {
	e := one(t, "lens: natural", "pupil_bright_mm: 3", "straylight: {log_s: 0.9, scattered_by: lens}")
	if _, ok := e.Cause(cause.Scatter); ok {
		t.Error("is called a cause")
	}
	if got := state(t, e, nil, far, cause.Refracted).Glare.LogS(light.NormAtDeg); math.Abs(got-0.9) > 1e-9 {
		t.Errorf("log s %.3f, measured 0.9", got)
	}
	if !has(e.Notes, "no more than usual") {
		t.Errorf("does not say so: %q", e.Notes)
	}
}
