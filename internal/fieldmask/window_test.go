package fieldmask

import (
	"math"
	"testing"

	"simview/internal/light"
)

// shrink averages blocks of n x n samples.
func shrink(m *light.Image, n int) *light.Image {
	out := light.NewImage(light.Grid{W: m.W / n, H: m.H / n, StepDeg: m.StepDeg * float64(n), LeftDeg: m.LeftDeg, TopDeg: m.TopDeg})
	for c, p := range m.Planes() {
		o := out.Planes()[c]
		for q := range o {
			s := float32(0)
			for k := range n * n {
				s += p[(q/out.W*n+k/n)*m.W+q%out.W*n+k%n]
			}
			o[q] = s / float32(n*n)
		}
	}
	return out
}

// cut takes w x h samples from (i, j) on.
func cut(m *light.Image, i, j, w, h int) *light.Image {
	out := light.NewImage(light.Grid{W: w, H: h, StepDeg: m.StepDeg, LeftDeg: m.LeftDeg + float64(i)*m.StepDeg, TopDeg: m.TopDeg - float64(j)*m.StepDeg})
	for c, p := range m.Planes() {
		for y := range h {
			copy(out.Planes()[c][y*w:(y+1)*w], p[(j+y)*m.W+i:(j+y)*m.W+i+w])
		}
	}
	return out
}

// windowAgreement runs a scene wide at 1 minute of arc and as a window of a
// quarter of that, and returns the share of samples, a degree or more
// inside the window, that agree to 1/255 of white.
func windowAgreement(loss Loss) float64 {
	const n, white = 4, 110.0
	fine := street(1.0 / 240) // 20 x 15 degrees
	fine = cut(fine, 5*240, 4*240, 10*240, 8*240)
	for c, p := range fine.Planes() { // as the eye's optics blur it: 1 minute of arc
		copy(fine.Planes()[c], blurEdge(p, fine.W, fine.H, gaussTaps(4)))
	}
	wide := shrink(fine, n)
	in := lit(wide)
	seen, low := See(in, loss, Options{Gaze: pt(-1, 1)})
	left, top := 4*240, 2*240
	w := SeeWindow(Light{Retina: cut(fine, left, top, 4*240, 3*240)}, loss, Options{Gaze: pt(-1, 1)}, low)
	got, want := shrink(w, n), cut(seen, left/n, top/n, w.W/n, w.H/n)
	good, all := 0, 0
	for q, v := range got.G {
		i, j := q%got.W, q/got.W
		if min(i, got.W-1-i, j, got.H-1-j) < 60 {
			continue
		}
		all++
		if math.Abs(float64(v-want.G[q])) <= white/255 {
			good++
		}
	}
	return float64(good) / float64(all)
}

func TestWindowAgreesWithItsWidePicture(t *testing.T) {
	if testing.Short() {
		t.Skip("slow")
	}
	arc := func(x, y float64) float64 {
		r := math.Hypot(x, y)
		return 25 * smoothStep((r-1)/2) * smoothStep((2-y)/2)
	}
	if share := windowAgreement(arc); share < 0.995 {
		t.Errorf("%.2f %% of the samples agree", 100*share)
	}
}
