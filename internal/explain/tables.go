package explain

import (
	"fmt"
	"strings"
)

func (s *Story) roomTable(p *printer) {
	p.heading("TO TRY IN THE ROOM, in a fixed order that says nothing about which is better", "expected logMAR, log contrast sensitivity")
	p.line("  %-36s %-18s %-18s", "", "bright pupil", "dim pupil")
	p.line("  %-36s %-18s %-18s", "as it is", pair(s.Lights[0].Now), pair(s.Lights[1].Now))
	for _, t := range s.Trials {
		if t.NotHere != "" {
			p.line("  %-36s not for this eye: %s", t.Label, t.NotHere)
			continue
		}
		p.line("  %-36s %-18s %-18s", t.Label, pair(t.Leaves[0].Numbers), pair(t.Leaves[1].Numbers))
	}
}

func pair(n Numbers) string { return fmt.Sprintf("%5.2f   %4.2f", tidy(n.LogMAR, 2), n.LogCS) }

func (s *Story) whatIfTable(p *printer) {
	p.heading("WHAT IF, a spread of outcomes, some of them worse; bright pupil", "expected logMAR")
	p.line("  %-36s %-32s %-6s %s", "", "middle, one in ten better / worse", "now", "worse than now")
	said := map[string]bool{}
	for _, t := range s.WhatIfs {
		if t.NotHere != "" {
			p.line("  %-36s not for this eye: %s", t.Label, t.NotHere)
			continue
		}
		l := t.Leaves[0]
		p.line("  %-36s %5.2f, %.2f / %-17.2f %5.2f  %.0f of %d draws", t.Label, l.Numbers.LogMAR, tidy(l.Better.LogMAR, 2), tidy(l.Worse.LogMAR, 2), *t.Now, *t.Worse*float64(t.Draws), t.Draws)
		if t.SawLess != "" && !said[t.SawLess] {
			said[t.SawLess] = true
			p.line("  %-36s published: %s", "", t.SawLess)
		}
	}
}

// testWords names a quick test.
var testWords = map[string]string{
	"pinhole": "a pinhole", "spectacles": "the best spectacles", "rigid-lens": "a rigid contact lens",
	"more-light": "four times the light", dimLight: "dim light",
}

func (s *Story) apartRows(p *printer) {
	if len(s.Apart) == 0 {
		return
	}
	p.heading("WHICH QUICK TEST WOULD TELL THEM APART, if one alone were the whole trouble: what the model expects to be seen", "lines of letters")
	var none []string
	for _, a := range s.Apart {
		pair := fmt.Sprintf("%s or %s", a.A, a.B)
		if !a.Enough {
			none = append(none, pair)
			continue
		}
		p.line("  %-20s %-22s if %s %s, if %s %s (%.1f times the noise)", pair, testWords[a.Test], a.A, gained(a.A1), a.B, gained(a.B1), a.Ratio)
	}
	if len(none) > 0 {
		p.wrapped("  by letters alone no test in the room: ", strings.Join(none, "; "))
	}
	p.wrapped("  ", s.Covering)
}

// gained says a change of acuity in lines of 0.1 logMAR.
func gained(d float64) string {
	lines := tidy(d*10, 1)
	switch {
	case lines == 0:
		return "no change"
	case lines > 0:
		return fmt.Sprintf("%.1f better", lines)
	}
	return fmt.Sprintf("%.1f worse", -lines)
}

func (s *Story) fitRows(p *printer) {
	if len(s.Fits) == 0 {
		return
	}
	p.heading("DO MEASURED AND EXPECTED FIT TOGETHER", "")
	for _, f := range s.Fits {
		mark := "  "
		if !f.Agrees {
			mark = "  ! "
		}
		p.wrapped(mark, f.Words+".")
	}
}

func (s *Story) sureRows(p *printer) {
	p.heading("HOW SURE", "")
	l := s.Lights[0]
	say := func(what string, e Estimate) {
		if e.Matters != "" {
			p.line("  %s hangs most on: %s (%.0f %% of what noise leaves open)", what, e.Matters, 100*e.MattersShare)
		}
	}
	say("what it reads", l.Sure[Letters])
	if s.Unexplained.Known {
		say("what is not explained", s.Unexplained.Gap)
	}
	for _, c := range l.Causes {
		if p.whole {
			say("the share of "+string(c.ID), c.Share[Letters])
		}
	}
	settled := "their ends stood still"
	if !s.Settled {
		settled = "their ends did not stand still"
	}
	p.wrapped("  ", fmt.Sprintf("Values: whole simulation (%s). Intervals: %d draws (seed %d; %s) of each measurement within its noise and what is usual, through the visual Strehl ratio, which for this eye lies within %.2f logMAR of the simulation by day and %.2f by night. Model error: assumed.", s.Model, s.Draws, s.Seed, settled, s.Lights[0].SurrogateRMS[Letters], s.Lights[1].SurrogateRMS[Letters]))
}

func (s *Story) sources(p *printer) {
	if !p.whole {
		p.wrapped("  ", "--long: dim pupil, pairs, every source. --json: everything.")
		return
	}
	p.heading("WHERE IT COMES FROM", "")
	for _, c := range s.Lights[0].Causes {
		p.wrapped("  ", fmt.Sprintf("%s: %s (%s).", c.Label, c.Amount, c.From))
	}
	for _, i := range s.Inputs {
		usual := ""
		if i.Usual != "" {
			usual = "; usual: " + i.Usual
		}
		p.wrapped("  ", fmt.Sprintf("%s %.3g %s, noise %.2g (%s)%s.", i.Name, i.Value, i.Unit, i.SD, i.SDSource, usual))
	}
	said := map[string]bool{}
	for _, rows := range [][]TrialRow{s.Trials, s.WhatIfs} {
		for _, t := range rows {
			if t.RestsOn != "" && !said[t.RestsOn] {
				said[t.RestsOn] = true
				p.wrapped("  ", t.Label+" rests on: "+t.RestsOn+".")
			}
		}
	}
	for _, a := range s.Assumed {
		p.wrapped("  ", a+".")
	}
}
