package casefile

import (
	"math"
	"strconv"
	"strings"

	"simview/internal/unit"
)

// acuity checks one acuity and brings it to logMAR.
func (d *decoder) acuity(a *Acuity, path string) {
	given := 0
	for _, g := range []bool{a.LogMAR.Given(), a.Decimal.Given(), a.Snellen.Given()} {
		if g {
			given++
		}
	}
	switch {
	case given == 0 && !d.failed(path+".logmar") && !d.failed(path+".decimal") && !d.failed(path+".snellen"):
		d.add(path, "has no acuity", "", "write one of logmar, decimal or snellen")
	case given > 1:
		d.add(path, "gives one acuity in more than one notation", "", "keep one of logmar, decimal and snellen")
	case a.Decimal.Given():
		a.LogMAR = converted(a.Decimal, logMAR(a.Decimal.V), "decimal "+num(a.Decimal.V))
	case a.Snellen.Given():
		decimal, ok := snellen(a.Snellen.V)
		if !ok {
			d.add(path+".snellen", "must be a fraction such as 20/40 or 6/12", quoted(a.Snellen.V), "hand movements and counting fingers have no logMAR: leave them to the complaint")
			return
		}
		a.LogMAR = converted(a.Snellen, logMAR(decimal), a.Snellen.V)
	}
}

// logMAR returns the acuity in logMAR of a decimal acuity.
//
//	logMAR = -log10(decimal)
func logMAR(decimal float64) float64 {
	if decimal == 1 {
		return 0 // not -0
	}
	return -math.Log10(decimal)
}

// snellen returns the decimal acuity of a fraction.
//
//	20/40 = 0.5
func snellen(s string) (decimal float64, ok bool) {
	top, bottom, found := strings.Cut(s, "/")
	a, errA := strconv.ParseFloat(strings.TrimSpace(top), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(bottom), 64)
	if !found || errA != nil || errB != nil || !(a > 0) || !(b > 0) {
		return 0, false
	}
	r := spans["decimal"]
	return a / b, r.lo <= a/b && a/b <= r.hi
}

// converted carries provenance and noise (already in logMAR) over to a value in
// logMAR, naming what was written.
func converted[T any](v unit.Value[T], x float64, written string) unit.Value[float64] {
	source := "from " + written
	if v.Source != "" {
		source += ", " + v.Source
	}
	return unit.Value[float64]{V: x, SD: v.SD, From: v.From, Source: source, File: v.File, Line: v.Line}
}

// num writes a number for reading, at most four figures.
func num[T ~float64](x T) string { return strconv.FormatFloat(float64(x), 'g', 4, 64) }

// zone resolves where the irregular zone of the surface lies.
func (d *decoder) zone(e *Eye, s *Surface, path string) {
	if s.ZoneDirection == "" {
		s.ZoneCentre = unit.PupilPoint{X: s.ZoneXMM.V, Y: s.ZoneYMM.V}
		return
	}
	a, ok := directionWords(e.Side, s.ZoneDirection)
	if !ok {
		d.add(path+".zone_direction", "must be "+directionList, quoted(s.ZoneDirection), "out is towards the temple, in towards the nose; or write zone_x_mm and zone_y_mm")
		return
	}
	s.ZoneCentre = polar(s.ZoneDistanceMM.V, a)
}

// NamedCheck is one check with its key in the file and its name on a sheet.
type NamedCheck struct {
	Key, Name string
	Check     Check
}

// Named returns the six checks in the order of a sheet.
func (k Checks) Named() []NamedCheck {
	return []NamedCheck{
		{"pinhole", "pinhole", k.Pinhole},
		{"other_eye_covered", "other eye covered", k.OtherEyeCovered},
		{"pupil_reaction", "pupil reaction", k.PupilReaction},
		{"macula_seen", "macula seen", k.MaculaSeen},
		{"capsule_seen", "capsule seen", k.CapsuleSeen},
		{"field_age", "age of the field", k.FieldAge},
	}
}
