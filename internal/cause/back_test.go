//go:build !race

package cause_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/unit"
)

func at(p eye.Plane) func(eye.Part) bool { return func(q eye.Part) bool { return q.Plane == p } }

// Of the exact c(4,0) at 6 mm of these conics (computed by a separate program,
// stated to 5e-4 µm); the state is read by a fit over a mesh, good to 1e-4.
func TestTheReferenceCorneaHasTheAberrationOfItsRadiiAndAsphericity(t *testing.T) {
	const tol = 6e-4
	for _, k := range []struct{ r, q, c40 float64 }{{7.8, -.26, .1790}, {7.8, 0, .3648}, {7.77, -.18, .2378}} {
		e := one(t, "lens: none", "pupil_bright_mm: 3", "pupil_dim_mm: 6",
			fmt.Sprintf("biometry: {corneal_radius_flat_mm: %g, corneal_radius_steep_mm: %g, corneal_asphericity_q: %g}", k.r, k.r, k.q))
		w := fit(t, state(t, e, nil, dim, cause.Refracted), at(eye.FrontCornea))
		if math.Abs(w.At(4, 0)-k.c40) > tol {
			t.Errorf("R %g, Q %g: c40 %.4f µm, want %.4f", k.r, k.q, w.At(4, 0), k.c40)
		}
		if want := fmt.Sprintf("of a conic of radius %.2f mm and Q %+.2f (measured: corneal radii and asphericity)", k.r, k.q); !has(e.Notes, want) {
			t.Errorf("does not say %q: %q", want, e.Notes)
		}
	}
}

func TestAStatedAberrationStandsBeforeRadiiAndAMap(t *testing.T) {
	e := one(t, "lens: none", "pupil_bright_mm: 3", "pupil_dim_mm: 6", "cornea: {spherical_aberration_at_6mm_um: 0.2}",
		"biometry: {corneal_radius_flat_mm: 7.8, corneal_radius_steep_mm: 7.8, corneal_asphericity_q: 0}")
	if w := fit(t, state(t, e, nil, dim, cause.Refracted), at(eye.FrontCornea)); math.Abs(w.At(4, 0)-.2) > 1e-6 {
		t.Errorf("c40 %.4f µm", w.At(4, 0))
	}
}

// The map of the conic 7.8 mm, Q -0.26 has nothing that its conic has not: the
// reference takes its 0.1790 µm and the irregular cornea is left with c(6,0) alone,
// which is below 0.005 µm at 6 mm and no part of the reference.
func TestAMapOfARegularCorneaIsTheReferenceItself(t *testing.T) {
	e := mapCase(t, "", "")
	w := fit(t, state(t, e, nil, dim, cause.Refracted), at(eye.FrontCornea))
	if math.Abs(w.At(4, 0)-.1790) > .001 || !has(e.Notes, "best-fit conic of the map") {
		t.Errorf("c40 %.4f µm; %q", w.At(4, 0), e.Notes)
	}
	if w = fit(t, state(t, e, cause.Only(cause.Cornea, 1), dim, cause.Refracted), by("cornea")); w.With(6, 0, 0).RMSOrders(3, 6) > .001 || math.Abs(w.At(6, 0)) > .005 {
		t.Errorf("the irregular cornea has %.4f µm RMS, c60 %.4f", w.RMSOrders(3, 6), w.At(6, 0))
	}
}

func TestABiometryThatNoCorneaHasIsRefused(t *testing.T) {
	c := parse(t, "  right: {lens: none, pupil_bright_mm: 3, biometry: {corneal_radius_flat_mm: 5, corneal_radius_steep_mm: 5, corneal_asphericity_q: 2.9}}\n")
	_, err := cause.Resolve(c, unit.Right)
	if want := ": eyes.right.biometry.corneal_asphericity_q: a cornea of radius 5.00 mm with this value does not reach across a pupil of 6 mm (got +2.90); hint: check it and the corneal radii"; err == nil || !strings.HasSuffix(err.Error(), want) {
		t.Errorf("got %v", err)
	}
}

// A pupil 0.25 mm off over c(4,0) = 0.40 µm sees c(3,1) = 0.21 µm (Arba-Mosquera,
// Verma and Awwad 2020; exactly 0.2108). Towards the nose is +x in a right eye and
// -x in a left one. Second order is left to the refraction.
func TestADecentredPupilSeesComaInTheReferenceEye(t *testing.T) {
	for side, want := range map[string]float64{"right": .210818511, "left": -.210818511} {
		c := parse(t, "  "+side+": {lens: none, pupil_bright_mm: 3, pupil_dim_mm: 6, pupil_decentration_mm: 0.25, pupil_direction: in, cornea: {spherical_aberration_at_6mm_um: 0.4}}\n")
		s, err := unit.ParseSide(side)
		if err != nil {
			t.Fatal(err)
		}
		w := fit(t, state(t, resolve(t, c, s), nil, dim, cause.Refracted), at(eye.FrontCornea))
		if math.Abs(w.At(3, 1)-want) > 1e-6 || math.Abs(w.At(4, 0)-.4) > 1e-6 || w.RMSOrders(1, 2) > 1e-6 {
			t.Errorf("%s eye: c31 %.6f, c40 %.6f, orders 1 and 2 %.2g µm", side, w.At(3, 1), w.At(4, 0), w.RMSOrders(1, 2))
		}
	}
}

// A whole-eye measurement holds the coma of a decentred pupil too.
func TestADecentredPupilIsNotCountedTwice(t *testing.T) {
	e := one(t, append(displaced, "pupil_decentration_mm: 0.4", "pupil_direction: up-and-in", "tears: {breakup_s: 6, rms_um: 0.4, grain_mm: 1}", "wavefront: "+wavefront("whole-eye", 6))...)
	got := highOrders(t, e, e.All(), 6)
	for key, want := range map[[2]int]float64{{3, 1}: 0.21, {3, -1}: -0.14, {3, 3}: 0.08, {4, 0}: 0.11, {4, 2}: -0.05} {
		if c := got.At(key[0], key[1]); math.Abs(c-want) > 0.004 {
			t.Errorf("c(%d,%d) = %.4f µm, measured %.4f", key[0], key[1], c, want)
		}
	}
}

const frontTerms = "wavefront: {scheme: osa, of: cornea, pupil_mm: 6, wavelength_nm: 555, terms_um: {7: -1.2, 8: 0.3, 9: 0.2, 12: 0.28}}"

// In keratoconus the back takes back 14 to 24 % of the coma of the front
// (PMC4870836): with 20 % the whole cornea has 0.8 times the coma, and what lies
// behind the front alone, as under a rigid lens, has -0.2 times.
func TestTheBackTakesBackItsShareOfTheFront(t *testing.T) {
	e := one(t, "lens: none", "pupil_bright_mm: 3", "pupil_dim_mm: 6", "cornea:", "  "+frontTerms, "  back: {compensates_percent: 20}")
	s := state(t, e, cause.Only(cause.Cornea, 1), dim, cause.Refracted)
	front, back := fit(t, s, at(eye.FrontCornea)), fit(t, s, at(eye.BackCornea))
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %.6f µm, want %.6f", what, got, want)
		}
	}
	near("front", front.At(3, -1), -1.2)
	near("back", back.At(3, -1), .24)
	near("back, other coma", back.At(3, 1), -.06)
	near("usual spherical aberration is the front's", back.At(4, 0), 0)
	k, _ := e.Cause(cause.Cornea)
	if !strings.HasSuffix(k.Amount, "; its back takes back 20 % of that") {
		t.Error(k.Amount)
	}
	half := fit(t, state(t, e, cause.Only(cause.Cornea, .5), dim, cause.Refracted), at(eye.BackCornea))
	near("half", half.At(3, -1), .12)
}

// The same bump on the back advances by 0.040 µm for each µm instead of delaying
// by 0.376 (indices from memory).
func TestASurfaceOnTheBackActsTheOtherWayAndLess(t *testing.T) {
	const bumps = "surface: {kind: dots, rms_um: 2, grain_mm: 0.6, zone_radius_mm: 2, seed: 5}"
	part := func(cornea string, p eye.Plane) eye.Part {
		e := one(t, "lens: none", "pupil_bright_mm: 3", cornea)
		for _, q := range state(t, e, cause.Only(cause.Cornea, 1), far, cause.Refracted).Parts {
			if q.By == "cornea" && q.Plane == p {
				return q
			}
		}
		t.Fatalf("%s: has no part at the %s", cornea, p)
		return eye.Part{}
	}
	front, back := part("cornea: {"+bumps+"}", eye.FrontCornea), part("cornea: {back: {"+bumps+"}}", eye.BackCornea)
	epithelium := part("cornea: {"+strings.Replace(bumps, "kind: dots", "kind: dots, made_of: epithelium", 1)+"}", eye.FrontCornea)
	for i := range 20 {
		x, y := 1.3*math.Sin(float64(i)), 1.1*math.Cos(2*float64(i))
		if w := front.PathUM(x, y); math.Abs(back.PathUM(x, y)+w*.040/.376) > 1e-12 || math.Abs(epithelium.PathUM(x, y)-w*.401/.376) > 1e-12 {
			t.Errorf("front %.4f, back %.4f, epithelium %.4f µm", w, back.PathUM(x, y), epithelium.PathUM(x, y))
		}
	}
}

// A map of a back surface with a hill of the shape of coma, 1 µm x r² mm: what a
// front would have of it times -0.040/0.376. c(3,1) of height of k x r² is
// k a³ / (3 √8).
func TestAMapOfTheBackAddsWhatItsConicLeaves(t *testing.T) {
	e := mapCase(t, "", "back")
	w := fit(t, state(t, e, cause.Only(cause.Cornea, 1), dim, cause.Refracted), at(eye.BackCornea))
	if want := .040 * 1 * 27 / (3 * math.Sqrt(8)); math.Abs(w.At(3, 1)-want) > .002 {
		t.Errorf("c31 %.4f µm, want %.4f", w.At(3, 1), want)
	}
	s := state(t, e, nil, cause.Viewing{DistanceM: math.Inf(1), PupilMM: 8}, cause.Refracted)
	if !has(s.Notes, "limited to the 7.4 mm") {
		t.Errorf("says %q", s.Notes)
	}
}

func TestAFrontWithoutABackSaysSo(t *testing.T) {
	if e := one(t, "lens: none", "pupil_bright_mm: 3", "cornea: {"+frontTerms+"}"); !has(e.Notes, "back of the cornea: not given") {
		t.Errorf("says %q", e.Notes)
	}
}

func TestTheTearFilmIsLeftOutUnlessATimeSinceTheBlinkIsAskedFor(t *testing.T) {
	e := one(t, "lens: none", "pupil_bright_mm: 3", "tears: {breakup_s: 6, rms_um: 0.4, grain_mm: 0.8, seed: 2}")
	if w := fit(t, state(t, e, e.All(), far, cause.Same), at(eye.Tears)); w.RMS() != 0 {
		t.Errorf("%.4f µm of tears without a time", w.RMS())
	}
	if len(e.Causes) != 0 {
		t.Errorf("tears are a cause: %v", e.Causes)
	}
	v := far
	v.SinceBlinkS = 12
	s := state(t, e, e.All(), v, cause.Same)
	rms := pathRMS(s.Without(func(p eye.Part) bool { return p.Plane != eye.Tears }))
	// Stated over 8 mm; a pupil of 3 mm holds 11 grains and may have half or
	// one and a half of it.
	if want := .336 * 2 * .4; rms < want/2 || rms > 1.5*want {
		t.Errorf("%.3f µm RMS of path, %.3f over 8 mm", rms, want)
	}
	if !strings.HasSuffix(s.Condition, ", 12 s after a blink") || !has(s.Notes, "tear film uneven by 0.80 µm RMS 12 s after a blink; its course is assumed") {
		t.Errorf("says %q, %q", s.Condition, s.Notes)
	}
}

// pathRMS is the root mean square path over the pupil, about its mean.
func pathRMS(s eye.State) float64 {
	var sum, square, n float64
	r := s.PupilMM / 2
	for k := range 60 * 60 {
		x, y := (float64(k%60)/29.5-1)*r, (float64(k/60)/29.5-1)*r
		if x*x+y*y <= r*r {
			w := s.PathUM(x, y)
			sum, square, n = sum+w, square+w*w, n+1
		}
	}
	return math.Sqrt(square/n - sum*sum/n/n)
}

func TestAnImpossibleTimeSinceTheBlinkIsRefused(t *testing.T) {
	with := one(t, "lens: none", "pupil_bright_mm: 3", "tears: {breakup_s: 6, rms_um: 0.4, grain_mm: 0.8}")
	without := one(t, "lens: none", "pupil_bright_mm: 3")
	for _, k := range []struct {
		e    *cause.Eye
		s    float64
		want string
	}{
		{with, -1, "seconds since the blink: must be 0 to 120 (got -1); 0 leaves the tear film even"},
		{with, math.NaN(), "seconds since the blink: must be 0 to 120 (got NaN); 0 leaves the tear film even"},
		{without, 2, "seconds since the blink: the case does not describe the tear film of the right eye; hint: write eyes.right.tears"},
	} {
		if _, err := k.e.State(nil, cause.Viewing{DistanceM: math.Inf(1), SinceBlinkS: k.s}, cause.Refracted); err == nil || err.Error() != k.want {
			t.Errorf("got %v\nwant %s", err, k.want)
		}
	}
}

// Under a rigid lens (n - 1.336)/(n - 1) of the front is left: 0.10638 of a cornea of
// 1.376, 0.16209 of an epithelium of 1.401 (arithmetic on textbook indices); the
// back stays whole, and a dried film goes.
func TestARigidLensUncoversTheBackAndHidesTheFilm(t *testing.T) {
	e := one(t, "lens: none", "pupil_bright_mm: 3", "pupil_dim_mm: 6", "tears: {breakup_s: 6, rms_um: 0.4, grain_mm: 0.8}", "cornea:", "  "+frontTerms, "  back: {compensates_percent: 20}")
	v := dim
	v.SinceBlinkS = 10
	s := try(t, "rigid-lens", e, v)
	front, back, film := fit(t, s, at(eye.FrontCornea)), fit(t, s, at(eye.BackCornea)), fit(t, s, at(eye.Tears))
	if math.Abs(front.At(3, -1)+1.2*.10638) > 1e-4 || math.Abs(back.At(3, -1)-.24) > 1e-6 || film.RMS() != 0 {
		t.Errorf("front %.5f, back %.5f, film %.5f µm", front.At(3, -1), back.At(3, -1), film.RMS())
	}
	e = one(t, "lens: none", "pupil_bright_mm: 3", "cornea: {surface: {kind: dots, made_of: epithelium, rms_um: 2, grain_mm: 0.6, zone_radius_mm: 2, seed: 5}}")
	bare, worn := state(t, e, e.All(), far, cause.Same), try(t, "rigid-lens", e, far)
	drop := func(p eye.Part) bool { return p.By != "cornea" }
	if share := pathRMS(worn.Without(drop)) / pathRMS(bare.Without(drop)); math.Abs(share-.16209) > 1e-4 {
		t.Errorf("%.5f of the epithelium is left", share)
	}
	if !has(worn.Notes, "leaves 10.6 % of the front of the cornea, 16.2 % of its uneven epithelium") {
		t.Errorf("says %q", worn.Notes)
	}
}

// With a back surface too, the whole eye at strength 1 is what was measured.
func TestABackSurfaceIsInTheWholeEyeAlready(t *testing.T) {
	e := one(t, "lens: natural", "pupil_bright_mm: 3", "pupil_dim_mm: 6", "cornea:", "  "+frontTerms, "  back: {compensates_percent: 20}", "wavefront: "+wavefront("whole-eye", 6))
	got := highOrders(t, e, e.All(), 6)
	for key, want := range map[[2]int]float64{{3, 1}: 0.21, {3, -1}: -0.14, {3, 3}: 0.08, {4, 0}: 0.11, {4, 2}: -0.05} {
		if c := got.At(key[0], key[1]); math.Abs(c-want) > 0.004 {
			t.Errorf("c(%d,%d) = %.4f µm, measured %.4f", key[0], key[1], c, want)
		}
	}
}

// A zone beside the pupil of the day and inside that of the night does nothing by
// day.
func TestAPeripheralZoneIsSeenByNightOnly(t *testing.T) {
	for _, kind := range []string{"grain", "ridges", "dots", "fingerprint"} {
		e := one(t, "lens: none", "pupil_bright_mm: 3", "pupil_dim_mm: 6.5",
			"cornea: {surface: {kind: "+kind+", rms_um: 2, grain_mm: 0.3, zone_direction: up, zone_distance_mm: 2.8, zone_radius_mm: 1.2}}")
		drop := func(p eye.Part) bool { return p.By != "cornea" }
		day := pathRMS(state(t, e, e.All(), far, cause.Same).Without(drop))
		night := pathRMS(state(t, e, e.All(), cause.Viewing{DistanceM: math.Inf(1), Night: true}, cause.Same).Without(drop))
		if day != 0 || night < 0.05 {
			t.Errorf("%s: %.3f µm by day, %.3f by night", kind, day, night)
		}
	}
}

// TestTheBackOfAGeneratedFrontIsNoMeasurement: a measured share of a surface that was
// made up is made up too.
func TestTheBackOfAGeneratedFrontIsNoMeasurement(t *testing.T) {
	e := one(t, "lens: implant", "pupil_bright_mm: 4",
		"cornea: {surface: {kind: grain, rms_um: 1, grain_mm: 0.5, zone_radius_mm: 1.5, seed: 3}, back: {compensates_percent: 20}}")
	s := state(t, e, cause.Only(cause.Cornea, 1), far, cause.Refracted)
	for _, p := range s.Parts {
		if p.Plane == eye.BackCornea && p.From != eye.Generated {
			t.Errorf("the back is %v", p.From)
		}
	}
}
