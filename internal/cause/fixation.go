package cause

import "simview/internal/eye"

// settled ends a view: its prism is taken out, and the light beside a displaced
// lens is noted.
func settled(s eye.State) eye.State {
	beside := besideShare(s)
	return besideNoted(fixated(s, beside), beside)
}

// fixated takes the prism out of a view: an eye turns until what it looks at
// falls on its fovea, so no cause moves the whole picture. The part added is
//
//	W = -(a x + b y),  a = sum W x / sum x²,  b = sum W y / sum y²
//
// over the pupil of the view, µm per mm, W the path through the lens as if it had
// no edge, or beside it where all light of the view passes there, beside being its
// share.
func fixated(s eye.State, beside float64) eye.State {
	const across = 48 // samples; a and b only need the wavefront's mean slope
	var ax, by, norm float64
	r, path := s.PupilMM/2, s.PathUM
	if beside == 1 {
		path = s.BesideUM
	}
	for k := range across * across {
		x, y := (2*(float64(k%across)+0.5)/across-1)*r, (2*(float64(k/across)+0.5)/across-1)*r
		if x*x+y*y > r*r {
			continue
		}
		w := path(x+float64(s.PupilAt.X), y+float64(s.PupilAt.Y))
		ax, by, norm = ax+w*x, by+w*y, norm+x*x
	}
	a, b := ax/norm, by/norm
	return s.With(eye.Part{By: "fixation", Plane: eye.Glasses, From: eye.Computed, PathUM: func(x, y float64) float64 { return -a*x - b*y }})
}
