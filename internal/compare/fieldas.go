package compare

import (
	"fmt"
	"strings"

	"simview/internal/cause"
	"simview/internal/eye"
	"simview/internal/unit"
)

// FieldAs says which field a view is drawn with; the zero value is the one that
// the tests make most likely.
type FieldAs struct {
	Draw  int     `json:"draw,omitempty"`           // 1 and up: one of the equally likely fields
	Seed  uint64  `json:"seed,omitempty"`           // of the draws
	Years float64 `json:"years,omitempty"`          // into the future, 0 to 5
	Rate  float64 `json:"rate_db_year,omitempty"`   // change of mean deviation, 0 or less
	Of    string  `json:"rate_of_group,omitempty"`  // whose rate that is
	Which string  `json:"rate_which_one,omitempty"` // median, faster-quarter or fastest-tenth
}

// Apply puts the field into a state that loses any, and notes it. Errors are those
// of [fieldmask.Surface.Draw] and [fieldmask.Surface.After].
func (a FieldAs) Apply(s eye.State) (_ eye.State, err error) {
	if s.Loss() == nil || a.Draw == 0 && a.Years == 0 {
		return s, nil
	}
	if a.Draw != 0 {
		s.Field, err = s.Field.Draw(a.Seed, a.Draw)
	} else {
		s.Field, err = s.Field.After(a.Years, a.Rate)
	}
	if err != nil {
		return s, err
	}
	return s.Note(s.Field.Changed()), nil
}

// drawnWith gives every view its field; where none has any that is lost, asking for
// one is an error.
func drawnWith(shots []Shot, a FieldAs) ([]Shot, error) {
	lost := a == FieldAs{}
	for k := range shots {
		shots[k].Field = a
		_, one := shots[k].on.Cause(cause.Field)
		lost = lost || one
	}
	if !lost {
		return nil, fmt.Errorf("%s: no eye has a lost field, so there is no equally likely one to draw; hint: leave field draw out", shots[0].on.Case.File)
	}
	return shots, nil
}

// Gazes are the fixations of a sheet, the first one for every view.
func (o Options) Gazes() []unit.SightPoint {
	return append([]unit.SightPoint{o.Gaze}, o.MoreGazes...)
}

// gazeShots shows the eye as measured at each further fixation.
func gazeShots(e *cause.Eye, o Options) (shots []Shot) {
	for k := range o.MoreGazes {
		at := &o.MoreGazes[k]
		shots = append(shots, Shot{
			ID: fmt.Sprintf("all-gaze-%d", k+2), Name: "All together, " + lookingAt(*at), Amount: fmt.Sprintf("this %s eye as measured, its gaze elsewhere", e.Side),
			Side: e.Side, Set: e.All(), Same: true, Gaze: at, on: e,
		})
	}
	return shots
}

func lookingAt(p unit.SightPoint) string {
	return fmt.Sprintf("looking at (%.3g°, %.3g°)", float64(p.X), float64(p.Y))
}

// firstField is the id of the first view of [FieldShots] that loses any.
const firstField = "field-0"

// FieldShots plans a row of views that differ in their field alone: the reference
// view, then the eye with its lost field and nothing else wrong, once for each
// of the fields. An eye without a lost field is an error.
func FieldShots(c *cause.Eye, as []FieldAs) ([]Shot, error) {
	if _, lost := c.Cause(cause.Field); !lost {
		return nil, fmt.Errorf("%s: the %s eye has no lost field that could be drawn in several ways; hint: --eye names the other eye", c.Case.File, c.Side)
	}
	shots := []Shot{referenceShot(c)}
	for k, a := range as {
		name, amount := a.words()
		shots = append(shots, Shot{
			ID: fmt.Sprintf("field-%d", k), Name: name, Amount: amount,
			Side: c.Side, Set: cause.Only(cause.Field, 1), Field: a, on: c,
		})
	}
	return shots, nil
}

func referenceShot(e *cause.Eye) Shot {
	return Shot{ID: "reference", Name: "Nothing wrong", Amount: fmt.Sprintf("this %s eye with every cause put right", e.Side), Side: e.Side, Set: cause.Strengths{}, on: e}
}

// words are name and amount of a view with that field.
func (a FieldAs) words() (name, amount string) {
	switch {
	case a.Draw != 0:
		return fmt.Sprintf("Equally likely field %d", a.Draw), fmt.Sprintf("drawn with seed %d from the spread of the tests", a.Seed)
	case a.Of != "":
		amount := fmt.Sprintf("group: %s; %s, %.2f dB per year; teaching, not a forecast", a.Of, strings.ReplaceAll(a.Which, "-", " "), a.Rate)
		switch a.Years {
		case 0:
			return "Now", amount
		case 1:
			return "After 1 year at that rate", amount
		}
		return fmt.Sprintf("After %g years at that rate", a.Years), amount
	}
	return "The field as measured", "what all tests together make likely"
}

// sayField keeps what a view has of its own in gaze and field.
func (v *ViewRecord) sayField(s Shot) {
	if s.Gaze != nil {
		v.GazeDeg = &[2]float64{float64(s.Gaze.X), float64(s.Gaze.Y)}
	}
	if s.Field != (FieldAs{}) {
		v.Field = &s.Field
	}
}
