package compare

import (
	"fmt"
	"slices"

	"simview/internal/csf"
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/render"
)

// Layers are the names of the layers round lamps.
var Layers = []string{"ring", "needles"}

// manner reads the settings of colour and layers; what is not said is the usual.
func (s Settings) manner() (m render.Manner, err error) {
	if m.Colour, err = named[render.Colour]("colour", s.Colour, render.Colours[:]); err != nil {
		return m, err
	}
	if m.LCA, err = named[render.LCA]("lca", s.LCA, render.LCAs[:]); err != nil {
		return m, err
	}
	for _, l := range s.Layers {
		if _, err := named[int]("layers", l, Layers); err != nil {
			return m, err
		}
	}
	m.Ring, m.Needles = slices.Contains(s.Layers, Layers[0]), slices.Contains(s.Layers, Layers[1])
	if m.TintFrom = s.LensTintFrom; m.TintFrom != 0 && !(m.TintFrom >= light.MediaFromYears && m.TintFrom <= light.MediaToYears) {
		return m, fmt.Errorf("lens tint: must be against an age from %g to %g years (got %g)", light.MediaFromYears, light.MediaToYears, m.TintFrom)
	}
	m.Nerve, err = s.nerve()
	return m, err
}

// nerve reads the settings of how field loss is drawn; what is not said is the
// usual.
func (s Settings) nerve() (n render.Nerve, err error) {
	n.NormalPeriphery, n.Outline = s.NormalPeriphery, s.Outline
	if s.CSF != "" {
		if n.Model, err = csf.Named(s.CSF); err != nil {
			return n, err
		}
	}
	if s.Appearance != "" {
		n.Appearance, err = fieldmask.ParseAppearance(s.Appearance)
	}
	return n, err
}

// named finds a word among the names of a choice; none is the first.
func named[T ~int](what, word string, names []string) (T, error) {
	if word == "" {
		return 0, nil
	}
	k := slices.Index(names, word)
	if k < 0 {
		return 0, fmt.Errorf("%s: must be one of %v (got %q)", what, names, word)
	}
	return T(k), nil
}
