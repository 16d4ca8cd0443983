package cause

import (
	"fmt"
	"math"

	"simview/internal/unit"
)

// Viewing is where and in what light the eye looks.
type Viewing struct {
	DistanceM float64 // metres to the scene; +Inf is far
	Night     bool    // the dim pupil instead of the bright one
	PupilMM   float64 // overrides the case's pupil when > 0
	// SinceBlinkS is the seconds since the last blink, for an eye whose case
	// describes its tear film; 0 leaves the film even.
	SinceBlinkS float64
}

// check refuses a distance or a pupil that is none.
func (v Viewing) check() error {
	if !(v.DistanceM > 0) {
		return fmt.Errorf("distance: must be above 0 m (got %g); far is +Inf", v.DistanceM)
	}
	if !(v.PupilMM >= 0) || math.IsInf(v.PupilMM, 1) {
		return fmt.Errorf("pupil: must be above 0 mm (got %g); 0 stands for that of the case", v.PupilMM)
	}
	if !(v.SinceBlinkS >= 0 && v.SinceBlinkS <= MaxSinceBlinkS) {
		return fmt.Errorf("seconds since the blink: must be 0 to %d (got %g); 0 leaves the tear film even", MaxSinceBlinkS, v.SinceBlinkS)
	}
	return nil
}

// MaxSinceBlinkS is the longest time without a blink that is drawn, in seconds.
const MaxSinceBlinkS = 120

// near is the distance, in metres, from which the near correction is worn; a
// screen at arm's length and a page count, a room does not (common practice).
const near = 0.7

func (v Viewing) isNear() bool { return v.DistanceM <= near }

// vergence is what looking at the distance asks for, in dioptres.
func (v Viewing) vergence() unit.Dioptres {
	if math.IsInf(v.DistanceM, 1) || v.DistanceM >= far {
		return 0
	}
	return unit.Dioptres(1 / v.DistanceM)
}

const far = 100 // metres: 0.01 D, below any trial lens

// Words says the condition for a caption.
func (v Viewing) Words(pupilMM float64) string {
	where := fmt.Sprintf("at %.2g m", v.DistanceM)
	if v.vergence() == 0 {
		where = "far"
	}
	light := "bright"
	if v.Night {
		light = "dim"
	}
	words := fmt.Sprintf("%s, %s, pupil %.1f mm", where, light, pupilMM)
	if v.SinceBlinkS > 0 {
		words += fmt.Sprintf(", %.3g s after a blink", v.SinceBlinkS)
	}
	return words
}
