package main

import (
	"github.com/spf13/cobra"

	"simview/internal/compare"
)

// maxGazes is the most fixations of one run: two rows of panels.
const maxGazes = 8

// gazes checks the fixations.
func (l *looking) gazes(s *compare.Settings) error {
	n := len(l.gaze) / 2
	ok := len(l.gaze) == 2*n && n > 0
	for _, a := range l.gaze {
		ok = ok && within(a, -maxGaze, maxGaze)
	}
	switch {
	case !ok:
		return usagef("--gaze-deg: must be two angles from -60 to 60, as in --gaze-deg 4,-5 (got %v)", l.gaze)
	case n > maxGazes:
		return usagef("--gaze-deg: at most %d fixations may be named (got %d)", maxGazes, n)
	}
	s.GazeXDeg, s.GazeYDeg = l.gaze[0], l.gaze[1]
	for k := 1; k < n; k++ {
		s.MoreGazesDeg = append(s.MoreGazesDeg, [2]float64{l.gaze[2*k], l.gaze[2*k+1]})
	}
	return nil
}

// oneGaze refuses several fixations where a command takes one.
func oneGaze(s compare.Settings, command string) error {
	if len(s.MoreGazesDeg) > 0 {
		return usagef("--gaze-deg: %s takes one fixation (got %d)", command, 1+len(s.MoreGazesDeg))
	}
	return nil
}

// likely holds the flags that choose one of the equally likely fields.
type likely struct {
	draw int
	seed uint64
}

func (k *likely) flags(c *cobra.Command) {
	f := c.Flags()
	f.IntVar(&k.draw, "field-draw", 0, "draw every view with the equally likely field of that `number`, 1 to 1000, instead of the most likely one (0); simview field shows several side by side")
	f.Uint64Var(&k.seed, "field-seed", 1, "`seed` of the equally likely fields")
}

const maxDraw = 1000

func (k *likely) settings(c *cobra.Command, s *compare.Settings) error {
	switch {
	case !within(float64(k.draw), 0, maxDraw):
		return usagef("--field-draw: must be 1 to %d, or 0 for the field as measured (got %d)", maxDraw, k.draw)
	case k.draw == 0 && c.Flags().Changed("field-seed"):
		return usagef("--field-seed: no equally likely field is asked for; hint: --field-draw names its number")
	}
	if k.draw > 0 {
		s.FieldDraw, s.FieldSeed = k.draw, k.seed
	}
	return nil
}
