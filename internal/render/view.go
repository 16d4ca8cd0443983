package render

import (
	"sync"

	"simview/internal/eye"
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/scene"
	"simview/internal/unit"
)

// Steps of the two pictures of a view, in degrees.
const (
	WideStepDeg   = 1.0 / 60             // the whole scene
	WindowStepDeg = 0.25 / 60            // its magnified part
	SheetStepDeg  = shrink * WideStepDeg // the whole scene on a sheet
	windowMargin  = 1.0                  // degrees drawn round the window for the field stage
	wavelengths   = 7                    // of the shared white-light PSF
	coarseStepDeg = 6.0 / 60             // straylight over the whole scene and its surround
	coarseReach   = 20.0                 // degrees of surround drawn beyond the frame
)

// View is one eye looking at one scene with its gaze on one place.
type View struct {
	Eye    eye.State
	Gaze   unit.SightPoint
	Manner Manner // how light is drawn; the zero value is the usual way
}

// Picture is one picture of a view before the display: the retinal image and
// what is seen of it, both in the light of the scene.
type Picture struct {
	Retina *light.Image
	Seen   *light.Image
	// TdPerCdM2 is the retinal illuminance in trolands that each cd/m² of Retina stands
	// for: behind a pinhole Retina is dimmer and this is as it was.
	TdPerCdM2 float64
}

// Theatre is a scene set up for both pictures of any number of views.
type Theatre struct {
	Scene  *scene.Scene
	Wide   *Stage
	Window *Stage // nil when the scene has none
}

// NewTheatre draws the scene for its wide picture, computed at half the step
// and averaged, and for its window.
func NewTheatre(s *scene.Scene) (*Theatre, error) {
	wide, err := NewStage(s, s.Grid(WideStepDeg), 2, 0)
	if err != nil {
		return nil, err
	}
	t := &Theatre{Scene: s, Wide: wide}
	if s.Window.WidthDeg > 0 {
		t.Window, err = NewStage(s, s.WindowGrid(WindowStepDeg), 1, int(windowMargin/WindowStepDeg))
	}
	return t, err
}

// White is the light of the pictures: one PSF for all primaries.
func White() []psf.Line {
	var lines []psf.Line
	for _, l := range light.White(wavelengths) {
		lines = append(lines, psf.Line{NM: l.NM, Weight: l.Weight})
	}
	return lines
}

// PSF computes the white-light point-spread function of a state.
func PSF(s eye.State) (*psf.PSF, error) {
	return psf.Compute(s.Aperture(), White(), Optics())
}

// Optics returns the options of the usual pictures and of the numbers.
func Optics() psf.Options { return Manner{}.Optics() }

// Look is [Theatre.LookThrough] with one spread for all colours.
func (t *Theatre) Look(v View, p *psf.PSF) (wide, window Picture, err error) {
	return t.LookThrough(v, OneSpread(p))
}

// LookThrough makes the wide picture of a view and, where the scene has one, its
// window, which takes its coarse bands and the light beside a displaced lens from
// the wide one.
func (t *Theatre) LookThrough(v View, p Spread) (wide, window Picture, err error) {
	loss, opt := v.loss(), v.options()
	lamps := newLights(p)
	second, err := t.Wide.beside(p.G.Beside)
	if err != nil {
		return wide, window, err
	}
	in, err := t.Wide.retina(v, lamps, second)
	if err != nil {
		return wide, window, err
	}
	wide = Picture{Retina: in.Retina, Seen: in.Retina, TdPerCdM2: v.Eye.TrolandsPerCdM2()}
	var low *fieldmask.Low
	if loss != nil {
		wide.Seen, low = fieldmask.See(in, loss, opt)
	}
	if t.Window == nil {
		return wide, window, nil
	}
	if in, err = t.Window.retina(v, lamps, second); err != nil {
		return wide, window, err
	}
	window = Picture{Retina: in.Retina, Seen: in.Retina, TdPerCdM2: v.Eye.TrolandsPerCdM2()}
	if loss != nil {
		in.Adapt = nil // as in the wide picture
		window.Seen = fieldmask.SeeWindow(in, loss, opt, low)
	}
	if window.Seen, err = window.Seen.Crop(t.Window.Frame); err != nil {
		return wide, window, err
	}
	window.Retina, err = window.Retina.Crop(t.Window.Frame)
	return wide, window, err
}

// retina makes the retinal image of a stage,
//
//	retina = keep ((1 - u) (core + lamps) + u beside) + veil
//
// u the share of the light that passes beside the lens and beside the second image
// it makes, and the luminance the place is adapted to, which leaves the lamps out.
func (st *Stage) retina(v View, lamps lights, second *layer) (fieldmask.Light, error) {
	s, m := v.Eye, v.Manner
	tint, err := m.tint(s)
	if err != nil {
		return fieldmask.Light{}, err
	}
	core, err := st.coreOf(lamps.spread)
	if err != nil {
		return fieldmask.Light{}, err
	}
	second.mix(core)
	img, keep := st.scattered(core, s.Glare)
	in := fieldmask.Light{Adapt: fieldmask.Adaptation(img), Pupil: s.TrolandsPerCdM2()}
	lamps.add(img, st.Scene.Lamps, keep*second.through()*m.core(s), st.Scene.AdaptCdM2*lampFloor)
	second.addLamps(img, keep)
	if !st.Scene.GlareOff {
		m.layersOn(img, st.Scene.Lamps, s, keep)
	}
	shade(img, in.Adapt, s.Light, tint)
	in.Retina = img
	return in, nil
}

// scattered adds the veil and returns the share the core keeps; a photograph
// whose white is unknown is not scattered.
func (st *Stage) scattered(core *light.Image, g light.Glare) (img *light.Image, keep float64) {
	if st.Scene.GlareOff {
		return core, 1
	}
	fixed, aged := st.veils.get(st, g.Pigment)
	return light.Retina(core, fixed, aged, g), g.Keep()
}

// lampFloor is the share of the adaptation luminance under which a lamp's tail
// no longer shows: a tenth of the least contrast that is seen.
const lampFloor = 5e-4

// veilCache keeps the unit veils by eye pigment; both eyes mostly share it.
type veilCache struct {
	mu   sync.Mutex
	kept map[float64][2]*light.Image
}

func (c *veilCache) get(st *Stage, pigment float64) (fixed, aged *light.Image) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.kept == nil {
		c.kept = map[float64][2]*light.Image{}
	}
	v, ok := c.kept[pigment]
	if !ok {
		v[0], v[1] = UnitVeils(st.Scene, st.Out, pigment)
		c.kept[pigment] = v
	}
	return v[0], v[1]
}

// UnitVeils are those of [light.UnitVeils] on a grid, from a scene with 20 degrees of
// what lies round it, for eyes of a pigment.
func UnitVeils(s *scene.Scene, g light.Grid, pigment float64) (fixed, aged *light.Image) {
	w, h := int((s.WidthDeg+2*coarseReach)/coarseStepDeg), int((s.HeightDeg+2*coarseReach)/coarseStepDeg)
	coarse := s.Draw(light.GridAround(0, 0, w, h, coarseStepDeg))
	return light.UnitVeils(g, coarse, s.SurroundCdM2, s.Lamps, pigment)
}
