package light

import (
	"fmt"
	"math"
)

// Average returns the picture averaged over blocks of k x k pixels, which keeps
// the light. It is an error when k is below 1 or does not divide both sides.
func (m *Image) Average(k int) (*Image, error) {
	if k < 1 || m.W%k != 0 || m.H%k != 0 {
		return nil, fmt.Errorf("averaging %d x %d pixels by %d: expected a positive divisor of both sides", m.W, m.H, k)
	}
	g := Grid{m.W / k, m.H / k, m.StepDeg * float64(k), m.LeftDeg, m.TopDeg}
	out := NewImage(g)
	src := m.Planes()
	for p, dst := range out.Planes() {
		average(dst, src[p], g.W, g.H, k)
	}
	return out, nil
}

func average(dst, src []float32, w, h, k int) {
	for j := range h {
		for i := range w {
			var sum float64
			for y := j * k; y < (j+1)*k; y++ {
				row := src[y*w*k+i*k:][:k]
				for _, v := range row {
					sum += float64(v)
				}
			}
			dst[j*w+i] = float32(sum / float64(k*k))
		}
	}
}

// alignTolerance is how far, in pixels, a crop may lie from the pixel lattice:
// rounding of sums of steps, never a visible shift.
const alignTolerance = 1e-6

// Crop returns the part of the picture on g, which must have the same step, lie
// on the same lattice and inside the picture; otherwise it is an error.
func (m *Image) Crop(g Grid) (*Image, error) {
	fi, fj := m.Pixel(g.Centre(0, 0))
	i0, j0 := int(math.Round(fi)), int(math.Round(fj))
	off := max(math.Abs(fi-float64(i0)), math.Abs(fj-float64(j0)))
	if math.Abs(g.StepDeg/m.StepDeg-1) > alignTolerance || !(off <= alignTolerance) {
		return nil, fmt.Errorf("crop: grid of %g degree steps is not on the picture's lattice of %g degree steps (%g pixels off)", g.StepDeg, m.StepDeg, off)
	}
	if i0 < 0 || j0 < 0 || i0+g.W > m.W || j0+g.H > m.H {
		return nil, fmt.Errorf("crop: %d x %d pixels at (%d, %d) reach outside the picture of %d x %d", g.W, g.H, i0, j0, m.W, m.H)
	}
	out := NewImage(g)
	src := m.Planes()
	for p, dst := range out.Planes() {
		for j := range g.H {
			copy(dst[j*g.W:(j+1)*g.W], src[p][(j0+j)*m.W+i0:][:g.W])
		}
	}
	return out, nil
}

// Resample returns the picture on another grid by Catmull-Rom interpolation in
// angle. Beyond its edge the picture goes on with its outermost row or column.
// It does not average: before going to a coarser step use [Image.Average].
func (m *Image) Resample(g Grid) *Image {
	out := NewImage(g)
	fi, fj := m.Pixel(g.Centre(0, 0))
	ratio := g.StepDeg / m.StepDeg
	cols, down := taps(fi, ratio, g.W, m.W), taps(fj, ratio, g.H, m.H)
	src := m.Planes()
	for p, dst := range out.Planes() {
		resample(dst, src[p], m.W, cols, down)
	}
	return out
}

// tap is one output sample: four input samples and their weights.
type tap struct {
	at [4]int
	w  [4]float32
}

// taps returns the taps of n samples at first + ratio k on a line of size.
func taps(first, ratio float64, n, size int) []tap {
	out := make([]tap, n)
	for k := range out {
		x := first + ratio*float64(k)
		base := math.Floor(x)
		t := x - base
		out[k].w = catmullRom(t)
		for q := range 4 {
			out[k].at[q] = max(0, min(size-1, int(base)+q-1))
		}
	}
	return out
}

// catmullRom returns the weights of the samples at -1, 0, 1, 2 for a value at
// 0 <= t < 1 (cubic through the samples, slope from the neighbours).
func catmullRom(t float64) [4]float32 {
	return [4]float32{
		float32(0.5 * t * (t*(2-t) - 1)),
		float32(0.5 * (t*t*(3*t-5) + 2)),
		float32(0.5 * t * (t*(4-3*t) + 1)),
		float32(0.5 * t * t * (t - 1)),
	}
}

// resample interpolates each needed input row across, then between rows. The
// four rows of a tap differ by less than four, so four slots hold them.
func resample(dst, src []float32, srcW int, cols, down []tap) {
	rows(len(down), func(from, to int) {
		var slots [4]struct {
			at   int
			line []float32
		}
		for k := range slots {
			slots[k].at, slots[k].line = -1, make([]float32, len(cols))
		}
		row := func(j int) []float32 {
			s := &slots[j%4]
			if s.at != j {
				across(s.line, src[j*srcW:][:srcW], cols)
				s.at = j
			}
			return s.line
		}
		for j, t := range down[from:to] {
			between(dst[(from+j)*len(cols):][:len(cols)], t.w, row(t.at[0]), row(t.at[1]), row(t.at[2]), row(t.at[3]))
		}
	})
}

func across(dst, line []float32, cols []tap) {
	for i := range dst {
		c := &cols[i]
		dst[i] = c.w[0]*line[c.at[0]] + c.w[1]*line[c.at[1]] + c.w[2]*line[c.at[2]] + c.w[3]*line[c.at[3]]
	}
}

func between(dst []float32, w [4]float32, a, b, c, d []float32) {
	for i := range dst {
		dst[i] = w[0]*a[i] + w[1]*b[i] + w[2]*c[i] + w[3]*d[i]
	}
}
