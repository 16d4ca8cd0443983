package render

import (
	"fmt"

	"simview/internal/csf"
	"simview/internal/eye"
	"simview/internal/fieldmask"
)

// Nerve is how what the nerve passes on is drawn; the zero value is the usual way.
type Nerve struct {
	Model           csf.Model // nil: [csf.WatsonAhumada]
	NormalPeriphery bool      // take away, too, what a healthy eye does not resolve away from fixation
	Appearance      fieldmask.Appearance
	Outline         bool // layer: a line round the affected region
}

// options are those of the field stage for a view.
func (v View) options() fieldmask.Options {
	n := v.Manner.Nerve
	return fieldmask.Options{Gaze: v.Gaze, Model: n.Model, NormalPeriphery: n.NormalPeriphery, Appearance: n.Appearance}
}

// loss is the field loss of a view; nil where the nerve takes nothing away.
func (v View) loss() fieldmask.Loss {
	loss := v.Eye.Loss()
	if loss == nil && v.Manner.Nerve.NormalPeriphery {
		return fieldmask.NoLoss
	}
	return loss
}

// Words says for a sheet how field loss is drawn, and on what evidence.
func (n Nerve) Words() string {
	m := n.Model
	if m == nil {
		m = csf.Models()[0]
	}
	words := "Field loss is drawn as " + n.Appearance.String() + ": " + n.Appearance.Evidence() + ". Contrast that is just seen: " + m.Name() + "."
	if n.NormalPeriphery {
		words += " What a healthy eye does not resolve away from fixation is taken away too, in every view."
	}
	if n.Outline {
		words += fmt.Sprintf(" A line marks where %d dB or more are lost, hatched where the loss may be deeper than could be measured; its owner sees no such line.", outlineDB)
	}
	return words
}

// notes are what a panel says of a state; the usual way stays unsaid.
func (n Nerve) notes(s eye.State) (notes []string) {
	if n.NormalPeriphery {
		notes = append(notes, "normal periphery: only what a healthy eye resolves away from fixation is drawn")
	}
	if s.Loss() == nil {
		return notes
	}
	if n.Appearance != fieldmask.Faded {
		notes = append(notes, "field loss drawn as "+n.Appearance.String())
	}
	if n.Outline {
		notes = append(notes, "layer: outline of the affected region")
	}
	return notes
}
