package casefile

import (
	"fmt"
	"math"

	"simview/internal/cornea"
	"simview/internal/unit"
)

// CorneaBack describes the back surface of the cornea by one of its keys.
type CorneaBack struct {
	// CompensatesPercent is how much of the front's irregular wavefront the
	// back takes back.
	CompensatesPercent unit.Value[float64] `yaml:"compensates_percent"`
	Wavefront          *Wavefront          `yaml:"wavefront"` // its terms, of: cornea-back
	Map                *CornealMap         `yaml:"map"`       // or a measured map of it, of: height
	Surface            *Surface            `yaml:"surface"`   // or a seeded map
}

// Tears says how the tear film changes after a blink.
type Tears struct {
	BreakupS unit.Value[float64] `yaml:"breakup_s" need:"write the seconds from a blink until the film breaks up, often 10; below 5 is short"`
	RMSUM    unit.Value[unit.UM] `yaml:"rms_um" need:"write how uneven the film is when it breaks up, root mean square height over 8 mm"`
	GrainMM  unit.Value[unit.MM] `yaml:"grain_mm" need:"write the distance from one thin place to the next, often 0.5 to 2"`
	Seed     uint64              `yaml:"seed"`
}

// Film returns the film for package cornea.
func (t *Tears) Film() cornea.Film {
	return cornea.Film{RMSUM: float64(t.RMSUM.V), GrainMM: float64(t.GrainMM.V), BreakupS: t.BreakupS.V, Seed: t.Seed}
}

// Files lists the files that the case names for this eye, fields first.
func (e *Eye) Files() (names []string) {
	for _, f := range e.Fields {
		if f.CSV != "" {
			names = append(names, f.CSV)
		}
	}
	if k := e.Cornea; k != nil {
		if k.Map != nil {
			names = append(names, k.Map.CSV)
		}
		if k.Back != nil && k.Back.Map != nil {
			names = append(names, k.Back.Map.CSV)
		}
	}
	return names
}

// back checks the back surface.
func (d *decoder) back(e *Eye, path string) {
	b := e.Cornea.Back
	if b == nil || d.failed(path) {
		return
	}
	given := 0
	for _, g := range []bool{b.CompensatesPercent.Given(), b.Wavefront != nil, b.Map != nil, b.Surface != nil} {
		if g {
			given++
		}
	}
	if given != 1 {
		d.add(path, fmt.Sprintf("must have one of compensates_percent, wavefront, map and surface, not %d", given), "", "keep the one that was measured, or leave back out")
		return
	}
	front := e.Cornea.Wavefront != nil || e.Cornea.Map != nil || e.Cornea.Surface != nil
	if b.CompensatesPercent.Given() && !front {
		d.add(path+".compensates_percent", "has no irregular front to compensate", num(b.CompensatesPercent.V), "write the cornea's wavefront, map or surface too")
	}
	d.wavefront(b.Wavefront, path+".wavefront", "cornea-back")
	if b.Map != nil && b.Map.Of == "curvature" {
		d.add(path+".map.of", "must be height for the back surface", quoted(b.Map.Of), "export heights; what keratometers call dioptres is the front's")
	} else if b.Map != nil {
		d.cornealMap(b.Map, path+".map")
	}
	if s := b.Surface; s != nil {
		if s.MadeOf == "epithelium" || s.MadeOf == "tears" {
			d.add(path+".surface.made_of", "must be cornea, or be left out, for the back surface", quoted(s.MadeOf), "epithelium and tears lie in front")
		}
		d.surface(e, s, path+".surface")
	}
}

// reaches notices a zone that lies outside the widest pupil, where it changes
// nothing.
func (d *decoder) reaches(e *Eye, s *Surface, path string) {
	pupil := max(e.PupilDimMM.V, e.PupilBrightMM.V)
	clear := unit.MM(math.Hypot(float64(s.ZoneCentre.X), float64(s.ZoneCentre.Y))) - s.ZoneRadiusMM.V
	if d.failed(path) || pupil == 0 || clear < pupil/2 {
		return
	}
	d.notices = append(d.notices, Notice{
		File: d.file, Line: d.lineOf(path), Key: path,
		What: fmt.Sprintf("lies wholly outside the widest pupil of the case, %s mm: it changes nothing", num(pupil)),
		Hint: "correct where the zone lies, in mm from the centre of the pupil, or the pupil",
	})
}

// tears checks the tear film.
func (d *decoder) tears(t *Tears, path string) {
	if t == nil || d.failed(path) {
		return
	}
	const thickest = 2
	if t.RMSUM.V > thickest {
		d.add(path+".rms_um", "must lie between 0 and 2 micrometres for a tear film", num(t.RMSUM.V), "the film itself is some 3 µm thick; an uneven cornea goes under cornea: surface")
	} else if t.Film().Check() != nil {
		d.add(path+".grain_mm", "must lie between 0.15 and 4 millimetres for a tear film", num(t.GrainMM.V), "write the distance from one thin place to the next")
	}
}

// mediumWords says what a surface consists of when that is not the usual.
func (s *Surface) mediumWords() string {
	if s.MadeOf == "" || s.MadeOf == string(cornea.WholeCornea) {
		return ""
	}
	return ", of " + s.MadeOf
}

// instead says what stands in for a spherical aberration that is not given.
func (e *Eye) instead() string {
	switch b := e.Biometry; {
	case b != nil && b.AsphericityQ.Given() && b.FlatMM.Given():
		return "it will be worked out from the radii and the asphericity"
	case e.Cornea.Map != nil:
		return "that of the map's conic will be taken if it is a usual one"
	}
	return "a usual value will be assumed"
}

// backWords says what is known of the back of the cornea.
func (k *Cornea) backWords() []string {
	if k == nil || k.Back == nil {
		return nil
	}
	switch b := k.Back; {
	case b.Wavefront != nil:
		return []string{b.Wavefront.words("Back of the cornea: wavefront")}
	case b.Map != nil:
		f := b.Map.Front
		return []string{fmt.Sprintf("Back of the cornea: map of %s (%s) over %.1f mm: best-fit radius %.2f mm, Q %+.2f.", b.Map.Of, b.Map.Layout, 2*f.RadiusMM, f.Best.RadiusMM, f.Best.Q)}
	case b.Surface != nil:
		return []string{fmt.Sprintf("Back of the cornea: pattern %s, height %s root mean square, grain %s; seeded map number %d, not the measured one.", b.Surface.Kind, said(b.Surface.RMSUM, " µm"), said(b.Surface.GrainMM, " mm"), b.Surface.Seed)}
	default:
		return []string{"Back of the cornea: takes back " + said(b.CompensatesPercent, " %") + " of the front's irregular wavefront."}
	}
}

// words says what is known of the tear film.
func (t *Tears) words() []string {
	if t == nil {
		return nil
	}
	return []string{fmt.Sprintf("Tear film: breaks up %s after a blink, then uneven by %s root mean square, grain %s; seeded map number %d. It is shown only when a time since the blink is asked for.",
		said(t.BreakupS, " s"), said(t.RMSUM, " µm"), said(t.GrainMM, " mm"), t.Seed)}
}
