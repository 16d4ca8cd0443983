package casefile

import (
	"fmt"
	"sort"
	"strconv"
	"strings"

	"simview/internal/cornea"
	"simview/internal/zernike"
)

// wavefront checks a set of Zernike coefficients and resolves it into terms.
func (d *decoder) wavefront(w *Wavefront, path, of string) {
	if w == nil {
		return
	}
	if w.Of != of && !d.failed(path+".of") {
		d.add(path+".of", "must be "+of+" here", quoted(w.Of), "the whole eye's goes under wavefront of the eye, the cornea's under cornea: wavefront")
	}
	if !d.failed(path) {
		d.terms(w, path+".terms_um")
	}
}

// terms resolves the terms as written into OSA order.
func (d *decoder) terms(w *Wavefront, path string) {
	w.Terms = zernike.Terms{RadiusMM: float64(w.PupilMM.V) / 2, WavelengthNM: float64(w.WavelengthNM.V)}
	keys := make([]string, 0, len(w.TermsUM))
	for k := range w.TermsUM {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(a, b int) bool { return w.TermsUM[keys[a]].Line < w.TermsUM[keys[b]].Line })
	from := map[int]string{}
	for _, k := range keys {
		v := w.TermsUM[k]
		j, scale, hint := osaIndex(w.Scheme, k)
		switch twin, twice := from[j]; {
		case hint != "":
			d.add(join(path, k), "is not a term of the scheme "+w.Scheme, quoted(k), hint)
			continue
		case twice:
			d.add(join(path, k), "is the same term as "+quoted(twin), "", "keep one of them")
			continue
		}
		from[j] = k
		n, m := zernike.NM(j)
		w.Terms = w.Terms.With(n, m, float64(v.V)*scale)
		w.SDUM = append(w.SDUM, make([]float64, len(w.Terms.C)-len(w.SDUM))...)
		w.SDUM[j] = v.SD * scale
	}
}

// osaIndex returns the OSA index of a term as written and the factor that makes
// its coefficient orthonormal; a hint when there is no such term.
func osaIndex(scheme, key string) (j int, scale float64, hint string) {
	if scheme == "osa-nm" {
		a, b, ok := strings.Cut(key, ",")
		n, errN := strconv.Atoi(strings.TrimSpace(a))
		m, errM := strconv.Atoi(strings.TrimSpace(b))
		if !ok || errN != nil || errM != nil {
			return 0, 0, `write order and frequency in quotes, as in "3,-1"`
		}
		if zernike.CheckNM(n, m) != nil || n > maxOrder {
			return 0, 0, fmt.Sprintf("n runs from 0 to %d, m from -n to n in steps of 2", maxOrder)
		}
		return zernike.Index(n, m), 1, ""
	}
	i, err := strconv.Atoi(key)
	if err != nil {
		return 0, 0, `write a whole number, or name the scheme osa-nm for terms such as "3,-1"`
	}
	j, scale, err = zernike.FromScheme(scheme, i, 1)
	if err != nil {
		return 0, 0, schemeHint[scheme]
	}
	return j, scale, ""
}

// maxOrder is the highest radial order of a term in a file.
const maxOrder = 100

// schemeHint says which indices a scheme has.
var schemeHint = map[string]string{
	"osa":    "OSA indices run from 0 (piston) to 5150",
	"noll":   "Noll indices run from 1 (piston) to 5151",
	"fringe": "Fringe indices run from 1 (piston) to 37",
}

// implant checks where the lens sits and resolves direction words.
func (d *decoder) implant(e *Eye, path string) {
	m := e.Implant
	if m == nil {
		return
	}
	if e.Lens != "implant" && !d.failed(strings.TrimSuffix(path, ".implant")+".lens") {
		d.add(path, "needs lens: implant", "lens: "+e.Lens, "correct lens, or leave implant out")
	}
	d.direction(e.Side, m.Direction, &m.DirectionDeg, m.DecentrationMM, path+".direction")
	if m.TiltDeg.V > 0 {
		needValue(d, m.TiltAxisDeg, path+".tilt_axis_deg", "write the line it is turned about: 0 brings the upper edge forward, 90 the edge on the clinician's left")
	}
	d.toric(m, path)
}

// cornea checks the front of the eye and resolves where its zone lies.
func (d *decoder) cornea(e *Eye, path string) {
	k := e.Cornea
	if k == nil {
		return
	}
	d.wavefront(k.Wavefront, path+".wavefront", "cornea")
	if k.Wavefront != nil && k.Surface != nil {
		d.add(path+".surface", "stands beside the cornea's wavefront", "", "keep the measured one")
	}
	if k.Map != nil {
		if k.Wavefront != nil || k.Surface != nil {
			d.add(path+".map", "stands beside the cornea's wavefront or surface", "", "keep one of them")
		}
		d.cornealMap(k.Map, path+".map")
	}
	if k.Surface != nil {
		d.surface(e, k.Surface, path+".surface")
	}
	d.back(e, path+".back")
}

// surface checks a seeded map.
func (d *decoder) surface(e *Eye, s *Surface, path string) {
	xy := s.ZoneXMM.Given() || s.ZoneYMM.Given()
	switch {
	case s.ZoneDirection == "" && xy:
		needValue(d, s.ZoneXMM, path+".zone_x_mm", "write it beside zone_y_mm")
		needValue(d, s.ZoneYMM, path+".zone_y_mm", "write it beside zone_x_mm")
	case s.ZoneDirection == "":
		d.need(!s.ZoneDistanceMM.Given() || d.failed(path+".zone_direction"), path+".zone_direction", "write in words which way the zone lies, as in in")
	case xy:
		d.add(path+".zone_direction", "stands beside zone_x_mm or zone_y_mm", quoted(s.ZoneDirection), "keep one of the two")
	default:
		needValue(d, s.ZoneDistanceMM, path+".zone_distance_mm", "write how far the middle of the zone is from the centre of the pupil")
	}
	d.zone(e, s, path)
	d.grain(s, path)
	d.reaches(e, s, path)
}

// grain checks that the grain fits its zone; the map could not be drawn.
func (d *decoder) grain(s *Surface, path string) {
	q := cornea.Irregularity{
		Kind: cornea.Kind(s.Kind), RMSUM: float64(s.RMSUM.V), GrainMM: float64(s.GrainMM.V),
		ZoneRadiusMM: float64(s.ZoneRadiusMM.V), Seed: s.Seed,
	}
	if !d.failed(path) && q.Check() != nil {
		d.add(path+".grain_mm", fmt.Sprintf("must lie between %s and %s for this zone", num(q.ZoneRadiusMM/40), num(q.ZoneRadiusMM)),
			num(q.GrainMM), "at most the radius of the zone and at least a fortieth of it")
	}
}
