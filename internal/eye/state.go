package eye

import (
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/unit"
)

// Plane says where in the light's way a part sits; trials hide or uncover
// parts by plane.
type Plane int

// The planes, from the world inward; Unexplained stands for what was measured
// and nothing in the case explains.
const (
	Glasses Plane = iota
	ContactLens
	Tears
	FrontCornea
	BackCornea
	Lens
	Unexplained
)

// String names the plane in plain words.
func (p Plane) String() string {
	names := [...]string{"glasses", "contact lens", "tears", "front cornea", "back cornea", "lens", "unexplained"}
	if p < 0 || int(p) >= len(names) {
		return "unknown plane"
	}
	return names[p]
}

// Part is one contribution to the wavefront: who added it, at which plane, how it is known, and
// its path W(x, y) in µm at a place of the entrance pupil in mm, clinician's
// axes.
type Part struct {
	By     string // id of the cause, or "typical", "focus", "fixation"
	Plane  Plane
	From   Origin
	PathUM func(xMM, yMM float64) float64
}

// State is what one view needs to know of an eye. It is a value: trials and
// causes return a changed copy and never reach into another's slices.
type State struct {
	Side      unit.Side
	AgeYears  float64
	PupilMM   float64         // clear diameter of the entrance pupil
	PupilAt   unit.PupilPoint // where a pinhole stands; zero is the pupil's centre
	Light     float64         // share of its usual light that reaches the retina: below 1 behind a pinhole
	TdPerCdM2 float64         // see [State.TrolandsPerCdM2], mm² of pupil; 0: the area of PupilMM
	Parts     []Part
	Past      *Past // light that passes beside a displaced lens; nil: none can
	Colours   Colours
	Glare     light.Glare
	Field     *fieldmask.Surface // nil: full field
	FieldK    float64            // strength of the field loss, 0 to 3
	Focus     string             // how this eye is focused, in words
	Notes     []string           // what a panel must say about this state
	Condition string             // pupil and distance in words
}

// Past is what a displaced lens leaves open: where its edge lies in the entrance
// pupil, and the path of light that passes beside it. It is read-only.
type Past struct {
	// InsideMM is how far within the edge of the lens a place of the pupil lies
	// (mm, clinician's axes, from the pupil's centre); below 0, beside it.
	InsideMM func(xMM, yMM float64) float64
	// MoreUM is the path beside the lens less that through it, µm.
	MoreUM func(xMM, yMM float64) float64
}

// With returns a copy with one more part.
func (s State) With(p Part) State {
	s.Parts = append(append([]Part(nil), s.Parts...), p)
	return s
}

// Without returns a copy that lacks the parts for which drop is true.
func (s State) Without(drop func(Part) bool) State {
	kept := make([]Part, 0, len(s.Parts))
	for _, p := range s.Parts {
		if !drop(p) {
			kept = append(kept, p)
		}
	}
	s.Parts = kept
	return s
}

// Note returns a copy with one more thing to say.
func (s State) Note(text string) State {
	s.Notes = append(append([]string(nil), s.Notes...), text)
	return s
}

// PathUM returns the summed path of all parts,
//
//	W(x, y) = sum over parts of W_part(x, y)
//
// in µm at (x, y) mm, clinician's axes.
func (s State) PathUM(xMM, yMM float64) float64 {
	var w float64
	for _, p := range s.Parts {
		w += p.PathUM(xMM, yMM)
	}
	return w
}

// BesideUM returns the path of light that passes beside the lens, that of
// [State.PathUM] with the lens taken out,
//
//	W_beside(x, y) = W(x, y) + Past.MoreUM(x, y)
//
// in µm at (x, y) mm, clinician's axes; it needs a Past.
func (s State) BesideUM(xMM, yMM float64) float64 {
	return s.PathUM(xMM, yMM) + s.Past.MoreUM(xMM, yMM)
}

// Aperture returns the pupil of this state for package psf. A pinhole off the
// pupil's centre samples the wavefront, and meets the edge of a displaced lens,
// where it stands.
func (s State) Aperture() psf.Aperture {
	cx, cy := float64(s.PupilAt.X), float64(s.PupilAt.Y)
	a := psf.Aperture{
		DiameterMM: s.PupilMM,
		PathUM:     func(x, y float64) float64 { return s.PathUM(x+cx, y+cy) },
		CentreMM:   s.PupilAt,
	}
	if s.Past != nil {
		a.InsideMM = func(x, y float64) float64 { return s.Past.InsideMM(x+cx, y+cy) }
		a.BesideUM = func(x, y float64) float64 { return s.BesideUM(x+cx, y+cy) }
	}
	return a
}

// Loss returns the field loss in dB at a direction from fixation, patient's
// axes, scaled by FieldK; nil when the field is full or the strength is 0.
func (s State) Loss() fieldmask.Loss {
	if s.Field == nil || s.FieldK == 0 {
		return nil
	}
	return func(xDeg, yDeg float64) float64 { return s.FieldK * s.Field.LossDB(xDeg, yDeg) }
}

// TrolandsPerCdM2 returns the retinal illuminance that a cd/m² of the retinal image
// stands for, in trolands. Light that a pinhole takes is gone from that image
// already, so that a smaller hole does not count again:
//
//	td / L' = TdPerCdM2, or without one (π/4) PupilMM²
func (s State) TrolandsPerCdM2() float64 {
	if s.TdPerCdM2 > 0 {
		return s.TdPerCdM2
	}
	return light.Trolands(1, s.PupilMM, 1)
}

// Trolands returns the retinal illuminance of a luminance l of the scene, in cd/m²:
//
//	td = l Light TrolandsPerCdM2
func (s State) Trolands(l float64) float64 { return l * s.Light * s.TrolandsPerCdM2() }
