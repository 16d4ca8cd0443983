package sweep

import (
	"bytes"
	"encoding/csv"
)

// CSV returns the index of a grid as comma-separated values with a line of names
// first: one line a picture, one column an axis, a column for the strength of each
// cause that has an axis. An empty pupil is that of the case.
func (a Axes) CSV(cells []Cell) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	head := []string{"file", "scene", "eye", "pupil_mm", "trial"}
	for _, s := range a.Severities {
		head = append(head, "strength_"+s.Cause)
	}
	w.Write(append(head, "gaze_x_deg", "gaze_y_deg"))
	for _, c := range cells {
		w.Write(c.row())
	}
	w.Flush() // a bytes.Buffer takes everything
	return b.Bytes()
}

func (c Cell) row() []string {
	pupil := ""
	if c.PupilMM > 0 {
		pupil = number(c.PupilMM)
	}
	row := []string{c.File, c.Scene, c.Eye, pupil, c.Trial}
	for _, s := range c.Strengths {
		row = append(row, number(s.K))
	}
	return append(row, number(c.GazeDeg[0]), number(c.GazeDeg[1]))
}
