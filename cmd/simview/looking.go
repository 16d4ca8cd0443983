package main

import (
	"slices"

	"github.com/spf13/cobra"

	"simview/internal/compare"
	"simview/internal/render"
)

// looking holds the flags that commands with pictures share.
type looking struct {
	out            string
	scenes         []string
	eye            string
	moreEyes       []string // words beside right and left that --eye takes
	gaze           []float64
	tone           string
	pupilFromLight bool
	oneEye         bool
	colour, lca    string
	layers         []string
	tintFrom       float64
	nerve          nerve
	likely         likely
	photo          compare.Photo
	extrapolate    bool
}

// demoScenes are the two scenes of the complaint of the demo case; they suit
// most others too: one for the dim and one for the bright pupil.
var demoScenes = []string{"harbour-night", "tide-table"}

const (
	eyeHelp   = "right or left (default: the `eye` of the complaint)"
	maxGaze   = 60.0 // degrees
	minWidth  = 0.5  // degrees, of a photograph
	maxWidth  = 100.0
	minWhite  = 0.01 // cd/m²
	maxWhite  = 1e5
	minMetres = 0.1
	maxMetres = 1e5
)

// flags registers the flags; the scenes' default differs by command.
func (l *looking) flags(c *cobra.Command, scenes []string, scenesHelp string) {
	f := c.Flags()
	f.StringSliceVar(&l.scenes, "scene", scenes, scenesHelp)
	eyeFlag(c, &l.eye, l.moreEyes...)
	f.Float64SliceVar(&l.gaze, "gaze-deg", []float64{0, 0}, "where the eye looks: `x,y` in degrees from the scene's centre, right and up are positive, -60 to 60; given several times, at most 8, each is a view of its own")
	f.StringVar(&l.tone, "tone", compare.ByScene, "tone `curve`: linear, photographic, visibility (what was visible stays visible, what was hidden hidden), or by-scene (linear by day, photographic by night)")
	f.BoolVar(&l.pupilFromLight, "pupil-from-light", false, "the pupil usual for the scene's light, its size and the age, instead of that of the case")
	f.BoolVar(&l.oneEye, "one-eye", false, "with --pupil-from-light: the other eye is covered, and the pupil wider")
	f.StringVar(&l.colour, "colour", render.Colours[0], "how the `colours` of a point are drawn: shared (one spread for all; the usual), beyond (parted by displaced lens and pupil only), own (all fringes of this eye, for teaching)")
	lcaFlag(c, &l.lca)
	f.StringSliceVar(&l.layers, "layers", nil, "add `layers` round lamps to an eye with its natural lens, with a comma between them: ring, needles; typical, measured in nobody")
	f.Float64Var(&l.tintFrom, "lens-tint-from-years", 0, "tint natural lenses by age, against one of so many `years`, 16 to 90; 0 leaves it out")
	f.StringVar(&l.photo.File, "photo", "", "a photograph of your own as a scene (`file`: PNG, JPEG or TIFF)")
	f.Float64Var(&l.photo.WidthDeg, "photo-width-deg", 0, "how wide the photograph is, in `degrees`, 0.5 to 100")
	f.Float64Var(&l.photo.WhiteCdM2, "photo-white-cdm2", 0, "luminance of the photograph's white in `cd/m²`, 0.01 to 100000; without it glare is off")
	f.Float64Var(&l.photo.DistanceM, "photo-distance-m", 100, "distance of what is photographed, in `metres`, 0.1 to 100000")
	f.BoolVar(&l.extrapolate, "extrapolate", false, "let a pupil be wider than the measured wavefront (the panel says so)")
	l.nerve.flags(c)
	complete(c, "scene", sceneWords)
	complete(c, "tone", fixedWords(tones...))
	complete(c, "colour", fixedWords(render.Colours[:]...))
	complete(c, "layers", fixedWords(compare.Layers...))
}

var tones = []string{compare.ByScene, "linear", "photographic", "visibility"}

// settings checks the flags against the case.
func (l *looking) settings(cmd *cobra.Command, c opened) (compare.Settings, error) {
	s := compare.Settings{Tone: l.tone, Extrapolate: l.extrapolate, Scenes: l.scenes}
	side, err := c.side(l.eye)
	if err != nil {
		return s, err
	}
	s.Eye = side.String()
	if err := knownTone(s.Tone); err != nil {
		return s, err
	}
	if err := l.gazes(&s); err != nil {
		return s, err
	}
	if err := l.manner(&s); err != nil {
		return s, err
	}
	if err := l.nerve.settings(&s); err != nil {
		return s, err
	}
	if err := l.likely.settings(cmd, &s); err != nil {
		return s, err
	}
	if l.oneEye && !l.pupilFromLight {
		return s, usagef("--one-eye: goes with --pupil-from-light; a measured pupil is taken as it is")
	}
	s.PupilFromLight, s.OneEye = l.pupilFromLight, l.oneEye
	if err := distinct("--scene", l.scenes); err != nil {
		return s, err
	}
	s.Scenes = slices.Clone(l.scenes)
	if err := ownScenes(&s); err != nil {
		return s, err
	}
	if l.photo.File == "" && len(l.scenes) == 0 {
		return s, usagef("--scene: names no scene; hint: `simview scenes` lists them")
	}
	if err := l.photograph(cmd); err != nil {
		return s, err
	}
	if l.photo.File != "" {
		s.Photo = &l.photo
	}
	return s, nil
}

// manner checks how light is drawn; the usual stays unsaid.
func (l *looking) manner(s *compare.Settings) error {
	if !slices.Contains(render.Colours[:], l.colour) {
		return usagef("--colour: must be shared, beyond or own (got %q)", l.colour)
	}
	if err := knownLCA(l.lca); err != nil {
		return err
	}
	if l.tintFrom != 0 && !within(l.tintFrom, 16, 90) {
		return usagef("--lens-tint-from-years: must be 16 to 90, or 0 to leave the tint out (got %g)", l.tintFrom)
	}
	for _, layer := range l.layers {
		if !slices.Contains(compare.Layers, layer) {
			return usagef("--layers: must be ring or needles (got %q)", layer)
		}
	}
	if l.colour != render.Colours[0] {
		s.Colour = l.colour
	}
	if l.lca != lcaNames[0] {
		s.LCA = l.lca
	}
	s.Layers, s.LensTintFrom = slices.Clone(l.layers), l.tintFrom
	return distinct("--layers", l.layers)
}

// photograph checks what is said about the photograph.
func (l *looking) photograph(c *cobra.Command) error {
	given := func(name string) bool { return c.Flags().Changed(name) }
	p := l.photo
	if p.File == "" {
		for _, name := range []string{"photo", "photo-width-deg", "photo-white-cdm2", "photo-distance-m"} {
			if given(name) {
				return usagef("--%s: no photograph is named; hint: --photo FILE names it", name)
			}
		}
		return nil
	}
	switch {
	case !given("photo-width-deg"):
		return usagef("--photo: needs --photo-width-deg; hint: a fist at arm's length is about 10 degrees wide, a phone's main camera takes in about 65")
	case !within(p.WidthDeg, minWidth, maxWidth):
		return usagef("--photo-width-deg: must be 0.5 to 100 (got %g)", p.WidthDeg)
	case given("photo-white-cdm2") && !within(p.WhiteCdM2, minWhite, maxWhite):
		return usagef("--photo-white-cdm2: must be 0.01 to 100000, or be left out (got %g)", p.WhiteCdM2)
	case !within(p.DistanceM, minMetres, maxMetres):
		return usagef("--photo-distance-m: must be 0.1 to 100000 (got %g)", p.DistanceM)
	}
	return nil
}

// within is false for NaN.
func within(v, low, high float64) bool { return v >= low && v <= high }

// distinct refuses a word that is there twice.
func distinct(flag string, words []string) error {
	for i, w := range words {
		if slices.Contains(words[:i], w) {
			return usagef("%s: names %s twice", flag, w)
		}
	}
	return nil
}
