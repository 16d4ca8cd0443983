package fieldmask

import (
	"bufio"
	"fmt"
	"io"
	"math"
)

// WriteMap writes the surface as a table, one place a line every step degrees
// where anything is known, as the patient sees it:
//
//	x_deg,y_deg,loss_db,sd_db,low_db,high_db,tested,at_least
//
// loss and its 90 % interval at strength 1, tested and at_least as 0 or 1. Steps
// under a quarter of a degree are refused; so is a surface that was changed,
// since it has no spread.
func WriteMap(w io.Writer, s *Surface, stepDeg float64) error {
	if !(stepDeg >= surfaceStep && stepDeg <= 10) {
		return fmt.Errorf("field: the step of a map must be %g to 10 degrees (got %v)", surfaceStep, stepDeg)
	}
	if s.changed != "" {
		return fmt.Errorf("field: only a field as measured has a map of how sure it is (this is the %s)", s.changed)
	}
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "# %s eye, x as-patient-sees\nx_deg,y_deg,loss_db,sd_db,low_db,high_db,tested,at_least\n", s.side)
	measured, one := s.Scaled(1), map[bool]int{true: 1}
	edge := math.Floor(float64(s.half)*surfaceStep/stepDeg) * stepDeg
	for y := edge; y >= -edge; y -= stepDeg {
		for x := -edge; x <= edge; x += stepDeg {
			if s.Known(x, y) {
				low, high := s.Interval(x, y)
				fmt.Fprintf(b, "%g,%g,%.2f,%.2f,%.2f,%.2f,%d,%d\n", x, y, measured.LossDB(x, y), s.SD(x, y), low, high, one[s.Tested(x, y)], one[s.AtLeast(x, y)])
			}
		}
	}
	return b.Flush()
}
