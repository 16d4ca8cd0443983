package render

import (
	"math"
	"sync"

	"simview/internal/fft"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/unit"
)

// besideStepDeg is the step of the layer of light that passes beside a displaced
// lens: finer than its rays tell, since light bent at the lens's edge blurs that
// image by some 10 minutes of arc.
const besideStepDeg = 3.0 / 60

// besideReachDeg is how much of the scene is drawn round a picture for that
// layer, at first; an eye whose light lands further off doubles it.
const besideReachDeg = 8.0

// layer is the second image that light beside a displaced lens makes of a scene:
// of its surfaces and, apart, of its lamps. It reaches beyond the wide picture
// as far as a window does.
type layer struct {
	share           float64 // of the light
	surfaces, lamps *light.Image
}

// besideScene is a scene's surfaces as the layer needs them: on a coarse lattice
// about the picture, transformed.
type besideScene struct {
	out     light.Grid // where the layer is wanted
	margin  int        // samples drawn round it
	w, h    int
	plan    *fft.Real2D
	spectra [3][]complex64
}

// besideCache keeps that of each reach, in doublings of besideReachDeg.
type besideCache struct {
	mu   sync.Mutex
	kept map[int]*besideScene
}

// beside returns the layer of a view, nil when no light passes beside the lens.
func (st *Stage) beside(b *psf.Beside) (*layer, error) {
	if b == nil {
		return nil, nil
	}
	s, err := st.besides.get(st, b.ReachDeg())
	if err != nil {
		return nil, err
	}
	on := b.On(besideStepDeg)
	y := &layer{b.Share, s.through(on), light.NewImage(s.out)}
	for _, l := range st.Scene.Lamps {
		y.shine(l, on)
	}
	return y, nil
}

func (c *besideCache) get(st *Stage, needDeg float64) (*besideScene, error) {
	doublings := 0
	for reach := besideReachDeg; reach < needDeg+besideStepDeg; reach *= 2 {
		doublings++
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if s := c.kept[doublings]; s != nil {
		return s, nil
	}
	s, err := newBesideScene(st, math.Ldexp(besideReachDeg, doublings))
	if err == nil && c.kept == nil {
		c.kept = map[int]*besideScene{}
	}
	if err == nil {
		c.kept[doublings] = s
	}
	return s, err
}

// newBesideScene draws the scene round the picture of a stage and a window's
// margin.
func newBesideScene(st *Stage, reachDeg float64) (s *besideScene, err error) {
	const interpolation = 3 // samples that a resampling may ask for outside
	size := func(n int) int {
		return int(math.Ceil((float64(n)*st.Out.StepDeg+2*windowMargin)/besideStepDeg)) + 2*interpolation
	}
	w, h := size(st.Out.W), size(st.Out.H)
	x := st.Out.LeftDeg + float64(st.Out.W)*st.Out.StepDeg/2
	y := st.Out.TopDeg - float64(st.Out.H)*st.Out.StepDeg/2
	s = &besideScene{out: light.GridAround(x, y, w, h, besideStepDeg), margin: int(math.Ceil(reachDeg / besideStepDeg))}
	s.w, s.h = fft.GoodSize(w+2*s.margin), fft.GoodSize(h+2*s.margin)
	if s.plan, err = fft.NewReal2D(s.w, s.h); err != nil {
		return nil, err
	}
	drawn := s.out.Grow(s.margin)
	drawn.W, drawn.H = s.w, s.h
	s.spectra = spectra(s.plan, st.draw(drawn))
	return s, nil
}

// through returns the surfaces spread as on says. What wraps round at the
// drawing's borders falls on the margin.
func (s *besideScene) through(on psf.Spread) *light.Image {
	plane := make([]float32, s.w*s.h)
	for k, v := range on.Pix {
		right, down := on.Left+k%on.W, k/on.W-on.Top
		plane[(down+s.h)%s.h*s.w+(right+s.w)%s.w] = v
	}
	kernel := s.plan.Forward(nil, plane)
	spread := make([]complex64, len(kernel))
	out := light.NewImage(s.out)
	for c, dst := range out.Planes() {
		if c > 0 && same(s.spectra[c], s.spectra[0]) {
			copy(dst, out.R)
			continue
		}
		for i, v := range s.spectra[c] {
			spread[i] = v * kernel[i]
		}
		s.plan.Inverse(plane, spread)
		for j := range s.out.H {
			copy(dst[j*s.out.W:(j+1)*s.out.W], plane[(j+s.margin)*s.w+s.margin:])
		}
	}
	return out
}

// shine adds a lamp spread as on says. A lamp that gives the eye E lux adds, to a
// sample of solid angle W sr that holds the share q,
//
//	dL = E q / W
//
// each share laid over the four samples about its place. How large the lamp
// looks does not matter beside an image degrees wide.
func (y *layer) shine(l light.Lamp, on psf.Spread) {
	m := y.lamps
	omega := math.Pow(unit.Degrees(m.StepDeg).Radians(), 2)
	fi, fj := m.Pixel(float64(l.At.X), float64(l.At.Y))
	i0, j0 := int(math.Floor(fi)), int(math.Floor(fj))
	ti, tj := fi-float64(i0), fj-float64(j0)
	planes := m.Planes()
	for k, q := range on.Pix {
		if q == 0 {
			continue
		}
		i, j := i0+on.Left+k%on.W, j0+k/on.W-on.Top
		for n, part := range [4]float64{(1 - ti) * (1 - tj), ti * (1 - tj), (1 - ti) * tj, ti * tj} {
			x, row := i+n%2, j+n/2
			if x < 0 || x >= m.W || row < 0 || row >= m.H {
				continue
			}
			for c, dst := range planes {
				dst[row*m.W+x] += float32(l.Lux[c] * part * float64(q) / omega)
			}
		}
	}
}

// mix makes the image of the surfaces that of all the light, u the share beside
// the lens:
//
//	core' = (1 - u) core + u beside
func (y *layer) mix(core *light.Image) {
	if y != nil {
		blendIn(core, 1-y.share, y.surfaces, y.share)
	}
}

// through is the share of the light that passes the lens.
func (y *layer) through() float64 {
	if y == nil {
		return 1
	}
	return 1 - y.share
}

// addLamps adds the second image of the lamps, keep being the share of light
// that is not scattered.
func (y *layer) addLamps(img *light.Image, keep float64) {
	if y != nil {
		blendIn(img, 1, y.lamps, keep*y.share)
	}
}

// blendIn makes dst = a dst + b src, src brought onto dst's grid and, where the
// interpolation dips below it, held at no light.
func blendIn(dst *light.Image, a float64, src *light.Image, b float64) {
	from := src.Resample(dst.Grid).Planes()
	for c, plane := range dst.Planes() {
		for i, v := range from[c] {
			plane[i] = float32(a)*plane[i] + float32(b)*max(v, 0)
		}
	}
}
