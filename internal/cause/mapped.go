package cause

import (
	"fmt"
	"math"

	"simview/internal/cornea"
	"simview/internal/eye"
)

// leastReachMM is the least radius about the pupil that a map must cover.
const leastReachMM = 1.0

// mapped adds a measured map of the front of the cornea: its terms from order 3
// up, without the spherical aberration that the reference eye has, and its fine
// structure. The map lies about the axis of the cornea, the wavefront about the
// centre of the pupil, p away from it:
//
//	W(x, y) = W_map(x + p_x, y + p_y)
func (e *Eye) mapped(f *cornea.Front) (string, error) {
	px, py, reach, err := e.onMap(f)
	if err != nil {
		return "", err
	}
	t, err := f.Terms.Translate(px, py, reach)
	if err != nil {
		return "", err
	}
	if t, err = e.beyondUsual(t); err != nil {
		return "", err
	}
	e.cornea = append(e.cornea, eye.Part{By: string(Cornea), Plane: eye.FrontCornea, From: eye.Measured, PathUM: func(x, y float64) float64 {
		return t.PathUM(x, y) + f.FineUM(x+px, y+py)
	}})
	e.limit(2 * reach)
	return fmt.Sprintf("measured corneal map, beyond the usual %.2f µm RMS (order 3 up) and %.2f µm RMS finer at %.1f mm", t.RMS(), f.Fine.RMSUM, 2*reach), nil
}

// onMap returns where the centre of the pupil lies on a map and how far the map
// reaches from there, mm; a map that covers too little is an error.
func (e *Eye) onMap(f *cornea.Front) (px, py, reach float64, err error) {
	p := e.Data.PupilShift()
	px, py = float64(p.X), float64(p.Y)
	if reach = f.RadiusMM - math.Hypot(px, py); reach < leastReachMM {
		err = fmt.Errorf("covers %.1f mm about the pupil; at least %g mm are needed", 2*reach, 2*leastReachMM)
	}
	return px, py, reach, err
}
