package plot

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"simview/internal/unit"
)

// Map is the wavefront over a round pupil, its mean taken out.
type Map struct {
	PupilMM float64
	N       int       // samples across and down
	PathUM  []float64 // [y][x], row 0 at the top, clinician's axes; NaN outside the pupil and beside a lens
	RMSUM   float64
	MaxUM   float64 // largest size of the path
}

// NewMap samples a path (µm at a place in mm, clinician's axes) over a pupil,
// n by n samples (16 to 4096), for the places where covered is true, nil standing
// for all. A path that is not finite, or a pupil without a place left, is an error.
func NewMap(path func(xMM, yMM float64) float64, pupilMM float64, covered func(xMM, yMM float64) bool, n int) (*Map, error) {
	if !(pupilMM > 0) || math.IsInf(pupilMM, 1) || n < 16 || n > 4096 {
		return nil, fmt.Errorf("wavefront map: needs a pupil wider than 0 mm and 16 to 4096 samples (got %g mm, %d samples)", pupilMM, n)
	}
	m := &Map{PupilMM: pupilMM, N: n, PathUM: make([]float64, n*n)}
	sum, count := 0.0, 0.0
	for i := range m.PathUM {
		x, y := m.place(i%n, i/n)
		m.PathUM[i] = math.NaN()
		if math.Hypot(x, y) > pupilMM/2 || covered != nil && !covered(x, y) {
			continue
		}
		w := path(x, y)
		if math.IsNaN(w) || math.IsInf(w, 0) {
			return nil, fmt.Errorf("wavefront map: the path at (%.2f, %.2f) mm is no number", x, y)
		}
		m.PathUM[i] = w
		sum, count = sum+w, count+1
	}
	if count == 0 {
		return nil, fmt.Errorf("wavefront map: no place of the pupil is left")
	}
	m.level(sum/count, count)
	return m, nil
}

// place returns the middle of a sample, mm.
func (m *Map) place(i, j int) (x, y float64) {
	step := m.PupilMM / float64(m.N)
	return (float64(i)+.5)*step - m.PupilMM/2, m.PupilMM/2 - (float64(j)+.5)*step
}

func (m *Map) level(mean, count float64) {
	for i := range m.PathUM {
		m.PathUM[i] -= mean
		if w := m.PathUM[i]; !math.IsNaN(w) {
			m.RMSUM += w * w / count
			m.MaxUM = math.Max(m.MaxUM, math.Abs(w))
		}
	}
	m.RMSUM = math.Sqrt(m.RMSUM)
}

// pathColour returns the ink of a path on a scale that ends at ±end µm.
func pathColour(p *Palette, w, end float64) color.NRGBA { return p.At(.5 + w/end/2) }

// draw draws the map as a disc filling box, with a thin line wherever the path
// passes a multiple of every µm.
func (m *Map) draw(c *canvas, box image.Rectangle, end, every float64) {
	p := Diverging()
	size := min(box.Dx(), box.Dy())
	rim := float64(size) / 2
	for j := range size {
		for i := range size {
			x, y := float64(i)+.5-rim, float64(j)+.5-rim
			if math.Hypot(x, y) > rim {
				continue
			}
			w := m.near(float64(i)+.5, float64(j)+.5, size)
			if math.IsNaN(w) {
				c.img.SetNRGBA(box.Min.X+i, box.Min.Y+j, besideInk(i, j))
				continue
			}
			ink := pathColour(p, w, end)
			right, below := m.near(float64(i)+1.5, float64(j)+.5, size), m.near(float64(i)+.5, float64(j)+1.5, size)
			if crosses(w, right, every) || crosses(w, below, every) {
				ink = shaded(ink)
			}
			c.img.SetNRGBA(box.Min.X+i, box.Min.Y+j, ink)
		}
	}
	c.stroke(ink, 2, closed(disc(pixel{float64(box.Min.X) + rim, float64(box.Min.Y) + rim}, rim)))
}

// besideInk hatches what lies beside the lens.
func besideInk(i, j int) color.NRGBA {
	const every, thick = 12, 2
	if (i+j)%every < thick {
		return pastInk
	}
	return paper
}

// near returns the path of the sample under a pixel of a picture size wide; NaN
// outside the pupil.
func (m *Map) near(x, y float64, size int) float64 {
	i, j := int(x*float64(m.N)/float64(size)), int(y*float64(m.N)/float64(size))
	if i >= m.N || j >= m.N {
		return math.NaN()
	}
	return m.PathUM[j*m.N+i]
}

// crosses reports whether a multiple of every lies between two paths.
func crosses(a, b, every float64) bool {
	return !math.IsNaN(a) && !math.IsNaN(b) && math.Floor(a/every) != math.Floor(b/every)
}

func shaded(c color.NRGBA) color.NRGBA {
	const keep = 0.72
	return color.NRGBA{uint8(float64(c.R) * keep), uint8(float64(c.G) * keep), uint8(float64(c.B) * keep), 255}
}

// rimWords are the words at the right and the left rim of a map, as the
// clinician sees the eye.
func rimWords(side unit.Side) (right, left string) {
	if side.TemporalX() > 0 {
		return "temple", "nose"
	}
	return "nose", "temple"
}
