package cause

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

var pupilKinds = []*kind{
	{
		id: "pinhole", label: "Through a pinhole", at: holePlane,
		keys: []key{
			{name: "diameter_mm", usual: PinholeMM, low: 0.5, high: 4},
			{name: "decentration_mm", low: 0, high: 4},
			{name: "direction_deg", low: -360, high: 360},
		},
		apply: pinhole,
	},
	{
		id: "pupil-small", label: "Pupil made small", at: pupilPlane,
		assumes: "2 mm unless given, as after drops (assumed)",
		keys:    []key{{name: "diameter_mm", usual: 2, low: 1, high: 9}},
		apply: func(t *tryout, o map[string]float64) error {
			if d := o["diameter_mm"]; d < t.s.PupilMM {
				t.widen(d, 1)
			}
			return nil
		},
	},
	{
		id: "pupil-large", label: "Pupil made large", at: pupilPlane,
		assumes: "7 mm unless given, as after drops (assumed), never beyond what was measured",
		keys:    []key{{name: "diameter_mm", usual: 7, low: 1, high: 9}},
		apply: func(t *tryout, o map[string]float64) error {
			if d := o["diameter_mm"]; d > t.s.PupilMM {
				t.s, d = t.e.limited(t.s, d)
				t.widen(d, 1)
			}
			return nil
		},
	},
	{
		id: "more-light", label: "More light", at: pupilPlane,
		assumes: "the pupil follows Watson and Yellott 2012; what more light does for the nerve is not drawn",
		keys:    []key{{name: "times", usual: 4, low: 1, high: 1000}},
		apply:   moreLight,
	},
}

// pinhole keeps the glasses and looks through a small hole, which samples the
// wavefront where it stands. It costs light in the ratio of the areas,
//
//	light = (d / D)²
func pinhole(t *tryout, o map[string]float64) error {
	d, off := o["diameter_mm"], o["decentration_mm"]
	if off > 0 && off+d/2 > t.s.PupilMM/2 {
		return fmt.Errorf("a hole of %.1f mm that stands %.1f mm off is not within the pupil of %.1f mm; hint: make decentration_mm smaller", d, off, t.s.PupilMM)
	}
	t.s.PupilAt = unit.PupilPoint{}
	if t.s.PupilMM <= d {
		return nil
	}
	share := d / t.s.PupilMM * (d / t.s.PupilMM)
	t.gain *= share
	t.keepTrolands(1)
	t.s.Light, t.s.PupilMM = t.s.Light*share, d
	sin, cos := math.Sincos(o["direction_deg"] * math.Pi / 180)
	t.s.PupilAt = unit.PupilPoint{X: unit.MM(off * cos), Y: unit.MM(off * sin)}
	t.s.Condition += fmt.Sprintf(", pinhole %.1f mm", d)
	if off > 0 {
		t.s.Condition += fmt.Sprintf(" standing %.1f mm off towards %.0f degrees", off, o["direction_deg"])
	}
	t.s = t.s.Note(fmt.Sprintf("the pinhole lets in %.0f %% of the light", 100*share))
	return nil
}

// widen sets another pupil, in times the light of the scene; the glasses stay.
// Light at the retina changes by
//
//	times (d / D)²
//
// A loss is drawn; a gain is not, as the eye adapts to it and the exposure of
// the sheet does not.
func (t *tryout) widen(d, times float64) {
	share := times * (d / t.s.PupilMM) * (d / t.s.PupilMM)
	t.gain *= share
	t.keepTrolands(max(1, share))
	t.s.Light *= min(1, share)
	t.s.PupilMM = d
	t.s.Condition += fmt.Sprintf(", made %.1f mm", d)
	if share > 1 {
		t.s = t.s.Note(fmt.Sprintf("%.1f times the light reaches the retina; drawn as adapted to it", share))
	} else {
		t.s = t.s.Note(fmt.Sprintf("%.0f %% of the light reaches the retina", 100*share))
	}
}

// keepTrolands remembers, before the pupil changes, what the drawn light stands
// for on the retina; more is the light that is not drawn.
func (t *tryout) keepTrolands(more float64) {
	if t.s.TdPerCdM2 == 0 {
		t.s.TdPerCdM2 = math.Pi / 4 * t.s.PupilMM * t.s.PupilMM
	}
	t.s.TdPerCdM2 *= more
}

// moreLight multiplies the light of the scene. The pupil D follows the unified
// formula p, scaled to this eye's:
//
//	D' = D p(times L) / p(L)
func moreLight(t *tryout, o map[string]float64) error {
	l := float64(brightCdM2)
	if t.v.Night {
		l = dimCdM2
	}
	times := o["times"]
	ratio := t.e.usualPupilMM(times*l) / t.e.usualPupilMM(l)
	t.widen(t.s.PupilMM*ratio, times)
	t.s.Condition += fmt.Sprintf(" by %g times the light", times)
	return nil
}
