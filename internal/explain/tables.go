package explain

import (
	"fmt"
	"slices"
	"strings"

	"simview/internal/cause"
)

func (s *Story) roomTable(p *printer) {
	p.heading("TO TRY IN THE ROOM, in a fixed order that says nothing about which is better", "expected")
	head := "logMAR  log CS"
	if s.Lights[0].Scene+s.Lights[1].Scene != "" {
		head += "  scene lost"
	}
	p.line("  %-36s %-32s %-32s", "", "bright: "+head, "dim: "+head)
	p.line("  %-36s %-32s %-32s", "as it is", s.triple(0, s.Lights[0].Now), s.triple(1, s.Lights[1].Now))
	for _, t := range s.Trials {
		if t.NotHere != "" {
			p.wrapped(fmt.Sprintf("  %-36s ", t.Label), "not for this eye: "+reason(t.NotHere))
			continue
		}
		p.line("  %-36s %-32s %-32s", t.Label, s.triple(0, t.Leaves[0].Numbers), s.triple(1, t.Leaves[1].Numbers))
	}
}

// triple are the numbers of a state, under the head of the table.
func (s *Story) triple(light int, n Numbers) string {
	text := fmt.Sprintf("%*s%5.2f  %6.2f", light, "", tidy(n.LogMAR, 2), n.LogCS)
	text = strings.Repeat(" ", len("bright: ")-2*light) + strings.TrimSpace(text)
	if s.Lights[light].Scene == "" {
		return text
	}
	return text + fmt.Sprintf("  %6.0f %%", n.LostPercent)
}

func (s *Story) whatIfTable(p *printer) {
	p.heading("WHAT IF: a spread of outcomes, some of them worse", "expected logMAR, bright pupil")
	p.line("  %-36s %-34s %-28s %s", "", "middle (one in ten better / worse)", "now, same kind of glasses", "worse than now")
	var said []string
	for _, t := range s.WhatIfs {
		if t.NotHere != "" {
			p.wrapped(fmt.Sprintf("  %-36s ", t.Label), "not for this eye: "+reason(t.NotHere))
			continue
		}
		l := t.Leaves[0]
		spread := fmt.Sprintf("%.2f (%.2f / %.2f)", tidy(l.Numbers.LogMAR, 2), tidy(l.Better.LogMAR, 2), tidy(l.Worse.LogMAR, 2))
		p.line("  %-36s %-34s %-28.2f %.0f of %d draws", t.Label, spread, tidy(*t.Now, 2), *t.Worse*float64(t.Draws), t.Draws)
		if text := publishedWords(t); text != "" && !slices.Contains(said, text) {
			said = append(said, text)
		}
	}
	for _, text := range said {
		p.wrapped("  published, ", text+".")
	}
}

// reason is why a trial is not for an eye, without its name and the hint, which
// belong to a command line.
func reason(text string) string {
	text, _, _ = strings.Cut(text, "; hint:")
	if _, after, ok := strings.Cut(text, ": "); ok {
		return after
	}
	return text
}

// publishedWords are what is known of a what-if in people, under the name of what
// is done, whatever the glasses.
func publishedWords(t TrialRow) string {
	if t.SawLess == "" {
		return ""
	}
	name, _, _ := strings.Cut(t.Label, ",")
	return strings.ToLower(name[:1]) + name[1:] + ": " + t.SawLess
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
	p.heading("WHICH QUICK TEST WOULD TELL THEM APART: what the model expects to be seen, no advice", "lines of letters")
	p.line("  If one of them alone, as strong as measured, were the whole trouble:")
	var none []string
	for _, test := range quick {
		var tells []string
		seen := map[cause.ID]float64{}
		for _, a := range s.Apart {
			if a.Test == test && a.Enough {
				tells = append(tells, fmt.Sprintf("%s from %s (%.1f times the noise)", a.A, a.B, a.Ratio))
				seen[a.A], seen[a.B] = a.A1, a.B1
			}
		}
		if len(tells) > 0 {
			p.wrapped(fmt.Sprintf("  %-21s ", testWords[test]), expected(seen)+". It tells "+strings.Join(tells, ", ")+".")
		}
	}
	for _, a := range s.Apart {
		if !a.Enough {
			none = append(none, fmt.Sprintf("%s or %s", a.A, a.B))
		}
	}
	if len(none) > 0 {
		p.wrapped("  by letters, none of these tests: ", strings.Join(none, "; ")+".")
	}
	p.wrapped("  ", s.Covering)
}

// expected lists what a test would show with each cause alone.
func expected(seen map[cause.ID]float64) string {
	var words []string
	for _, id := range cause.Order {
		if d, ok := seen[id]; ok {
			words = append(words, fmt.Sprintf("%s %s", id, gained(d)))
		}
	}
	return strings.Join(words, ", ")
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
		p.wrapped("  ", "--long: trials to make in the room, what-ifs, which quick test would tell the causes apart, dim pupil, pairs, every source. --json: everything.")
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
