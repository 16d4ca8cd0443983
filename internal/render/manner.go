package render

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/unit"
)

// NeedleSeed draws the particles of every lens.
const NeedleSeed = 1

// Brief names for a heading what is not the usual in colour, layers and tint.
func (m Manner) Brief() string {
	var on []string
	if m.Colour != Shared {
		on = append(on, [...]string{Beyond: "colours parted by lens and pupil", Own: "own colour fringes"}[m.Colour])
	}
	if layers := m.layerWords(); layers != "" {
		on = append(on, layers+" added")
	}
	if m.TintFrom > 0 {
		on = append(on, "natural lenses tinted")
	}
	return strings.Join(on, ", ")
}

// Words says how colour, layers and tint are drawn, in sentences.
func (m Manner) Words() string {
	words := [...]string{
		Shared: "Colour: one spread of light for all",
		Beyond: "Colour: one spread of light for all, parted by displaced lens and pupil",
		Own:    "Colour: each spread as in this eye, all its fringes, for teaching; their owner does not notice most of them",
	}[m.Colour]
	words += fmt.Sprintf("; %d nm in focus (%s).", FocusNM, LCASources[m.LCA])
	if layers := m.layerWords(); layers != "" {
		words += " Layers added round lamps, for natural lenses only: " + layers + "; typical, measured in nobody."
	}
	if m.TintFrom > 0 {
		words += fmt.Sprintf(" Natural lenses are tinted by their age, against one of %g years.", m.TintFrom)
	}
	return words
}

func (m Manner) layerWords() string {
	var on []string
	if m.Ring {
		on = append(on, "ring")
	}
	if m.Needles {
		on = append(on, "needles")
	}
	return strings.Join(on, " and ")
}

// Notes are what a panel must say of a state drawn in this manner.
func (m Manner) Notes(s eye.State) (notes []string, err error) {
	if m.Colour != Shared {
		apart, err := m.fringeArcmin(s)
		if err != nil {
			return nil, err
		}
		if apart < leastFringe {
			notes = append(notes, "neither lens nor pupil parts the colours")
		} else {
			notes = append(notes, fmt.Sprintf("displaced lens and pupil part red (%d nm) and blue (%d nm) by %.1f minutes of arc", fringeRedNM, fringeBlueNM, apart))
		}
	}
	if (m.Ring || m.Needles || m.TintFrom > 0) && !s.Colours.Natural {
		notes = append(notes, "no natural lens: no layer and no tint")
	}
	if (m.Ring || m.Needles) && s.Colours.Natural {
		notes = append(notes, m.layerNote(s))
	}
	if m.TintFrom > 0 && s.Colours.Natural {
		note, err := m.tintNote(s)
		if err != nil {
			return nil, err
		}
		notes = append(notes, note)
	}
	return append(notes, m.Nerve.notes(s)...), nil
}

// The lines between which a fringe is told, nm: those of Rynders et al. 1995.
const fringeRedNM, fringeBlueNM = 605, 497

// leastFringe is told as none, minutes of arc.
const leastFringe = 0.05

// fringeArcmin is how far red and blue are seen apart.
func (m Manner) fringeArcmin(s eye.State) (float64, error) {
	red, err := m.place(s, fringeRedNM)
	if err != nil {
		return 0, err
	}
	blue, err := m.place(s, fringeBlueNM)
	return 60 * math.Hypot(float64(red.X-blue.X), float64(red.Y-blue.Y)), err
}

func (m Manner) layerNote(s eye.State) string {
	var on []string
	if m.Ring {
		on = append(on, fmt.Sprintf("layer: ring of a natural lens, %.1f %% of a lamp's light", 100*light.LensRingShare(s.PupilMM)))
	}
	if m.Needles {
		on = append(on, "layer: needles of a natural lens")
	}
	return strings.Join(on, "; ")
}

func (m Manner) tintNote(s eye.State) (string, error) {
	f, err := m.tint(s)
	if err != nil {
		return "", err
	}
	if f == noTint {
		return "no tint: the lens is no older than the one it is held against", nil
	}
	return fmt.Sprintf("the lens of %g years passes %.0f %% of red, %.0f %% of green and %.0f %% of blue of what one of %g years passes", s.AgeYears, 100*f[0], 100*f[1], 100*f[2], m.TintFrom), nil
}

var noTint = [3]float64{1, 1, 1}

// tint is what the lens leaves of each primary.
func (m Manner) tint(s eye.State) ([3]float64, error) {
	if m.TintFrom == 0 || !s.Colours.Natural || s.AgeYears <= m.TintFrom {
		return noTint, nil
	}
	return light.LensTint(s.AgeYears, m.TintFrom)
}

// needles are worked out at the first lamp that shows them, for all pupils.
var needles = sync.OnceValue(func() *light.Needles { return light.NewNeedles(1, NeedleSeed) })

// layersOn draws the layers round the lamps of a retinal image.
func (m Manner) layersOn(img *light.Image, lamps []light.Lamp, s eye.State, keep float64) {
	if !s.Colours.Natural {
		return
	}
	if m.Ring {
		light.AddLensRing(img, lamps, keep, light.LensRingShare(s.PupilMM))
	}
	if m.Needles {
		needles().InPupil(s.PupilMM).Add(img, lamps, s.Glare)
	}
}

// core is the share of a lamp's light that the ring leaves.
func (m Manner) core(s eye.State) float64 {
	if !m.Ring || !s.Colours.Natural {
		return 1
	}
	return 1 - light.LensRingShare(s.PupilMM)
}

// shade takes from a retinal image and its adaptation what pinhole and lens take.
func shade(img *light.Image, adapt []float32, share float64, tint [3]float64) {
	if share != 1 || tint != noTint {
		img.Tint([3]float64{share * tint[0], share * tint[1], share * tint[2]})
	}
	all := share * (light.WeightR*tint[0] + light.WeightG*tint[1] + light.WeightB*tint[2])
	for i := range adapt {
		adapt[i] *= float32(all)
	}
}

// place is where a wavelength is seen because of displaced lens and pupil.
func (m Manner) place(s eye.State, nm unit.NM) (unit.SightPoint, error) {
	at := m.pupilPlace(s, float64(nm))
	if s.Colours.Lens == nil {
		return at, nil
	}
	more, err := s.Colours.Lens(nm)
	return unit.SightPoint{X: at.X + more.X, Y: at.Y + more.Y}, err
}
