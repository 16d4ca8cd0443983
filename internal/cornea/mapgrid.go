package cornea

import (
	"fmt"
	"math"
	"slices"
)

// field reads values between the places of a map. Within radiusMM of the
// centre there is a value at every place.
type field struct {
	radiusMM float64
	stepMM   float64              // between neighbours, along x or along a meridian
	places   []sample             // x, y in mm, value
	fill     func([]float64) read // reads residuals given in the order of places
}

// read returns a value at (x, y) mm.
type read func(x, y float64) float64

// evenMM is how far a place of a grid may be off its even step, mm.
const evenMM = 1e-3

// axis returns the sorted distinct values of a coordinate.
func axis(v []float64) []float64 {
	v = slices.Clone(v)
	slices.Sort(v)
	return slices.CompactFunc(v, func(a, b float64) bool { return math.Abs(a-b) < evenMM })
}

// even returns the step of an axis, 0 when its values are not evenly spaced.
func even(a []float64) float64 {
	if len(a) < 3 {
		return 0
	}
	step := (a[len(a)-1] - a[0]) / float64(len(a)-1)
	for i, v := range a {
		if math.Abs(v-a[0]-float64(i)*step) > evenMM {
			return 0
		}
	}
	return step
}

// gridField orders the places of a square grid and refuses holes.
func gridField(rows []sample, name string) (*field, error) {
	var xs, ys []float64
	for _, s := range rows {
		xs, ys = append(xs, s.x), append(ys, s.y)
	}
	xs, ys = axis(xs), axis(ys)
	dx, dy := even(xs), even(ys)
	if dx == 0 || math.Abs(dx-dy) > evenMM {
		return nil, fmt.Errorf("%s: x_mm and y_mm must be evenly spaced by the same step (got steps of %.4g and %.4g mm over %d and %d values)", name, dx, dy, len(xs), len(ys))
	}
	at := map[[2]int]int{} // column and row to sample
	for k, s := range rows {
		key := [2]int{int(math.Round((s.x - xs[0]) / dx)), int(math.Round((s.y - ys[0]) / dy))}
		if j, twice := at[key]; twice {
			return nil, fmt.Errorf("%s:%d: the place (%g, %g) stands already in line %d; keep one", name, s.line, s.x, s.y, rows[j].line)
		}
		at[key] = k
	}
	reach := min(xs[len(xs)-1], -xs[0], ys[len(ys)-1], -ys[0])
	for i, x := range xs {
		for j, y := range ys {
			if _, ok := at[[2]int{i, j}]; !ok && math.Hypot(x, y) <= reach {
				return nil, fmt.Errorf("%s: no value at (%.3g, %.3g) mm; a map with holes cannot be used: cut it to the part without any", name, x, y)
			}
		}
	}
	// A cell that reaches beyond the whole disc may lack a corner.
	f := &field{radiusMM: reach - dx*math.Sqrt2, stepMM: dx, places: rows}
	f.fill = func(v []float64) read {
		return func(x, y float64) float64 {
			fx, fy := (x-xs[0])/dx, (y-ys[0])/dy
			i, j := int(fx), int(fy)
			return between(fx-float64(i), fy-float64(j), func(a, b int) float64 { return v[at[[2]int{i + a, j + b}]] })
		}
	}
	return f, nil
}

// between is the bilinear mean of four corners.
func between(tx, ty float64, corner func(i, j int) float64) float64 {
	low := (1-tx)*corner(0, 0) + tx*corner(1, 0)
	high := (1-tx)*corner(0, 1) + tx*corner(1, 1)
	return (1-ty)*low + ty*high
}

// radialField orders the places of rings and meridians and refuses holes.
func radialField(rows []sample, name string) (*field, error) {
	var rings, angles []float64
	for i, s := range rows {
		rows[i].y = math.Mod(s.y+720, 360)
		rings = append(rings, s.x)
		if s.x > evenMM {
			angles = append(angles, rows[i].y)
		}
	}
	rings, angles = axis(rings), axis(angles)
	turn := 360 / float64(len(angles))
	if step := even(angles); len(angles) < 16 || math.Abs(step-turn) > evenMM {
		return nil, fmt.Errorf("%s: angle_deg must be at least 16 even steps of a whole turn (got %d angles)", name, len(angles))
	}
	if rings[0] > evenMM {
		rings = append([]float64{0}, rings...)
	}
	at := map[[2]int]int{}
	for k, s := range rows {
		i, _ := slices.BinarySearchFunc(rings, s.x, near)
		j, _ := slices.BinarySearchFunc(angles, s.y, near)
		if i == 0 {
			j = 0
		}
		if _, twice := at[[2]int{i, j}]; twice && i > 0 {
			return nil, fmt.Errorf("%s:%d: ring %g mm at %g degrees stands twice; keep one", name, s.line, s.x, s.y)
		}
		at[[2]int{i, j}] = k
	}
	widest := rings[0]
	for i := 1; i < len(rings); i++ {
		widest = math.Max(widest, rings[i]-rings[i-1])
		for j := range angles {
			if _, ok := at[[2]int{i, j}]; !ok {
				return nil, fmt.Errorf("%s: ring %.3g mm has no value at %.4g degrees; a map with holes cannot be used: leave out the rings beyond the last whole one", name, rings[i], angles[j])
			}
		}
	}
	f := &field{radiusMM: rings[len(rings)-1], stepMM: widest, places: cartesian(rows)}
	f.fill = func(v []float64) read { return radialRead(rings, angles, at, v) }
	return f, nil
}

func near(a, b float64) int {
	switch {
	case a < b-evenMM:
		return -1
	case a > b+evenMM:
		return 1
	}
	return 0
}

// cartesian turns rings and angles into x and y.
func cartesian(rows []sample) []sample {
	out := slices.Clone(rows)
	for i, s := range rows {
		sin, cos := math.Sincos(s.y * math.Pi / 180)
		out[i].x, out[i].y = s.x*cos, s.x*sin
	}
	return out
}

// radialRead reads between rings and meridians; where the file has no centre,
// that is the mean of the first ring.
func radialRead(rings, angles []float64, at map[[2]int]int, v []float64) read {
	centre := 0.0
	if k, ok := at[[2]int{0, 0}]; ok {
		centre = v[k]
	} else {
		for j := range angles {
			centre += v[at[[2]int{1, j}]] / float64(len(angles))
		}
	}
	n, last := len(angles), len(rings)-2
	return func(x, y float64) float64 {
		r := math.Hypot(x, y)
		i, _ := slices.BinarySearch(rings, r)
		i = min(max(i-1, 0), last)
		turns := math.Mod(math.Atan2(y, x)*180/math.Pi-angles[0]+720, 360) / 360 * float64(n)
		j := int(turns)
		return between((r-rings[i])/(rings[i+1]-rings[i]), turns-float64(j), func(a, b int) float64 {
			if i+a == 0 {
				return centre
			}
			return v[at[[2]int{i + a, (j + b) % n}]]
		})
	}
}
