package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// eyeFlag registers --eye; more are words that it takes beside right and left.
func eyeFlag(c *cobra.Command, eye *string, more ...string) {
	c.Flags().StringVar(eye, "eye", "", eyeHelp)
	complete(c, "eye", fixedWords(append([]string{"right", "left"}, more...)...))
}

// farMetres is a distance that counts as far.
const farMetres = 100

func distanceFlag(c *cobra.Command, metres *float64) {
	c.Flags().Float64Var(metres, "distance-m", farMetres, "viewing distance in `metres`, 0.1 and up; from 100 on it is far")
}

// farEnough checks a viewing distance.
func farEnough(metres float64) error {
	if metres >= minMetres {
		return nil
	}
	return usagef("--distance-m: must be 0.1 or more (got %g)", metres)
}

func lcaFlag(c *cobra.Command, lca *string) {
	c.Flags().StringVar(lca, "lca", lcaNames[0], "`formula` of the focus by wavelength: thibos or atchison-smith")
	complete(c, "lca", fixedWords(lcaNames...))
}

func knownLCA(lca string) error {
	if slices.Contains(lcaNames, lca) {
		return nil
	}
	return usagef("--lca: must be thibos or atchison-smith (got %q)", lca)
}

func knownTone(tone string) error {
	if slices.Contains(tones, tone) {
		return nil
	}
	return usagef("--tone: must be linear, photographic, visibility or by-scene (got %q)", tone)
}

// pupilFits checks a pupil, if one was given.
func pupilFits(given bool, mm float64) error {
	if !given || within(mm, 1, 9) {
		return nil
	}
	return usagef("--pupil-mm: must be 1 to 9 (got %g)", mm)
}

// endsIn checks the ending of an output.
func endsIn(out string, endings ...string) error {
	if slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(out, e) }) {
		return nil
	}
	return usagef("-o: must name a %s file (got %q)", strings.Join(endings, " or "), out)
}
