package compare

import (
	"fmt"
	"slices"
	"strings"

	"simview/internal/casefile"
	"simview/internal/cause"
	"simview/internal/fieldmask"
	"simview/internal/render"
)

// Notice is what every output carries.
var Notice = []string{
	"Illustrations for discussion, computed from measurements and from typical and assumed values; not a diagnosis. They do not rank treatments and say nothing about fitness to drive. Licensed clinicians and local rules decide.",
	"Needs care the same day: sudden loss of sight, flashes, a curtain or shadow, eye pain, new double vision. Do not wait for a picture to explain these.",
	"One point-spread function stands for the whole scene; field loss is drawn for one place of fixation, and its owner sees no border round it. Not choosing a field-loss picture does not speak against field loss.",
}

// Urgent is what must be read before any picture: the signs that need care the
// same day, where a loss is drawn dark, which may remind someone of one; else "".
func Urgent(o Options) string {
	if o.Manner.Nerve.Appearance != fieldmask.Dark {
		return ""
	}
	return Notice[1]
}

func heading(o Options) string {
	return fmt.Sprintf("What each cause alone would make the %s eye see", o.Eye)
}

func subtitle(c *casefile.Case) string {
	s := c.Title
	if c.Invented {
		s += " (invented person)"
	}
	if c.Words != "" {
		s += ". Complaint: \"" + strings.TrimSpace(c.Words) + "\""
	}
	return s
}

// foot is what stands below the pictures.
func foot(shots []Shot, o Options) []string {
	f := []string{assumed(shots), o.Manner.Words()}
	if o.Manner.Nerve.NormalPeriphery || slices.ContainsFunc(shots, func(s Shot) bool { return s.Set[cause.Field] > 0 }) {
		f = append(f, o.Manner.Nerve.Words())
	}
	if on := RestsOn(shots); len(on) > 0 {
		f = append(f, "Trials rest on this. "+strings.Join(on, ". ")+".")
	}
	return append(f, Notice...)
}

// assumed joins what was assumed for the eyes of a sheet, each once.
func assumed(shots []Shot) string { return "Assumed: " + strings.Join(Assumed(shots), "; ") + "." }

// Assumed lists what was assumed or taken as typical, each once.
func Assumed(shots []Shot) []string {
	var all []string
	for _, s := range shots {
		for _, n := range s.on.Notes {
			text := fmt.Sprintf("%s eye: %s", s.Side, n)
			if !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	return all
}

func checks(c *casefile.Case) []render.Check {
	k := c.Checks
	var row []render.Check
	for _, e := range []struct {
		name  string
		check casefile.Check
	}{
		{"pinhole", k.Pinhole},
		{"other eye covered", k.OtherEyeCovered},
		{"pupil reaction", k.PupilReaction},
		{"macula seen", k.MaculaSeen},
		{"capsule seen", k.CapsuleSeen},
		{"age of the field", k.FieldAge},
	} {
		row = append(row, render.Check{Name: e.name, Done: e.check.Done(), Note: e.check.Words})
	}
	return row
}
