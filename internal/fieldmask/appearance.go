package fieldmask

import (
	"fmt"
	"strings"
)

// Appearance is a way to draw what a damaged place shows. What people with
// glaucoma say they see differs; each way carries what is known of it.
type Appearance int

// The ways. All but Faded, Blurred and Unaltered are painted: they show what
// people say, and follow from no model.
const (
	Faded     Appearance = iota // detail too faint for the damaged place is gone; the default
	Blurred                     // detail is gone by its fineness, whatever its contrast
	Missing                     // things are absent; the light around is carried on
	Unaltered                   // nothing seems amiss
	Dark                        // dark patches
	Veil                        // a grey veil, for teaching only
)

// Appearances lists the ways, the default first.
func Appearances() []Appearance { return []Appearance{Faded, Blurred, Missing, Unaltered, Dark, Veil} }

// ways is what is said of each: key, label, evidence.
var ways = [...][3]string{
	Faded: {
		"faded", "faded detail",
		"worked out from the measured loss and thresholds of contrast; no study offered this very picture; \"needing more light\" and \"blurry\" were the commonest words of 99 people (Hu2014)",
	},
	Blurred: {
		"blurred", "blurred patches",
		"27 of 50 people chose blurred parts among six pictures (Crabb2013); of 88 eyes, 21 were described as blurry or grey and 19 as that and missing (Fujitani2017)",
	},
	Missing: {
		"missing", "missing, the surround carried on",
		"8 of 50 people chose missing parts among six pictures (Crabb2013); of 88 eyes, 27 were described as missing or white and 19 as that and blurry (Fujitani2017)",
	},
	Unaltered: {
		"unaltered", "unaltered: the loss is not noticed",
		"13 of 50 people chose the unaltered one of six pictures (Crabb2013); in 17 of 88 eyes the loss was not noticed (Fujitani2017)",
	},
	Dark: {
		"dark", "dark patches",
		"rare: none of 50 people chose a picture with black parts (Crabb2013), 4 of 88 eyes were described so, the most damaged (Fujitani2017); a new dark patch or curtain is another matter and urgent",
	},
	Veil: {
		"veil", "grey veil, for teaching only",
		"no study supports it: it marks the place of the loss and not what is seen there",
	},
}

// Key returns the short name by which the way is chosen.
func (a Appearance) Key() string { return ways[a][0] }

// String returns the label that a panel carries.
func (a Appearance) String() string { return ways[a][1] }

// Evidence returns what is known of how many people see it so, in a sentence
// with its sources.
func (a Appearance) Evidence() string { return ways[a][2] }

// ParseAppearance returns the way with the key; an unknown key is an error that
// names the known ones.
func ParseAppearance(key string) (Appearance, error) {
	var known []string
	for _, a := range Appearances() {
		if a.Key() == key {
			return a, nil
		}
		known = append(known, a.Key())
	}
	return 0, fmt.Errorf("appearance: must be one of %s (got %q)", strings.Join(known, ", "), key)
}
