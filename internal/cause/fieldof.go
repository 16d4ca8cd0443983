package cause

import (
	"simview/internal/fieldmask"
	"simview/internal/unit"
)

// FieldTests is what the case says of one eye's visual field and what was made of
// it.
type FieldTests struct {
	Deviations []fieldmask.Field  // one a test, total deviation, without the blind-spot pair
	Share      unit.PerimetricDB  // of the general depression, put down to the optics in the test
	Surface    *fieldmask.Surface // the loss that all tests together make likely
	Harmed     bool               // false: within normal limits, so every picture has a full field
	Warnings   []fieldmask.Warning
}

// FieldTests returns the visual field of the eye; nil when the case holds none.
func (e *Eye) FieldTests() *FieldTests { return e.tests }
