package psf

import (
	"fmt"
	"math"
)

// Beside is the light that passes beside a displaced lens. It is so far out of
// focus that its image of a point is degrees wide, so rays tell where it goes:
// light that enters at (x, y) is seen at (-dW/dx, +dW/dy), each small cell of
// the pupil at a small rectangle. Its path and that through the lens are tens of
// waves apart and change apart by many more over the pupil, so in white light no
// fringes are left between the two and their light adds.
type Beside struct {
	// Share is the share of all the light, above 0 and below 1, by what the
	// retina counts ([StilesCrawford] where that is on).
	Share float64
	beams []beam // weights adding to 1
}

// beam is the light of one cell of the pupil at one wavelength: as the patient
// sees it, the middle and half the sides of the rectangle it spreads over.
type beam struct {
	x, y, halfX, halfY float64 // degrees
	weight             float64
}

// besideCells is how many cells of the pupil lie across: at 15 D and 8 mm one
// is seen 2.6 minutes of arc wide.
const besideCells = 160

// bare is a cell of the pupil with light beside the lens.
type bare struct{ x, y, weight float64 }

// newBeside returns the light that passes beside the lens, nil for none. Where
// nothing passes through the lens, the aperture becomes that of all the light,
// without a lens.
func newBeside(a *Aperture, lines []Line, opt Options) (*Beside, error) {
	if a.InsideMM == nil {
		return nil, nil
	}
	cells, through, err := a.bareCells(opt)
	if err != nil || len(cells) == 0 {
		return nil, err
	}
	if through == 0 {
		a.PathUM, a.InsideMM = a.BesideUM, nil
		return nil, nil
	}
	all := 0.0
	for _, c := range cells {
		all += c.weight
	}
	b := &Beside{Share: all / (all + through)}
	for _, c := range cells {
		c.weight /= all
		if b.beams, err = a.appendBeams(b.beams, c, lines, opt); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// bareCells returns the cells with light beside the lens, and the light that
// passes through it in the same unit.
func (a Aperture) bareCells(opt Options) (cells []bare, through float64, err error) {
	r, side := a.DiameterMM/2, a.DiameterMM/besideCells
	for k := range besideCells * besideCells {
		x, y := (float64(k%besideCells)+0.5)*side-r, (float64(k/besideCells)+0.5)*side-r
		cover := coverage(x, y, r, side)
		if cover == 0 {
			continue
		}
		amp, err := a.amplitude(x, y)
		if err != nil {
			return nil, 0, err
		}
		if opt.StilesCrawford {
			amp *= StilesCrawford(x+float64(a.CentreMM.X), y+float64(a.CentreMM.Y))
		}
		in := a.through(x, y, side)
		through += cover * in * amp * amp
		if out := cover * (1 - in) * amp * amp; out > 0 {
			cells = append(cells, bare{x, y, out})
		}
	}
	return cells, through, nil
}

// appendBeams adds the beams of one cell at all wavelengths. With R the change
// of focus with wavelength and h the side of the cell,
//
//	x = -(dW/dx - R x),  y = +(dW/dy - R y)
//	half sides of curvature C = |d²W/dx² - R| or |d²W/dy² - R|: C h/2, with the
//	softness of an edge, 0.4 sqrt(lambda C), added in squares
func (a Aperture) appendBeams(beams []beam, c bare, lines []Line, opt Options) ([]beam, error) {
	const e = 0.01 // mm between the points of a slope
	r, side := a.DiameterMM/2, a.DiameterMM/besideCells
	x, y := c.x, c.y
	if out := math.Hypot(x, y) / (r - 2*e); out > 1 {
		x, y = x/out, y/out // cells on the rim: the slope a hair further in
	}
	w, right, left := a.BesideUM(x, y), a.BesideUM(x+e, y), a.BesideUM(x-e, y)
	up, down := a.BesideUM(x, y+e), a.BesideUM(x, y-e)
	gx, gy := (right-left)/(2*e), (up-down)/(2*e)
	bx, by := (right-2*w+left)/(e*e), (up-2*w+down)/(e*e)
	if !finite(gx + gy + bx + by) {
		return nil, fmt.Errorf("psf: path beside the lens at pupil point (%.3f, %.3f) mm: must be a finite number of µm; does the wavefront cover the whole %.2f mm pupil?", x, y, a.DiameterMM)
	}
	const perDegree = 1 / (1000 * degree) // of a slope in µm per mm
	for _, l := range lines {
		shift := focusShift(l.NM, opt)
		beams = append(beams, beam{
			x: -(gx - shift*(x+float64(a.CentreMM.X))) * perDegree, y: (gy - shift*(y+float64(a.CentreMM.Y))) * perDegree,
			halfX: halfSide(bx-shift, side, l.NM), halfY: halfSide(by-shift, side, l.NM),
			weight: c.weight * l.Weight,
		})
	}
	return beams, nil
}

// softness is how much of sqrt(lambda C), the width of the first fringe at the
// shadow of an edge, stands for what diffraction takes off its sharpness: where
// rays and diffraction come nearest in a crescent 14 D out of focus.
const softness = 0.4

// halfSide is half the side of a cell's image, degrees: curvature in µm/mm² (D),
// side in mm, wavelength in nm.
func halfSide(curvature, sideMM, nm float64) float64 {
	c := math.Abs(curvature)
	return math.Hypot(c*sideMM/2/1000, softness*math.Sqrt(nm*1e-9*c)) / degree
}

// otf is the transfer function of the light beside the lens,
//
//	sum of w sinc(2 fx halfX) sinc(2 fy halfY) exp(-2 pi i (fx x + fy y))
func (b *Beside) otf(fx, fy float64) complex128 {
	var re, im float64
	for _, k := range b.beams {
		s, c := math.Sincos(2 * math.Pi * (fx*k.x + fy*k.y))
		w := k.weight * sinc(2*fx*k.halfX) * sinc(2*fy*k.halfY)
		re, im = re+w*c, im-w*s
	}
	return complex(re, im)
}

// Spread is where light goes on a lattice of samples whose sample (0, 0) has its
// middle straight ahead.
type Spread struct {
	Left, Top int       // place of Pix[0], samples right of and above straight ahead
	W, H      int       // samples across and down
	Pix       []float32 // share of the light, [y][x], row 0 at the top; adds to 1
}

// On returns the light beside the lens on samples of stepDeg degrees, each
// holding what falls on it. It panics on a step not above 0.
func (b *Beside) On(stepDeg float64) Spread {
	if !(stepDeg > 0) {
		panic(fmt.Sprintf("psf: On needs a step above 0 degrees (got %g)", stepDeg))
	}
	x0, x1, y0, y1 := b.bounds()
	sample := func(v float64) int { return int(math.Floor(v/stepDeg + 0.5)) }
	s := Spread{Left: sample(x0), Top: sample(y1)}
	s.W, s.H = sample(x1)-s.Left+1, s.Top-sample(y0)+1
	sum := make([]float64, s.W*s.H)
	for _, k := range b.beams {
		k.x, k.y, k.halfX, k.halfY = k.x/stepDeg, k.y/stepDeg, k.halfX/stepDeg, k.halfY/stepDeg
		s.add(sum, k)
	}
	s.Pix = make([]float32, len(sum))
	for i, v := range sum {
		s.Pix[i] = float32(v)
	}
	return s
}

// bounds is the box all light falls in, degrees.
func (b *Beside) bounds() (x0, x1, y0, y1 float64) {
	x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, k := range b.beams {
		x0, x1 = min(x0, k.x-k.halfX), max(x1, k.x+k.halfX)
		y0, y1 = min(y0, k.y-k.halfY), max(y1, k.y+k.halfY)
	}
	return x0, x1, y0, y1
}

// ReachDeg is how far from straight ahead, across or down, the light falls.
func (b *Beside) ReachDeg() float64 {
	x0, x1, y0, y1 := b.bounds()
	return max(-x0, x1, -y0, y1)
}

// add lays one beam, in samples, over those it meets.
func (s *Spread) add(sum []float64, k beam) {
	left, right := k.x-k.halfX-float64(s.Left)+0.5, k.x+k.halfX-float64(s.Left)+0.5
	top, bottom := float64(s.Top)-k.y-k.halfY+0.5, float64(s.Top)-k.y+k.halfY+0.5
	for j := max(0, int(top)); j <= min(s.H-1, int(bottom)); j++ {
		across := k.weight * overlap(top, bottom, j)
		for i := max(0, int(left)); i <= min(s.W-1, int(right)); i++ {
			sum[j*s.W+i] += across * overlap(left, right, i)
		}
	}
}

// overlap is the share of the stretch from a to b that lies on sample i, from i
// to i+1; all of it on its own sample when it has no length to speak of.
func overlap(a, b float64, i int) float64 {
	const point = 1e-6
	if b-a < point {
		if int(a) == i {
			return 1
		}
		return 0
	}
	return max(0, min(b, float64(i)+1)-max(a, float64(i))) / (b - a)
}
