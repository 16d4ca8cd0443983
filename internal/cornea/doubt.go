package cornea

import "math"

// usualRadiusMM is the radius of a usual cornea, to judge units by.
const usualRadiusMM = 7.8

// heightDoubt says what heights that fit no cornea look like: it compares how
// far they fall from the centre to the rim with a usual cornea,
//
//	q = (h(0) - h(rim)) / (1000 rim² / 2R)
func (s *Surface) heightDoubt(rimMM float64) string {
	var top, rim, n, m float64
	for i, h := range s.height {
		switch r := s.radius(i) / rimMM; {
		case r < 0.1:
			top, n = top+h, n+1
		case r > 0.95 && r <= 1:
			rim, m = rim+h, m+1
		}
	}
	q := (top/n - rim/m) / (1000 * rimMM * rimMM / (2 * usualRadiusMM))
	alike := func(k float64) bool { return q/k > 0.5 && q/k < 2 }
	switch {
	case alike(0.001):
		return "; these look like mm"
	case alike(-0.001):
		return "; these look like mm, positive away from the observer"
	case alike(-1):
		return "; these look positive away from the observer"
	case math.Abs(q) < 0.1:
		return "; these look like heights above a sphere"
	}
	return ""
}

// curvatureDoubt says what a value that is out of range looks like.
func curvatureDoubt(column string, x float64) string {
	within := func(other string) bool { return x >= limits[other][0] && x <= limits[other][1] }
	switch {
	case column == "curvature_d" && within("curvature_mm"):
		return "it looks like a radius in mm; then the column is curvature_mm"
	case column == "curvature_mm" && within("curvature_d"):
		return "it looks like dioptres; then the column is curvature_d"
	}
	return "is it in another unit?"
}
