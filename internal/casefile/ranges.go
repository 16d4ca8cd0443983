package casefile

import (
	"fmt"
	"strings"
)

// span is the range of a number in a case, both ends included. The ends are
// wide: they catch slips of the pen and of the unit, not rare eyes.
type span struct {
	lo, hi float64
	hint   string
}

// spans gives the range of every number by its key. A number whose key is not
// listed is refused by a test.
var spans = map[string]span{
	"age_years":                      {1, 120, "write whole or decimal years"},
	"pupil_bright_mm":                {1, 9, "write the diameter of the pupil, not its radius, in mm"},
	"pupil_dim_mm":                   {1, 9, "write the diameter of the pupil, not its radius, in mm"},
	"pupil_mm":                       {1, 10, "write the diameter of the pupil that the terms belong to, in mm"},
	"accommodation_d":                {0, 20, "write what is left of it as a positive number"},
	"sphere_d":                       {-40, 40, "write dioptres, as in -2.25"},
	"cylinder_d":                     {-20, 20, "write dioptres, as in -0.75; plus form is fine too"},
	"axis_deg":                       {0, 180, "an axis runs from 0 to 180"},
	"vertex_mm":                      {0, 25, "write the distance from the cornea to the glasses, about 12 to 14; 0 for a contact lens"},
	"add_d":                          {0.25, 20, "write what is added for near as a positive number, as in 2.50"},
	"wavelength_nm":                  {380, 1100, "write nanometres, as in 555 or 840"},
	"terms_um":                       {-200, 200, "write micrometres of path, not waves"},
	"decentration_mm":                {0, 4, "write how far the lens is shifted; the way it is shifted goes into direction_deg or direction"},
	"direction_deg":                  {-360, 360, "count counter-clockwise from the clinician's right"},
	"tilt_deg":                       {0, 45, "write how far the lens is tilted; the sense goes into tilt_axis_deg"},
	"tilt_axis_deg":                  {-360, 360, "count counter-clockwise from the clinician's right"},
	"rotation_deg":                   {-360, 360, "count counter-clockwise as the clinician sees it"},
	"spherical_aberration_at_6mm_um": {-2, 2, "write c(4,0) in micrometres at a 6 mm pupil"},
	"power_d":                        {-15, 50, "write the power of the lens, as on its card"},
	"optic_mm":                       {3, 9, "write the diameter of the part that bends light, often 6, without its loops"},
	"axial_shift_mm":                 {-3, 3, "write mm towards the retina; below 0 towards the cornea"},
	"toric_cylinder_d":               {0, 20, "write the lens's own cylinder in plus form; the plus axis goes into toric_axis_deg"},
	"toric_axis_deg":                 {0, 180, "write the axis that the lens was meant to lie at; the turn away from it goes into rotation_deg"},
	"pupil_decentration_mm":          {0, 2, "write how far the middle of the pupil is from the axis of the cornea; the way goes into pupil_direction"},
	"pupil_direction_deg":            {-360, 360, "count counter-clockwise from the clinician's right"},
	"corneal_radius_flat_mm":         {5, 12, "write the radius in mm; from dioptres of keratometry (index 1.3375) it is 337.5 / dioptres"},
	"corneal_radius_steep_mm":        {5, 12, "write the radius in mm; from dioptres of keratometry (index 1.3375) it is 337.5 / dioptres"},
	"steep_axis_deg":                 {0, 180, "write the meridian of the smaller radius, 0 to 180"},
	"corneal_asphericity_q":          {-3, 3, "0 is a sphere, -0.26 usual; another shape value must be turned into Q first"},
	"axial_length_mm":                {15, 40, "write the length of the eye in mm, often 22 to 26"},
	"anterior_chamber_depth_mm":      {1, 8, "write mm from the front of the cornea to the front of the lens"},
	"rms_um":                         {0, 50, "write the height of the surface in micrometres"},
	"grain_mm":                       {0.05, 5, "write the size of one bump in mm"},
	"zone_x_mm":                      {-6, 6, "write mm to the clinician's right of the centre of the pupil"},
	"zone_y_mm":                      {-6, 6, "write mm above the centre of the pupil"},
	"zone_distance_mm":               {0, 6, "write mm from the centre of the pupil"},
	"zone_radius_mm":                 {0.1, 7, "write mm from the middle of the zone to its edge"},
	"compensates_percent":            {0, 60, "write how much of the front's irregular wavefront the back takes back; 14 to 24 is usual in keratoconus"},
	"breakup_s":                      {1, 60, "write the seconds from a blink until the tear film breaks up"},
	"max_luminance_cdm2":             {10, 1e5, "write cd/m² above the background; 10000 asb are 3183"},
	"background_cdm2":                {0.1, 100, "write cd/m²; 31.5 asb are 10"},
	"log_s":                          {0, 3, "write the decimal logarithm, as in 1.5, not the parameter itself"},
	"x_deg":                          {-90, 90, "write degrees from fixation"},
	"y_deg":                          {-90, 90, "write degrees above fixation"},
	"value_db":                       {-50, 50, "write dB as the field test prints them"},
	"logmar":                         {-1, 3, "0 is 20/20, 1 is 20/200; 20/x goes into snellen, 0.5 into decimal"},
	"decimal":                        {0.001, 10, "1 is 20/20, 0.1 is 20/200"},
	"sd":                             {0, 1000, "it is one standard deviation in the unit of the value; leave it out when unknown"},
}

// spanOf returns the range that belongs to a key path: that of its last key,
// of the value's key in the long form, or of the table that a term stands in.
func spanOf(path string) (span, bool) {
	parts := strings.Split(path, ".")
	for i := len(parts) - 1; i >= 0 && i >= len(parts)-3; i-- {
		if s, ok := spans[parts[i]]; ok {
			return s, true
		}
	}
	return span{}, false
}

// inRange reports whether x lies in the range of its key, and adds a problem
// when it does not.
func (d *decoder) inRange(x float64, path string) bool {
	s, ok := spanOf(path)
	if !ok || s.lo <= x && x <= s.hi {
		return true
	}
	inUnit := unitOf(path)
	if strings.HasSuffix(path, ".sd") {
		inUnit = "" // the hint says it
	}
	d.add(path, fmt.Sprintf("must lie between %g and %g%s", s.lo, s.hi, strings.Replace(inUnit, " in ", " ", 1)), fmt.Sprintf("%g", x), s.hint)
	return false
}
