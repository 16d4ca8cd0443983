package casefile

import (
	"simview/internal/cornea"
	"simview/internal/fieldmask"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// Case is what the clinician knows about one person: one or two eyes and the
// complaint. The yaml tags are the keys of the file; "-" marks what is worked
// out while reading. Of the other tags, need marks a key that must be there,
// with the hint given when it is not, and one lists the words that a key takes.
type Case struct {
	Title     string              `yaml:"title" need:"write one line that tells this case from others, without the person's name"` // one line, no names of real people
	Invented  bool                `yaml:"invented"`                                                                                // true: the person does not exist
	Words     string              `yaml:"complaint"`                                                                               // the complaint, in the person's words
	Complaint string              `yaml:"complaint_eye" need:"write right, left or both" one:"right,left,both"`                    // right, left or both
	AgeYears  unit.Value[float64] `yaml:"age_years" need:"write the age; lens, pupil and straylight are judged by it"`             // 1 to 120
	Eyes      Eyes                `yaml:"eyes" need:"describe at least one eye under eyes: right: or eyes: left:"`
	Checks    Checks              `yaml:"checks"`

	Dir  string `yaml:"-"` // folder that files named in the case are looked up in
	File string `yaml:"-"` // file the case was read from
}

// ComplaintSide returns the eye the complaint is about; for "both" it is the
// first eye given, right before left.
func (c *Case) ComplaintSide() unit.Side {
	if c.Complaint == "left" || c.Eyes.Right == nil {
		return unit.Left
	}
	return unit.Right
}

// Eyes holds the one or two eyes that the case describes; nil means not given.
type Eyes struct {
	Right *Eye `yaml:"right"`
	Left  *Eye `yaml:"left"`
}

// Eye returns the eye of that side, or nil when the case does not describe it.
func (c *Case) Eye(s unit.Side) *Eye {
	if s == unit.Right {
		return c.Eyes.Right
	}
	return c.Eyes.Left
}

// Eye is everything the case says about one eye.
type Eye struct {
	Side           unit.Side                 `yaml:"-"`
	Lens           string                    `yaml:"lens" need:"write natural, implant or none" one:"natural,implant,none"` // natural, implant or none
	PupilBrightMM  unit.Value[unit.MM]       `yaml:"pupil_bright_mm"`                                                       // 1 to 9
	PupilDimMM     unit.Value[unit.MM]       `yaml:"pupil_dim_mm"`                                                          // 1 to 9, not below bright
	AccommodationD unit.Value[unit.Dioptres] `yaml:"accommodation_d"`                                                       // 0 to 20, what is left
	PupilOffMM     unit.Value[unit.MM]       `yaml:"pupil_decentration_mm"`                                                 // 0 to 2, of the entrance pupil from the axis of the cornea
	PupilOffDeg    unit.Value[unit.Degrees]  `yaml:"pupil_direction_deg"`                                                   // -360 to 360
	PupilOffWords  string                    `yaml:"pupil_direction"`                                                       // words instead of degrees
	IrisPigment    string                    `yaml:"iris_pigment" one:"dark,brown,green,blue"`                              // dark, brown, green or blue
	Refraction     *Refraction               `yaml:"refraction"`                                                            // what the eye needs
	WornFar        *Glasses                  `yaml:"worn_far"`                                                              // nil = not stated
	WornNear       *Glasses                  `yaml:"worn_near"`                                                             // nil = not stated
	Wavefront      *Wavefront                `yaml:"wavefront"`                                                             // nil = not measured
	Implant        *Implant                  `yaml:"implant"`                                                               // nil unless Lens is implant
	Cornea         *Cornea                   `yaml:"cornea"`                                                                // nil = not stated
	Tears          *Tears                    `yaml:"tears"`                                                                 // nil = an even film
	Biometry       *Biometry                 `yaml:"biometry"`                                                              // nil = not measured
	Straylight     *Straylight               `yaml:"straylight"`                                                            // nil = not measured
	Fields         []FieldData               `yaml:"fields"`                                                                // empty = not tested
	Acuity         []Acuity                  `yaml:"acuity"`                                                                // empty = not measured
}

// PigmentFactor returns the iris pigment factor of the CIE glare functions:
// 0 dark, 0.5 brown, 1.0 green, 1.2 blue; 0.5 when the case does not say.
func (e *Eye) PigmentFactor() float64 {
	switch e.IrisPigment {
	case "dark":
		return 0
	case "green":
		return 1
	case "blue":
		return 1.2
	}
	return 0.5
}

// Refraction is the correction that the eye needs for far, plus or minus
// cylinder form, as written.
type Refraction struct {
	Kind      string                    `yaml:"kind" need:"write manifest, automatic or wavefront" one:"manifest,automatic,wavefront"` // manifest, automatic or wavefront
	SphereD   unit.Value[unit.Dioptres] `yaml:"sphere_d" need:"write 0 for none"`
	CylinderD unit.Value[unit.Dioptres] `yaml:"cylinder_d"`
	AxisDeg   unit.Value[unit.Degrees]  `yaml:"axis_deg"`                                                                                             // 0 to 180
	VertexMM  unit.Value[unit.MM]       `yaml:"vertex_mm" need:"write the distance from the cornea at which it was found, often 12; 0 at the cornea"` // 0 at the cornea
}

// Glasses is a correction that is worn; a contact lens has VertexMM 0. For near,
// AddD is an addition to the far correction instead of sphere and cylinder.
type Glasses struct {
	None      bool                      `yaml:"none"` // true: nothing is worn
	SphereD   unit.Value[unit.Dioptres] `yaml:"sphere_d"`
	CylinderD unit.Value[unit.Dioptres] `yaml:"cylinder_d"`
	AxisDeg   unit.Value[unit.Degrees]  `yaml:"axis_deg"`
	VertexMM  unit.Value[unit.MM]       `yaml:"vertex_mm"`
	AddD      unit.Value[unit.Dioptres] `yaml:"add_d"` // near only, over worn_far
}

// Wavefront is a measured set of Zernike coefficients.
type Wavefront struct {
	Scheme       string                         `yaml:"scheme" need:"write osa, osa-nm, noll or fringe, as the instrument names it" one:"osa,osa-nm,noll,fringe"` // osa (index j), osa-nm ("n,m"), noll or fringe
	Of           string                         `yaml:"of" need:"write whole-eye, cornea or cornea-back" one:"whole-eye,cornea,cornea-back"`                      // whole-eye, cornea or cornea-back
	PupilMM      unit.Value[unit.MM]            `yaml:"pupil_mm" need:"write the diameter that the terms belong to; without it they mean nothing"`
	WavelengthNM unit.Value[unit.NM]            `yaml:"wavelength_nm" need:"write what the instrument or its export says, as in 555"`
	TermsUM      map[string]unit.Value[unit.UM] `yaml:"terms_um" need:"write one term per line, as in '3,1': 0.12"` // as written, by the scheme's index

	Terms zernike.Terms `yaml:"-"` // resolved: orthonormal, OSA order, µm
	SDUM  []float64     `yaml:"-"` // resolved: one standard deviation of each of Terms.C, µm
}

// Implant says where the lens implant sits. Directions are angles in the
// clinician's axes, counter-clockwise from the clinician's right, in either eye.
//
// Tilt: with z pointing out of the eye towards the clinician, the lens is turned
// by TiltDeg about the line through its centre at angle TiltAxisDeg by the
// right-hand rule, so the edge at TiltAxisDeg + 90 comes forward. With axis 0
// the upper edge comes towards the clinician.
type Implant struct {
	DecentrationMM unit.Value[unit.MM]      `yaml:"decentration_mm"` // 0 to 4
	DirectionDeg   unit.Value[unit.Degrees] `yaml:"direction_deg"`   // -360 to 360
	Direction      string                   `yaml:"direction"`       // words instead of degrees: up-and-out
	TiltDeg        unit.Value[unit.Degrees] `yaml:"tilt_deg"`        // 0 to 45
	TiltAxisDeg    unit.Value[unit.Degrees] `yaml:"tilt_axis_deg"`   // -360 to 360
	RotationDeg    unit.Value[unit.Degrees] `yaml:"rotation_deg"`    // turn about the line of sight, counter-clockwise to the clinician
	// SphericalAberrationUM is c(4,0) that the lens itself adds at a 6 mm pupil.
	SphericalAberrationUM unit.Value[unit.UM] `yaml:"spherical_aberration_at_6mm_um"`
	// PowerD is the mean power of the lens as its maker states it, in the eye.
	PowerD unit.Value[unit.Dioptres] `yaml:"power_d"`
	// OpticMM is the diameter of the part that bends light, 3 to 9.
	OpticMM unit.Value[unit.MM] `yaml:"optic_mm"`
	// AxialShiftMM is how far it lies behind its place, -3 to 3, towards the retina.
	AxialShiftMM unit.Value[unit.MM] `yaml:"axial_shift_mm"`
	// ToricCylinderD is the lens's own cylinder, in the plane of the lens, in
	// plus form; ToricAxisDeg is the axis that it was meant to lie at, from
	// which RotationDeg counts.
	ToricCylinderD unit.Value[unit.Dioptres] `yaml:"toric_cylinder_d"`
	ToricAxisDeg   unit.Value[unit.Degrees]  `yaml:"toric_axis_deg"`
}

// Shift returns the displacement of the lens as a pupil point, in mm.
func (m *Implant) Shift() unit.PupilPoint {
	return polar(m.DecentrationMM.V, m.DirectionDeg.V)
}

// Biometry is what was measured of the eye's dimensions.
type Biometry struct {
	FlatMM       unit.Value[unit.MM]      `yaml:"corneal_radius_flat_mm"`    // 5 to 12; the larger of the two radii
	SteepMM      unit.Value[unit.MM]      `yaml:"corneal_radius_steep_mm"`   // 5 to 12
	SteepAxisDeg unit.Value[unit.Degrees] `yaml:"steep_axis_deg"`            // 0 to 180, the meridian of the smaller radius
	AsphericityQ unit.Value[float64]      `yaml:"corneal_asphericity_q"`     // -3 to 3; 0 a sphere, below 0 flatter outwards
	AxialMM      unit.Value[unit.MM]      `yaml:"axial_length_mm"`           // 15 to 40
	DepthMM      unit.Value[unit.MM]      `yaml:"anterior_chamber_depth_mm"` // 1 to 8, front of the cornea to front of the lens
}

// PupilShift returns where the centre of the entrance pupil lies, from the axis
// of the cornea, in mm.
func (e *Eye) PupilShift() unit.PupilPoint { return polar(e.PupilOffMM.V, e.PupilOffDeg.V) }

// Cornea describes the front of the eye.
type Cornea struct {
	// SphericalAberrationUM is c(4,0) that the cornea adds at a 6 mm pupil.
	SphericalAberrationUM unit.Value[unit.UM] `yaml:"spherical_aberration_at_6mm_um"`
	Wavefront             *Wavefront          `yaml:"wavefront"`                    // irregular terms, of: cornea
	Map                   *CornealMap         `yaml:"map"`                          // or a measured map
	Surface               *Surface            `yaml:"surface"`                      // or a seeded map
	Back                  *CorneaBack         `yaml:"back"`                         // nil = a regular back surface
	Haze                  string              `yaml:"haze" one:"trace,mild,marked"` // at the slit lamp: trace, mild or marked; empty = none
}

// CornealMap is a measured map of the front of the cornea in a file.
type CornealMap struct {
	CSV    string `yaml:"csv" need:"name the file with the map, beside the case or below it"`
	Layout string `yaml:"layout" need:"write grid or radial, as the places in the file are written" one:"grid,radial"` // grid or radial
	Of     string `yaml:"of" need:"write height or curvature" one:"height,curvature"`                                  // height or curvature

	Front *cornea.Front `yaml:"-"` // resolved, about the axis of the cornea
}

// Surface is a seeded map of an irregular corneal surface.
type Surface struct {
	Kind           string              `yaml:"kind" need:"write grain, ridges, dots or fingerprint" one:"grain,ridges,dots,fingerprint"` // its pattern: grain, ridges, dots or fingerprint
	Words          string              `yaml:"words"`                                                                                    // what it is, in words: old scar
	MadeOf         string              `yaml:"made_of" one:"cornea,epithelium,tears"`                                                    // what the heights consist of: cornea, epithelium or tears; cornea when left out
	RMSUM          unit.Value[unit.UM] `yaml:"rms_um" need:"write the height of the irregularity, root mean square inside its zone"`     // surface height (not path), rms inside the zone
	GrainMM        unit.Value[unit.MM] `yaml:"grain_mm" need:"write the size of one bump, often 0.3 to 1.5"`                             // size of one bump
	ZoneXMM        unit.Value[unit.MM] `yaml:"zone_x_mm"`                                                                                // clinician's axes
	ZoneYMM        unit.Value[unit.MM] `yaml:"zone_y_mm"`                                                                                // clinician's axes
	ZoneDirection  string              `yaml:"zone_direction"`                                                                           // words instead of x and y: nasal
	ZoneDistanceMM unit.Value[unit.MM] `yaml:"zone_distance_mm"`                                                                         // with ZoneDirection
	ZoneRadiusMM   unit.Value[unit.MM] `yaml:"zone_radius_mm" need:"write how far the irregular zone reaches from its middle"`
	Seed           uint64              `yaml:"seed"`

	ZoneCentre unit.PupilPoint `yaml:"-"` // resolved
}

// Straylight is a straylight measurement.
type Straylight struct {
	LogS   unit.Value[float64] `yaml:"log_s" need:"write the logarithm that the straylight test gives, as in 1.5"`  // log10 of s in deg²/sr, 0 to 3
	Source string              `yaml:"scattered_by" need:"write cornea, lens or capsule" one:"cornea,lens,capsule"` // cornea, lens or capsule
}

// FieldData is one visual field test, in a file or point by point.
type FieldData struct {
	Pattern string       `yaml:"pattern" need:"write 24-2, 24-2c, 10-2, 30-2 or free" one:"24-2,24-2c,10-2,30-2,free"`                                                                            // 24-2, 24-2c (with added central places), 10-2, 30-2 or free
	Eye     string       `yaml:"eye" need:"write right or left; a field is of no use without its eye" one:"right,left"`                                                                           // right or left
	XIs     string       `yaml:"x_is" need:"write as-patient-sees, nasal-positive or right-eye-format, as the printout or export writes x" one:"as-patient-sees,nasal-positive,right-eye-format"` // as-patient-sees, nasal-positive or right-eye-format
	Kind    string       `yaml:"kind" need:"write sensitivity or total-deviation" one:"sensitivity,total-deviation"`                                                                              // sensitivity or total-deviation
	CSV     string       `yaml:"csv"`                                                                                                                                                             // file beside the case, see fieldmask.ReadCSV
	Points  []FieldPoint `yaml:"points"`                                                                                                                                                          // instead of a file
	Date    string       `yaml:"date"`                                                                                                                                                            // YYYY-MM-DD

	MaxLuminance float64 `yaml:"max_luminance_cdm2"` // brightest spot, cd/m²; 0 is the common one, 3183
	Background   float64 `yaml:"background_cdm2"`    // cd/m²; 0 is the common one, 10
	Tests        uint64  `yaml:"averaged_tests"`     // tests that the values are the mean of; 0 means one
	NormalCSV    string  `yaml:"normal_csv"`         // the site's own age norm beside the case, see fieldmask.ReadNorm

	Line  int             `yaml:"-"` // where the test starts in the case file
	Field fieldmask.Field `yaml:"-"` // resolved: as the patient sees
}

// FieldPoint is one point of a visual field, written the way x_is says.
type FieldPoint struct {
	XDeg float64 `yaml:"x_deg" need:"write degrees from fixation"`
	YDeg float64 `yaml:"y_deg" need:"write degrees above fixation"`
	DB   float64 `yaml:"value_db" need:"a place not tested is left out"`
}

// Acuity is one measured acuity in any one of three notations; LogMAR is filled
// in from the others.
type Acuity struct {
	LogMAR  unit.Value[float64] `yaml:"logmar"`
	Decimal unit.Value[float64] `yaml:"decimal"`
	Snellen unit.Value[string]  `yaml:"snellen"`                                                                                          // 20/40, 6/12
	With    string              `yaml:"with" need:"write glasses, pinhole, none or contact-lens" one:"glasses,pinhole,none,contact-lens"` // glasses, pinhole, none or contact-lens
}

// Checks is the row of checks before believing any picture; each is done,
// not-done, or a sentence after done, as in "done: seen, clear". Empty means
// not stated and counts as not done.
type Checks struct {
	Pinhole         Check `yaml:"pinhole"`
	OtherEyeCovered Check `yaml:"other_eye_covered"`
	PupilReaction   Check `yaml:"pupil_reaction"`
	MaculaSeen      Check `yaml:"macula_seen"`
	CapsuleSeen     Check `yaml:"capsule_seen"`
	FieldAge        Check `yaml:"field_age"`
}

// Check is one check: whether it was done and what came out.
type Check struct {
	State string `yaml:"state" need:"write done or not-done" one:"done,not-done"` // done or not-done
	Words string `yaml:"words"`                                                   // what was found
}

// Done reports whether the check was done.
func (k Check) Done() bool { return k.State == "done" }

// ForwardEdgeDeg returns the direction, in the clinician's axes, of the edge of
// the lens that the tilt brings towards the clinician.
//
//	forward = TiltAxisDeg + 90
func (m *Implant) ForwardEdgeDeg() unit.Degrees { return m.TiltAxisDeg.V + 90 }
