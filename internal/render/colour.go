package render

import (
	"fmt"

	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/unit"
)

// Colour is how a picture treats the colours of a point of light.
type Colour int

// The three ways with colour.
const (
	// Shared spreads the three primaries alike, as white light is spread: whoever
	// looks at the picture has the same colour error in their own eye.
	Shared Colour = iota
	// Beyond is Shared with the primaries apart by what this eye has more than a
	// usual one: the colours that a displaced lens and a pupil off its axis part.
	Beyond
	// Own spreads each primary for itself: all fringes of this eye, for teaching.
	Own
)

// Colours names the ways, by Colour.
var Colours = [...]string{"shared", "beyond", "own"}

// FocusNM is the wavelength that is in focus where a refraction says so: the
// brightest of daylight, as for all numbers of this program.
const FocusNM = 555

// PrimaryLines is the number of wavelengths of each primary where they differ.
const PrimaryLines = 7

// LCA is a formula of the eye's focus by wavelength.
type LCA int

// The formulas.
const (
	Thibos LCA = iota
	AtchisonSmith
)

// LCAs names the formulas for flags and records, by LCA; LCASources for people.
var (
	LCAs       = [...]string{"thibos", "atchison-smith"}
	LCASources = [...]string{"Thibos 1992", "Atchison and Smith 2005"}
)

// Manner says how the light of a picture is drawn, besides the eye's state; the zero
// value is the usual way.
type Manner struct {
	Colour   Colour
	LCA      LCA
	Ring     bool    // layer: the ring round lamps of a natural lens
	Needles  bool    // layer: the needles round lamps of a natural lens
	TintFrom float64 // years: a natural lens takes what it takes more than one of that age; 0 leaves that out
	Nerve    Nerve   // how field loss is drawn
}

// Optics returns the options of the spread in this manner.
func (m Manner) Optics() psf.Options {
	o := psf.Options{LCA: psf.Thibos, FocusNM: FocusNM, StilesCrawford: true}
	if m.LCA == AtchisonSmith {
		o.LCA = psf.AtchisonSmith
	}
	return o
}

// Spread is how the light of a point is spread, for each primary.
type Spread struct{ R, G, B *psf.PSF }

// OneSpread is the same for the three primaries.
func OneSpread(p *psf.PSF) Spread { return Spread{p, p, p} }

func (s Spread) primaries() [3]*psf.PSF { return [3]*psf.PSF{s.R, s.G, s.B} }

func (s Spread) shared() bool { return s.R == s.G && s.G == s.B }

// Spread computes how a state spreads the light of a point. Errors are those of
// package psf, and a displaced lens that cannot be traced in a colour.
func (m Manner) Spread(s eye.State) (Spread, error) {
	if m.Colour == Shared {
		p, err := psf.Compute(s.Aperture(), White(), m.Optics())
		return OneSpread(p), err
	}
	places, err := m.places(s)
	if err != nil {
		return Spread{}, err
	}
	if m.Colour == Own {
		return m.own(s, places)
	}
	return m.beyond(s, places)
}

// tone is one wavelength of a primary: its share, and where it is seen.
type tone struct {
	psf.Placed
	nm float64
}

// places works out what displaced lens and pupil do to the wavelengths.
func (m Manner) places(s eye.State) (p [3][]tone, err error) {
	for c, lines := range light.Primaries(PrimaryLines) {
		for _, l := range lines {
			at, err := m.place(s, unit.NM(l.NM))
			if err != nil {
				return p, err
			}
			p[c] = append(p[c], tone{psf.Placed{At: at, Weight: l.Weight}, l.NM})
		}
	}
	return p, nil
}

// pupilPlace is where a wavelength is seen because of the pupil's place; that of a
// pinhole in the pupil counts as the pupil's.
func (m Manner) pupilPlace(s eye.State, nm float64) unit.SightPoint {
	off := s.Colours.PupilOff
	off.X, off.Y = off.X+s.PupilAt.X, off.Y+s.PupilAt.Y
	return psf.PupilFringe(off, nm, m.Optics())
}

// beyond lays the white spread out as each primary's wavelengths lie,
//
//	P_c(u) = sum over λ of w_c(λ) P_white(u - u_λ)
//
// the white one without what the pinhole's place does to colours, which is in u.
func (m Manner) beyond(s eye.State, at [3][]tone) (Spread, error) {
	opt := m.Optics()
	opt.Transverse = func(nm float64) unit.SightPoint {
		a := psf.PupilFringe(s.PupilAt, nm, opt)
		return unit.SightPoint{X: -a.X, Y: -a.Y}
	}
	white, err := psf.Compute(s.Aperture(), White(), opt)
	if err != nil {
		return Spread{}, err
	}
	var out [3]*psf.PSF
	for c := range out {
		var placed []psf.Placed
		for _, l := range at[c] {
			placed = append(placed, l.Placed)
		}
		out[c] = white.Laid(placed)
	}
	return Spread{out[0], out[1], out[2]}, nil
}

// own spreads each primary in its own wavelengths, each in its own focus and place.
func (m Manner) own(s eye.State, at [3][]tone) (Spread, error) {
	var out [3]*psf.PSF
	for c := range out {
		where, opt := map[float64]unit.SightPoint{}, m.Optics()
		var lines []psf.Line
		for _, l := range at[c] {
			pinhole := psf.PupilFringe(s.PupilAt, l.nm, opt) // the aperture has it already
			where[l.nm] = unit.SightPoint{X: l.At.X - pinhole.X, Y: l.At.Y - pinhole.Y}
			lines = append(lines, psf.Line{NM: l.nm, Weight: l.Weight})
		}
		opt.Transverse = func(nm float64) unit.SightPoint { return where[nm] }
		p, err := psf.Compute(s.Aperture(), lines, opt)
		if err != nil {
			return Spread{}, fmt.Errorf("%s light: %w", primaryNames[c], err)
		}
		out[c] = p
	}
	return Spread{out[0], out[1], out[2]}, nil
}

var primaryNames = [...]string{"red", "green", "blue"}
