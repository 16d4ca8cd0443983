package fieldmask

import (
	"math"

	"simview/internal/unit"
)

// layer is one test pattern of an eye, as loss.
type layer struct {
	side    unit.Side
	points  []lossPoint
	hull    hull
	spacing float64 // degrees, median distance to the nearest other place
	reach   float64 // degrees, largest coordinate
}

// lossPoint is one tested place and its loss in dB.
type lossPoint struct{ x, y, loss float64 }

// newLayer takes a field in total deviation.
func newLayer(td Field, share unit.PerimetricDB) layer {
	l := layer{side: td.Side}
	for _, p := range td.tested() {
		q := lossPoint{float64(p.At.X), float64(p.At.Y), NeuralLoss(p.DB, share)}
		l.points = append(l.points, q)
		l.reach = math.Max(l.reach, math.Max(math.Abs(q.x), math.Abs(q.y)))
	}
	l.hull = newHull(l.points)
	l.spacing = medianSpacing(l.points)
	return l
}

// draw returns the loss at every node of the square of 2 half + 1 nodes a side:
// towards the temple from all places together, towards the nose from those of
// the same half of the field alone. outside is each node's distance to the
// tested area.
func (l layer) draw(half int, outside []float64) []float64 {
	n := 2*half + 1
	joint := drawNatural(l.points, half, outside)
	upper := drawNatural(keepPoints(l.points, 1), half, outside)
	lower := drawNatural(keepPoints(l.points, -1), half, outside)
	if upper == nil {
		upper = joint
	}
	if lower == nil {
		lower = joint
	}
	for q := range joint {
		x := float64(q%n-half) * surfaceStep * temple(l.side)
		own := (upper[q] + lower[q]) / 2
		if row := q / n; row < half {
			own = upper[q]
		} else if row > half {
			own = lower[q]
		}
		w := smoothStep(x / seamDeg)
		joint[q] = w*joint[q] + (1-w)*own
	}
	return joint
}

// keepPoints returns the places of one half of the field, sign 1 for the upper;
// places on the midline belong to both.
func keepPoints(pts []lossPoint, sign float64) []lossPoint {
	var out []lossPoint
	for _, p := range pts {
		if p.y*sign >= 0 {
			out = append(out, p)
		}
	}
	return out
}

// medianSpacing is the median distance from a place to its nearest neighbour.
func medianSpacing(pts []lossPoint) float64 {
	var d []float64
	for i, p := range pts {
		best := math.Inf(1)
		for j, q := range pts {
			if i != j {
				best = math.Min(best, math.Hypot(p.x-q.x, p.y-q.y))
			}
		}
		d = append(d, best)
	}
	return median(d)
}
